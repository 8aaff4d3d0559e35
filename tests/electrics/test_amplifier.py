"""Clip limits against Ohm's law."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.amplifier import clip_amps, clip_volts

watts = st.floats(0.001, 100000.0)
ohms = st.floats(0.5, 1000.0)


@pytest.mark.parametrize(
    ("power", "load", "volts", "amps"),
    # By hand: V = sqrt(2PR), I = sqrt(2P/R).
    [
        pytest.param(3.5, 8.0, 7.4833, 0.93541, id="3.5 W into 8 ohm, 5.2915 V and 0.6614 A RMS"),
        pytest.param(1.0, 8.0, 4.0, 0.5, id="1 W into 8 ohm, 2.828 V RMS"),
        pytest.param(2.5, 4.0, 4.47214, 1.11803, id="2.5 W into 4 ohm, sqrt(20) and sqrt(1.25)"),
        pytest.param(100.0, 2.0, 20.0, 10.0, id="100 W into 2 ohm, 14.14 V RMS"),
        pytest.param(0.0, 8.0, 0.0, 0.0, id="no watts"),
    ],
)
def test_that_a_rating_swings_what_ohms_law_says(power, load, volts, amps):
    assert clip_volts(power, load) == pytest.approx(volts, rel=1e-5)
    assert clip_amps(power, load) == pytest.approx(amps, rel=1e-5)


@given(watts, ohms)
def test_that_peak_volts_times_peak_amps_are_twice_the_watts(power, load):
    assert clip_volts(power, load) * clip_amps(power, load) == pytest.approx(2 * power, rel=1e-9)
    assert clip_volts(power, load) / clip_amps(power, load) == pytest.approx(load, rel=1e-9)


@given(watts, ohms)
def test_that_twice_the_watts_are_three_decibels_more_volts(power, load):
    gain_db = 20 * np.log10(clip_volts(2 * power, load) / clip_volts(power, load))
    assert gain_db == pytest.approx(10 * np.log10(2), abs=1e-9)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: clip_volts(-1.0, 8.0), "watts must be at least 0, got -1"),
        (lambda: clip_volts(1.0, 0.0), "ohm must be above 0, got 0"),
        (lambda: clip_amps([1.0, np.nan], 8.0), "watts must be at least 0, got nan"),
        (lambda: clip_amps(1.0, np.inf), "ohm must be above 0, got inf"),
    ],
)
def test_that_senseless_ratings_are_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()


def test_that_scalars_give_floats_and_arrays_give_arrays():
    for formula in (clip_volts, clip_amps):
        assert isinstance(formula(2, 8), float)
        assert formula(np.ones((3, 1)), np.full(4, 8.0)).shape == (3, 4)
