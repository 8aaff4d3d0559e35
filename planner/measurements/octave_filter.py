"""Octave filters that shift no phase: a decay keeps its shape and its place in time."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = ["filtered", "octave_gain"]

_ORDER = 3  # of the low-pass prototype: a filter of six poles, as sound level meters have
_EDGE = 10.0**0.15


def octave_gain(frequency_hz: ArrayLike, centre_hz: float) -> FloatArray:
    """Magnitude of a Butterworth octave filter.

    1/sqrt(1 + u^6) with u = (f/fm - fm/f)/(G^(1/2) - G^(-1/2)), G = 10^0.3: -3.01 dB at both edges.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, at least 0 [Hz].
    centre_hz : float
        Exact mid frequency fm, above 0 [Hz].

    Returns
    -------
    float or array
        Gain from 0 to 1, in the shape of `frequency_hz` [dimensionless].

    Raises
    ------
    ValueError
        If a frequency is below 0 or the mid not above 0.

    References
    ----------
    IEC 61260-1:2014 (the filter keeps within the limits of class 1).

    Examples
    --------
    By hand: an octave above the mid u is 2.13 and the gain 1/sqrt(1 + 93), or -19.8 dB.

    >>> print(f"{20 * np.log10(octave_gain(1000 * 10**0.3, 1000.0)):.1f} dB")
    -19.6 dB
    """
    frequency = floats("frequency_hz", frequency_hz, at_least=0.0)
    centre = float(floats("centre_hz", centre_hz, above=0.0))
    ratio = np.maximum(frequency / centre, 1e-9)
    detuning = (ratio - 1.0 / ratio) / (_EDGE - 1.0 / _EDGE)
    gain: FloatArray = 1.0 / np.sqrt(1.0 + detuning ** (2 * _ORDER))
    return gain


def filtered(samples: FloatArray, sample_rate_hz: float, centre_hz: float) -> FloatArray:
    """One octave of a signal, without any shift in time.

    Parameters
    ----------
    samples : array
        The signal (n,) [dimensionless].
    sample_rate_hz : float
        Samples a second [Hz].
    centre_hz : float
        Exact mid frequency, its band below half the sample rate [Hz].

    Returns
    -------
    array
        The part of the signal in that octave (n,) [dimensionless].

    References
    ----------
    ISO 3382-1:2009, 5.3 (octave bands); zero phase: common practice.

    Examples
    --------
    A tone in the middle of the band passes as it is.

    >>> tone = np.sin(2 * np.pi * 1000.0 * np.arange(48000) / 48000.0)
    >>> print(f"{np.abs(filtered(tone, 48000.0, 1000.0) - tone)[5000:-5000].max():.4f}")
    0.0000
    """
    count = samples.size
    # What rings before the first sample must not come back at the end: room for 20 periods of silence.
    size = _fast(count + int(20.0 * sample_rate_hz / centre_hz))
    gain = octave_gain(np.fft.rfftfreq(size, 1.0 / sample_rate_hz), centre_hz)
    passed: FloatArray = np.fft.irfft(np.fft.rfft(samples, size) * gain, size)
    return passed[:count]


def _fast(least: int) -> int:
    """Smallest of 2^k, 3·2^k and 5·2^k that is long enough."""
    powers = [factor * 2 ** int(np.ceil(np.log2(max(least, 16) / factor))) for factor in (1, 3, 5)]
    return int(min(powers))
