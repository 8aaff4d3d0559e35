"""Octave filters against the limits of IEC 61260-1."""

import numpy as np
import pytest

from planner.acoustics.bands import OCTAVE_KEYS
from planner.measurements.octave_filter import filtered, octave_gain

# IEC 61260-1:2014 table 1, class 1: least and most attenuation in dB at G^x of the mid. From memory.
LIMITS = [
    (0.0, -0.4, 0.4),
    (0.125, -0.4, 0.5),
    (0.25, -0.4, 0.7),
    (0.375, -0.4, 1.4),
    (0.5, 1.6, 5.3),
    (1.0, 16.6, np.inf),
    (2.0, 40.5, np.inf),
    (3.0, 60.0, np.inf),
    (4.0, 70.0, np.inf),
]


@pytest.mark.parametrize(("octaves", "least_db", "most_db"), LIMITS)
@pytest.mark.parametrize("side", [-1.0, 1.0])
def test_that_the_filter_keeps_within_the_limits_of_class_1(octaves, least_db, most_db, side):
    attenuation_db = -20.0 * np.log10(octave_gain(1000.0 * 10.0 ** (0.3 * octaves * side), 1000.0))
    assert least_db <= attenuation_db <= most_db


def test_that_the_constant_part_does_not_pass():
    assert octave_gain(0.0, 125.0) < 1e-20


def test_that_a_click_stays_where_it_is_and_rings_evenly_to_both_sides():
    click = np.zeros(9601)
    click[4800] = 1.0
    passed = filtered(click, 48000.0, OCTAVE_KEYS["500"])
    assert np.argmax(np.abs(passed)) == 4800
    assert passed == pytest.approx(passed[::-1], abs=1e-12)


def test_that_nothing_comes_back_at_the_other_end():
    click = np.zeros(48000)
    click[0] = 1.0
    passed = filtered(click, 48000.0, OCTAVE_KEYS["125"])
    assert np.abs(passed[-24000:]).max() < 1e-6 * np.abs(passed).max()


def test_that_a_mid_or_frequency_without_meaning_is_refused():
    with pytest.raises(ValueError, match="centre_hz must be above 0"):
        octave_gain(100.0, 0.0)
    with pytest.raises(ValueError, match="frequency_hz must be at least 0"):
        octave_gain(-1.0, 100.0)
