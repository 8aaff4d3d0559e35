"""Ratings of a whole triode amplifier against its stage and transformer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.single_ended import sine_power
from planner.electrics.transformer import winding_resistances
from planner.electrics.triode import operating_law
from planner.electrics.triode_ratings import triode_ratings

LAW = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
STAGE = (LAW, 250.0, -45.0, 2500.0)
# The stage itself, in steps four times finer than a rating is sought in.
FINE_W, FINE_PCT = sine_power(LAW, 250.0, -45.0, 2500.0, 45.0 * np.linspace(0.005, 4.0, 800))


def test_that_each_rating_has_its_load_distortion_and_output_impedance():
    ohm, watts, distortion, output = triode_ratings(*STAGE, 8.0)
    assert ohm == pytest.approx([8.0] * 4)
    assert distortion == pytest.approx([1.0, 3.0, 5.0, 10.0])
    # By hand: 800 ohm / 312.5.
    assert output == pytest.approx([2.56] * 4)
    assert np.all(np.diff(watts) > 0)


@given(st.floats(0.05, 30.0))
def test_that_some_drive_makes_the_watts_of_a_rating_at_its_distortion(asked):
    _, (watts,), (stated,), _ = triode_ratings(*STAGE, 8.0, distortion_pct=[asked])
    assert stated == asked
    # Second harmonic grows as the root of the watts.
    assert np.interp(np.sqrt(watts), np.sqrt(FINE_W), FINE_PCT) == pytest.approx(asked, rel=0.005)
    assert np.all(FINE_PCT[0.99 * watts > FINE_W] <= 1.005 * asked)


def test_that_published_watts_lie_between_the_ratings_at_3_and_10_per_cent():
    # Data page: 3.5 W; 5 % from memory of valve manuals.
    _, watts, _, _ = triode_ratings(*STAGE, 8.0)
    assert watts[1] < 3.5 < watts[3]
    assert watts[2] == pytest.approx(3.5, rel=0.15)


def test_that_windings_take_their_share_of_watts_and_damping():
    # By hand for 0.5 dB: r1 152.523 and r2 0.488 ohm, so the plate works into 312.5 x 8.488 = 2652.5 ohm
    # beyond r1, of whose watts 8 / 8.488 reach the tap; (800 + 152.523) / 312.5 + 0.488 = 3.536 ohm out.
    _, watts, _, output = triode_ratings(*STAGE, 8.0, *winding_resistances(0.5, 2500.0, 8.0))
    drive = 45.0 * np.linspace(0.005, 2.0, 400)
    power, distortion = sine_power(LAW, 250.0, -45.0, 2652.5, drive, 152.523)
    for tap_watts, asked in zip(watts, (1.0, 3.0, 5.0, 10.0), strict=True):
        at_plate = np.interp(asked, distortion, power)
        assert tap_watts == pytest.approx(at_plate * 8.0 / 8.488, rel=2e-3)
    assert output == pytest.approx([3.536] * 4, abs=1e-3)


def test_that_taps_of_one_transformer_share_the_watts_and_scale_the_impedance():
    four, sixteen = (triode_ratings(*STAGE, tap) for tap in (4.0, 16.0))
    assert four[1] == pytest.approx(sixteen[1])
    assert sixteen[3] == pytest.approx(4 * four[3])


def test_that_where_the_distortion_dips_the_first_crossing_counts():
    # Flattening the top undoes some second harmonic: near cut-off, into half its plate resistance, the
    # distortion of the stage rises to a top at 1.02 times the bias, falls, and passes that height again.
    drive = 62.0 * np.array([1.0, 1.02, 1.12, 1.4])
    power, distortion = sine_power(LAW, 300.0, -62.0, 400.0, drive)
    asked = 0.5 * (distortion[0] + distortion[1])
    assert distortion[0] < asked < distortion[1]
    assert distortion[2] < asked < distortion[3]
    _, (watts,), _, _ = triode_ratings(LAW, 300.0, -62.0, 400.0, 8.0, distortion_pct=[asked])
    assert power[0] < watts < power[1]


def test_that_a_distortion_out_of_reach_is_not_claimed():
    _, watts, distortion, _ = triode_ratings(*STAGE, 8.0, distortion_pct=[10.0, 90.0])
    assert distortion[0] == 10.0
    assert 10.0 < distortion[1] < 90.0
    assert watts[1] > watts[0]


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: triode_ratings(*STAGE, 0.0), "tap_ohm must be above 0, got 0"),
        (lambda: triode_ratings(*STAGE, 8.0, -1.0), "primary_winding_ohm must be at least 0, got -1"),
        (lambda: triode_ratings(*STAGE, 8.0, 0.0, -1.0), "secondary_winding_ohm must be at least 0, got -1"),
        (
            lambda: triode_ratings(*STAGE, 8.0, distortion_pct=[3.0, 0.0]),
            "distortion_pct must be above 0, got 0",
        ),
        (lambda: triode_ratings(LAW, 250.0, 45.0, 2500.0, 8.0), "grid_v must be at most 0, got 45"),
    ],
)
def test_that_senseless_amplifiers_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()
