"""Hum and hiss by band: shares that add up, tones in their bands, figures of weighting meters."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.noise import (
    HUM_SHARES,
    hiss_shares,
    hum_frequencies,
    tones_in_bands,
    unweighted_volts,
)

THIRDS = 10.0 ** (np.arange(13, 44) / 10.0)


def test_that_hum_is_the_first_three_harmonics_of_the_mains():
    assert hum_frequencies(60.0) == pytest.approx([60.0, 120.0, 180.0])
    assert hum_frequencies(np.full((2, 4), 50.0)).shape == (2, 4, 3)


def test_that_hum_shares_are_amplitudes_squared():
    # By hand: amplitudes 1, 1 and 1/2 have powers 4, 4 and 1 of 9.
    assert np.allclose(HUM_SHARES, [4 / 9, 4 / 9, 1 / 9], rtol=1e-12)


def test_that_the_bands_hold_all_of_the_hiss():
    assert hiss_shares(THIRDS).sum() == pytest.approx(1.0, rel=1e-12)


def test_that_hiss_rises_a_decibel_a_third():
    # Definition: a third octave is 10^0.1 times as wide as the one before; the ends are cut at 20 Hz and
    # 20 kHz.
    levels = 10.0 * np.log10(hiss_shares(THIRDS))
    assert np.diff(levels)[1:-1] == pytest.approx(1.0, abs=1e-9)
    # By hand: 22.387 - 20 and 20 000 - 17 782.8 Hz of 19 980.
    assert hiss_shares(THIRDS[[0, -1]]) == pytest.approx([2.387 / 19_980, 2217.2 / 19_980], rel=1e-3)


@pytest.mark.parametrize(
    ("mains_hz", "mids"),
    # Band edges of IEC 61260-1: 44.7, 56.2, 70.8, 89.1, 112.2, 141.3, 177.8, 223.9 Hz.
    [(50.0, [50.12, 100.0, 158.5]), (60.0, [63.1, 125.9, 199.5]), (16.7, [31.62, 50.12])],
)
def test_that_tones_fall_into_their_bands(mains_hz, mids):
    holds = tones_in_bands(hum_frequencies(mains_hz), THIRDS)
    assert THIRDS[np.nonzero(holds)[1]] == pytest.approx(mids, rel=1e-3)


@given(st.floats(18.0, 22_000.0))
def test_that_a_tone_is_in_one_band_only(hertz):
    assert tones_in_bands([hertz], THIRDS).sum() == 1.0


def test_that_a_meter_that_halves_the_power_shows_the_root_of_it():
    # By hand: half of the power untouched, half gone: 1 mV shown is sqrt(2) mV.
    assert unweighted_volts(1e-3, [0.5, 0.5], [0.0, -200.0]) == pytest.approx(1.41421e-3, rel=1e-5)


def test_that_no_weighting_changes_nothing():
    assert unweighted_volts(2e-3, hiss_shares(THIRDS), np.zeros(31)) == pytest.approx(2e-3, rel=1e-12)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: hum_frequencies(0.0), "mains_hz must be above 0, got 0"),
        (lambda: hiss_shares([1000.0, -1.0]), "frequency_hz must be above 0, got -1"),
        (lambda: tones_in_bands([50.0, np.nan], THIRDS), "tone_hz must be above 0, got nan"),
        (lambda: unweighted_volts(-1.0, [1.0], [0.0]), "weighted_volts must be at least 0, got -1"),
        (lambda: unweighted_volts(1.0, [-1.0], [0.0]), "shares must be at least 0, got -1"),
    ],
)
def test_that_senseless_noise_is_refused_by_name_and_value(call, named):
    with pytest.raises(ValueError, match=named):
        call()
