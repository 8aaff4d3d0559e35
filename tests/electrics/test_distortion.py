"""Harmonics of waveforms whose harmonics are known."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.electrics.distortion import harmonics, total_distortion

ANGLE = 2 * np.pi * np.arange(72) / 72


@given(
    st.lists(st.floats(-10.0, 10.0), min_size=6, max_size=6),
    st.lists(st.floats(-np.pi, np.pi), min_size=6, max_size=6),
)
def test_that_what_was_added_up_comes_apart_again(heights, phases):
    # Definition of a Fourier series.
    parts = [height * np.cos(k * ANGLE + phases[k - 1]) for k, height in enumerate(heights, start=1)]
    found = harmonics(3.0 + np.sum(parts, axis=0))
    assert found[0] == pytest.approx(3.0)
    assert found[1:7] == pytest.approx(np.abs(heights), abs=1e-9)
    assert found[7:] == pytest.approx(0.0, abs=1e-9)


def test_that_a_square_wave_has_odd_harmonics_in_the_proportions_of_the_series():
    # Fourier series of a square wave: 4 / (pi k) for odd k; distortion sqrt(pi^2 / 8 - 1), 48.34 %.
    middles = 2 * np.pi * (np.arange(20000) + 0.5) / 20000
    found = harmonics(np.sign(np.cos(middles)))
    assert found[1:6] == pytest.approx([4 / np.pi, 0.0, 4 / (3 * np.pi), 0.0, 4 / (5 * np.pi)], abs=1e-6)
    assert total_distortion(found) == pytest.approx(100 * np.sqrt(np.pi**2 / 8 - 1), abs=0.01)


def test_that_a_parabola_makes_second_harmonic_alone():
    # By hand: cos^2 t = 1/2 + 1/2 cos 2t; (1 + 0.1 cos t)^2 = 1.005 + 0.2 cos t + 0.005 cos 2t.
    found = harmonics((1.0 + 0.1 * np.cos(ANGLE)) ** 2)
    assert found[:4] == pytest.approx([1.005, 0.2, 0.005, 0.0], abs=1e-12)
    assert total_distortion(found) == pytest.approx(2.5)


def test_that_waveforms_stand_along_the_last_axis():
    waves = np.arange(1.0, 7.0).reshape(2, 3, 1) * np.cos(ANGLE)
    found = harmonics(waves)
    assert found.shape == (2, 3, 37)
    assert found[..., 1] == pytest.approx(np.arange(1.0, 7.0).reshape(2, 3))
    assert total_distortion(found).shape == (2, 3)
    assert isinstance(total_distortion([0.0, 1.0, 0.1]), float)


@pytest.mark.parametrize("wave", [[1.0, 2.0, 3.0], [1.0, 2.0], 1.0])
def test_that_half_a_waveform_is_refused(wave):
    with pytest.raises(ValueError, match="an even number of samples, 4 or more"):
        harmonics(wave)


def test_that_silence_has_no_distortion_to_state():
    with pytest.raises(ValueError, match="fundamental must be above 0, got 0"):
        total_distortion([[1.0, 1.0, 0.0], [1.0, 0.0, 0.0]])
