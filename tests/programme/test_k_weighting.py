"""K weighting against the recommendation's tables, and the block filter against the difference equation."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal

from planner.programme.k_weighting import k_response, k_sections
from planner.programme.recursion import BlockFilter


def test_that_the_coefficients_at_48_khz_are_the_printed_ones():
    # ITU-R BS.1770-5 annex 1, tables 1 and 2 (transcription).
    shelf = [1.53512485958697, -2.69169618940638, 1.19839281085285, 1.0, -1.69065929318241, 0.73248077421585]
    high_pass = [1.0, -2.0, 1.0, 1.0, -1.99004745483398, 0.99007225036621]
    assert k_sections(48000.0) == pytest.approx(np.array([shelf, high_pass]), abs=2e-14)


@pytest.mark.parametrize(
    ("frequency_hz", "gain_db"),
    # Computed from the printed coefficients by other software.
    [(25, -10.393), (100, -1.133), (500, 0.042), (997, 0.691), (2000, 3.071), (4000, 3.968), (10000, 4.042)],
)
def test_that_the_response_at_48_khz_is_that_of_the_printed_coefficients(frequency_hz, gain_db):
    assert k_response(frequency_hz) == pytest.approx(gain_db, abs=0.002)


@pytest.mark.parametrize("rate_hz", [32000, 44100, 88200, 96000, 192000, 768000])
def test_that_other_rates_have_the_response_of_48_khz(rate_hz):
    # The recommendation: "coefficients that provide the same frequency response".
    frequency_hz = np.array([25.0, 100.0, 500.0, 997.0, 2000.0, 4000.0, 10000.0])
    assert k_response(frequency_hz, rate_hz) == pytest.approx(k_response(frequency_hz), abs=0.01)


def test_that_a_rate_too_low_for_the_shelf_is_refused():
    with pytest.raises(ValueError, match="sample_rate_hz must be at least 4000, got 3000"):
        k_sections(3000.0)


@given(st.lists(st.integers(1, 700), min_size=1, max_size=6), st.sampled_from([8000, 44100, 192000]))
@settings(max_examples=25)
def test_that_blocks_of_any_size_filter_as_the_difference_equation_does(sizes, rate_hz):
    # Against scipy's plain recursion.
    sections = k_sections(rate_hz)
    samples = np.random.default_rng(sum(sizes)).standard_normal((2, sum(sizes)))
    block_filter = BlockFilter(sections, 2)
    pieces = [block_filter(part) for part in np.split(samples, np.cumsum(sizes)[:-1], axis=1)]
    assert np.concatenate(pieces, axis=1) == pytest.approx(signal.sosfilt(sections, samples), abs=1e-9)


def test_that_a_long_signal_does_not_drift():
    samples = np.random.default_rng(2).standard_normal((1, 400_000))
    filtered = BlockFilter(k_sections(48000), 1)(samples)
    assert np.abs(filtered - signal.sosfilt(k_sections(48000), samples)).max() < 1e-9
