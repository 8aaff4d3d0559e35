"""Cable resistance against wire tables."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.cable import area_resistance, awg_resistance, loop_resistance

REFERENCE = Path(__file__).parents[1] / "reference"
METRES_PER_1000_FT = 304.8


def test_that_gauges_match_the_wire_table():
    table = np.genfromtxt(REFERENCE / "awg.csv", delimiter=",", names=True)
    ohm_per_m = awg_resistance(table["awg"])
    assert 1000 * ohm_per_m == pytest.approx(table["ohm_per_km_20c"], rel=6e-4)
    assert METRES_PER_1000_FT * ohm_per_m == pytest.approx(table["ohm_per_1000ft_20c"], rel=6e-4)
    assert area_resistance(table["area_mm2"]) == pytest.approx(ohm_per_m, rel=1e-3)


@pytest.mark.parametrize(
    ("gauge", "ohm_per_1000_ft"),
    # A printed wire table (12 to 24); the thick ones from memory of the handbook table for 20 degrees.
    [
        (12, 1.588),
        (14, 2.525),
        (16, 4.016),
        (18, 6.385),
        (20, 10.15),
        (22, 16.14),
        (24, 25.67),
        (10, 0.9989),
        (0, 0.09827),
        (-1, 0.07793),
        (-2, 0.06180),
        (-3, 0.04901),
        (36, 414.8),
        (40, 1049.0),
    ],
)
def test_that_gauges_match_printed_tables(gauge, ohm_per_1000_ft):
    assert METRES_PER_1000_FT * awg_resistance(gauge) == pytest.approx(ohm_per_1000_ft, rel=1e-3)


def test_that_the_diameters_that_define_the_gauge_come_out():
    # ASTM B258 defines 0000 as 0.4600 inch and 36 as 0.0050 inch.
    for gauge, inch in [(-3, 0.46), (36, 0.005)]:
        area_mm2 = np.pi / 4 * (25.4 * inch) ** 2
        assert awg_resistance(gauge) == pytest.approx(area_resistance(area_mm2), rel=1e-9)


def test_that_a_square_millimetre_has_the_resistance_of_standard_copper():
    # IEC 60028: 0.017241 ohm mm2/m at 20 degrees; x 1.1572 at 60 (1 + 0.00393 x 40, by hand).
    assert area_resistance(1.0) == pytest.approx(0.017241, rel=1e-9)
    assert area_resistance(1.0, 60.0) == pytest.approx(0.017241 * 1.1572, rel=1e-9)
    assert awg_resistance(14, 60.0) == pytest.approx(1.1572 * awg_resistance(14), rel=1e-9)


@given(st.floats(-3.0, 50.0))
def test_that_three_gauges_up_about_double_and_six_about_quadruple(gauge):
    # 92^(6/39) = 2.0050 by hand: the rule that every electrician knows is out by a quarter per cent.
    assert awg_resistance(gauge + 3) / awg_resistance(gauge) == pytest.approx(2.0050, rel=1e-4)
    assert awg_resistance(gauge + 6) / awg_resistance(gauge) == pytest.approx(4.0201, rel=1e-4)


def test_that_a_loop_is_there_and_back():
    # By hand: 2 x 4 m of gauge 12, 5.211 mohm/m: 41.69 mohm.
    assert loop_resistance(awg_resistance(12), 4.0) == pytest.approx(0.04169, abs=1e-5)
    assert loop_resistance(0.01, 0.0) == 0.0


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: awg_resistance(250), "gauge must be -3 to 56, got 250"),
        (lambda: awg_resistance(-4), "gauge must be -3 to 56, got -4"),
        (lambda: awg_resistance(np.nan), "gauge must be -3 to 56, got nan"),
        (lambda: awg_resistance(14, -273.0), "temperature_c must be -100 to 200, got -273"),
        (lambda: area_resistance(0.0), "area_mm2 must be above 0, got 0"),
        (lambda: area_resistance([1.0, -2.5]), "area_mm2 must be above 0, got -2.5"),
        (lambda: area_resistance(1.0, 500.0), "temperature_c must be -100 to 200, got 500"),
        (lambda: loop_resistance(-0.01, 1.0), "ohm_per_m must be at least 0, got -0.01"),
        (lambda: loop_resistance(0.01, -1.0), "length_m must be at least 0, got -1"),
    ],
)
def test_that_senseless_cables_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_scalars_give_floats_and_arrays_give_arrays():
    column, row = np.full((3, 1), 14), np.full(4, 20)
    for formula in (awg_resistance, area_resistance, loop_resistance):
        assert isinstance(formula(14, 20), float)
        assert formula(column, row).shape == (3, 4)
