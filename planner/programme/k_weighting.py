"""The K weighting of loudness: a shelf for the head, a high-pass for the ear, at any sample rate."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = ["k_response", "k_sections"]

# The analogue filters behind the printed coefficients at 48 kHz, from which they follow to the last digit.
_SHELF_HZ, _SHELF_Q, _SHELF_DB = 1681.974450955533, 0.7071752369554196, 3.999843853973347
_SHELF_MIDDLE = 0.4996667741545416  # share of the shelf's gain, in dB, that its resonance term has
_PASS_HZ, _PASS_Q = 38.13547087602444, 0.5003270373238773
_PRINTED_RATE_HZ = 48000.0


def k_sections(sample_rate_hz: float) -> FloatArray:
    """Coefficients of the two K-weighting filters at a sample rate.

    The bilinear transform of the analogue filters; at 48 kHz exactly what the recommendation prints. From
    32 kHz up the response is that of 48 kHz within 0.01 dB; at 1 kHz a rate of 16 kHz loses 0.05 dB, one of
    8 kHz 0.2 dB.

    Parameters
    ----------
    sample_rate_hz : float
        Samples a second, at least 4000 [Hz].

    Returns
    -------
    array
        Rows (2, 6) of b0, b1, b2, a0 = 1, a1, a2: shelf, then high-pass [dimensionless].

    Raises
    ------
    ValueError
        If the sample rate is below 4000 Hz.

    References
    ----------
    ITU-R BS.1770-5 (2023), annex 1, tables 1 and 2.

    Examples
    --------
    Table 1 prints b0 = 1.53512485958697.

    >>> print(f"{k_sections(48000.0)[0, 0]:.14f}")
    1.53512485958697
    """
    rate = float(floats("sample_rate_hz", sample_rate_hz, at_least=4000.0))
    return np.stack([_shelf(rate), _high_pass(rate)])


def k_response(frequency_hz: ArrayLike, sample_rate_hz: float = 48000.0) -> FloatArray:
    """Gain of the K weighting at a frequency.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, above 0 and below half the sample rate [Hz].
    sample_rate_hz : float
        Samples a second, at least 4000 [Hz].

    Returns
    -------
    float or array
        Gain, in the shape of `frequency_hz` [dB].

    Raises
    ------
    ValueError
        If a frequency is not between 0 and half the sample rate, or the rate is below 4000 Hz.

    References
    ----------
    ITU-R BS.1770-5 (2023), annex 1.

    Examples
    --------
    The recommendation's constant of -0.691 dB undoes the gain at 997 Hz.

    >>> print(f"{k_response(997.0):.3f} dB")
    0.691 dB
    """
    sections = k_sections(sample_rate_hz)
    frequency = floats("frequency_hz", frequency_hz, above=0.0, below=sample_rate_hz / 2.0)
    delay = np.exp(-2j * np.pi * frequency / sample_rate_hz)
    gain = np.ones_like(delay)
    for b0, b1, b2, a0, a1, a2 in sections:
        gain = gain * (b0 + b1 * delay + b2 * delay**2) / (a0 + a1 * delay + a2 * delay**2)
    level: FloatArray = 20.0 * np.log10(np.abs(gain))
    return level


def _shelf(rate_hz: float) -> FloatArray:
    k = np.tan(np.pi * _SHELF_HZ / rate_hz)
    high = 10.0 ** (_SHELF_DB / 20.0)
    middle = high**_SHELF_MIDDLE
    norm = 1.0 + k / _SHELF_Q + k * k
    above = [high + middle * k / _SHELF_Q + k * k, 2.0 * (k * k - high), high - middle * k / _SHELF_Q + k * k]
    below = [norm, 2.0 * (k * k - 1.0), 1.0 - k / _SHELF_Q + k * k]
    row: FloatArray = np.array([*above, *below]) / norm
    return row


def _high_pass(rate_hz: float) -> FloatArray:
    k = np.tan(np.pi * _PASS_HZ / rate_hz)
    norm = 1.0 + k / _PASS_Q + k * k
    # The table's numerator is 1, -2, 1 and so stands a little above unity gain at 48 kHz: kept at any rate.
    printed = np.tan(np.pi * _PASS_HZ / _PRINTED_RATE_HZ)
    gain = (1.0 + printed / _PASS_Q + printed * printed) / norm
    below = [1.0, 2.0 * (k * k - 1.0) / norm, (1.0 - k / _PASS_Q + k * k) / norm]
    return np.array([gain, -2.0 * gain, gain, *below])
