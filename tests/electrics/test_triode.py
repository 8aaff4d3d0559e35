"""Plate current against published operating points and the three-halves law."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.triode import operating_law, plate_current, plate_resistance

TUBES = Path(__file__).parents[1] / "reference" / "tubes.csv"
TWO_A3 = (250.0, -45.0, 0.060, 4.2, 800.0)


def points(type_number):
    """Class A1 points of a type: plate V, grid V, A, mu, rp in ohm (the middle of a range)."""
    with TUBES.open(newline="") as lines:
        for row in csv.DictReader(lines):
            if row["type"] == type_number and row["class"] == "A1 single":
                resistance = np.mean([float(end) for end in row["rp_ohm"].split("-")])
                yield (
                    float(row["plate_v"]),
                    float(row["grid_v"]),
                    float(row["plate_ma"]) / 1000,
                    float(row["mu"]),
                    resistance,
                )


@st.composite
def operating_points(draw):
    """Data that fit together: an exponent of 1 to 2.5, and a grid well short of cut-off."""
    plate, mu = draw(st.floats(50.0, 1000.0)), draw(st.floats(2.0, 100.0))
    excess = plate * draw(st.floats(0.125, 0.9))
    current, exponent = draw(st.floats(0.0005, 0.3)), draw(st.floats(1.0, 2.5))
    return plate, (excess - plate) / mu, current, mu, excess / (exponent * current)


@given(operating_points(), st.floats(10.0, 1000.0))
def test_that_a_law_gives_back_the_data_it_was_made_from(point, knee):
    plate, grid, current, mu, resistance = point
    law = operating_law(*point, knee=knee)
    assert plate_current(law, plate, grid) == pytest.approx(current, rel=1e-9)
    assert plate_resistance(law, plate, grid) == pytest.approx(resistance, rel=1e-7)
    step = 1e-4 * abs(grid)
    difference = plate_current(law, plate, grid + step) - plate_current(law, plate, grid - step)
    assert difference / (2 * step) * resistance == pytest.approx(mu, rel=1e-4)


@given(st.floats(60.0, 600.0), st.floats(0.0, 0.9))
def test_that_a_sharp_knee_and_fitting_data_give_the_three_halves_law(plate, share):
    # Langmuir and Child: I = G (V + mu Vg)^1.5, worked out beside the program; rp = E / (1.5 I).
    law = operating_law(300.0, -60.0, 0.060, 4.0, 60.0 / (1.5 * 0.060), knee=1000.0)
    grid = -share * plate / 4.0
    by_hand = 0.060 * ((plate + 4.0 * grid) / 60.0) ** 1.5
    assert plate_current(law, plate, grid) == pytest.approx(by_hand, rel=1e-6)


def test_that_two_other_points_of_a_45_follow_from_the_first():
    # VERIFIED point at 275 V; those at 250 and 180 V are from memory of valve manuals: 34 and 31 mA.
    first, *others = points("45")
    assert len(others) == 2
    law = operating_law(*first)
    for plate, grid, current, _, resistance in others:
        assert plate_current(law, plate, grid) == pytest.approx(current, rel=0.02)
        assert plate_resistance(law, plate, grid) == pytest.approx(resistance, rel=0.1)


def test_that_the_maximum_point_of_a_300b_follows_from_its_average_one():
    # Maker's data page: 300 V, -61 V, 60 mA, mu 3.85, 700 ohm; at 450 V and -97 V it draws 80 mA.
    law = operating_law(300.0, -61.0, 0.060, 3.85, 700.0)
    assert plate_current(law, 450.0, -97.0) == pytest.approx(0.080, rel=0.03)


def test_that_the_bias_of_a_2a3_pair_follows_from_the_single_valve():
    # Valve manuals, from memory: 300 V and -62 V fixed bias, 80 mA for two.
    law = operating_law(*TWO_A3)
    assert 2 * plate_current(law, 300.0, -62.0) == pytest.approx(0.080, rel=0.1)


@pytest.mark.parametrize("type_number", ["45", "2A3"])
def test_that_transconductance_and_plate_resistance_make_mu(type_number):
    # Published gm: 2100 and 5250 umho at the VERIFIED points.
    transconductance = {"45": 2100e-6, "2A3": 5250e-6}[type_number]
    plate, grid, current, mu, resistance = next(points(type_number))
    law = operating_law(plate, grid, current, mu, resistance)
    slope = (plate_current(law, plate, grid + 0.01) - plate_current(law, plate, grid - 0.01)) / 0.02
    assert slope == pytest.approx(transconductance, rel=0.015)


@given(operating_points(), st.floats(10.0, 1000.0), st.floats(0.0, 2.0))
def test_that_current_rises_with_plate_and_grid_and_fades_without_a_step(point, volts, share):
    law = operating_law(*point)
    grid = -share * volts / point[3]
    here = plate_current(law, volts, grid)
    assert here >= 0.0
    assert plate_current(law, 1.01 * volts, grid) > here or here == 0.0
    assert plate_current(law, volts, 1.01 * grid) <= here
    assert plate_resistance(law, volts, grid) > 0.0


def test_that_a_valve_wholly_cut_off_has_an_infinite_plate_resistance():
    law = operating_law(*TWO_A3)
    assert plate_current(law, 10.0, -200.0) == 0.0
    assert plate_resistance(law, 10.0, -200.0) == np.inf


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: operating_law(0.0, *TWO_A3[1:]), "plate_v must be above 0, got 0"),
        (lambda: operating_law(250.0, 45.0, *TWO_A3[2:]), "grid_v must be below 0, got 45"),
        (lambda: operating_law(250.0, -np.inf, *TWO_A3[2:]), "grid_v must be below 0, got -inf"),
        (lambda: operating_law(250.0, -45.0, 0.0, 4.2, 800.0), "plate_a must be above 0, got 0"),
        (lambda: operating_law(250.0, -45.0, 0.06, np.nan, 800.0), "mu must be above 0, got nan"),
        (
            lambda: operating_law(250.0, -45.0, 0.06, 4.2, -1.0),
            "plate_resistance_ohm must be above 0, got -1",
        ),
        (lambda: operating_law(*TWO_A3, knee=2.9), "knee must be at least 3, got 2.9"),
        (lambda: operating_law(250.0, -53.0, *TWO_A3[2:]), r"at least 1\.2 plate_v / knee, got 27\.4"),
        (lambda: operating_law(*TWO_A3[:4], [800.0, 1100.0]), r"must be 1 to 2\.5, got 0\.924242"),
        (lambda: operating_law(*TWO_A3[:4], 400.0), r"must be 1 to 2\.5, got 2\.54167"),
        (lambda: plate_current(operating_law(*TWO_A3), 250.0, 0.1), r"grid_v must be at most 0, got 0\.1"),
        (lambda: plate_current(operating_law(*TWO_A3), 0.0, -1.0), "plate_v must be above 0, got 0"),
        (lambda: plate_resistance(operating_law(*TWO_A3), -1.0, -1.0), "plate_v must be above 0, got -1"),
    ],
)
def test_that_senseless_valves_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_laws_and_volts_broadcast_and_scalars_stay_scalars():
    many = operating_law(np.array([250.0, 260.0])[:, None], *TWO_A3[1:])
    assert plate_current(many, np.linspace(100.0, 300.0, 5), -45.0).shape == (2, 5)
    assert plate_current(many, 260.0, -45.0)[1, 0] == pytest.approx(0.060)
    one = operating_law(*TWO_A3)
    assert all(isinstance(field, float) for field in one)
    assert isinstance(plate_current(one, 250, -45), float)
    assert isinstance(plate_resistance(one, 250, -45), float)
