"""What an amplifier gives with nothing playing: hum of the mains and hiss, by one-third octave."""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = [
    "HISS_BAND_HZ",
    "HUM_AMPLITUDES",
    "HUM_HARMONICS",
    "HUM_SHARES",
    "hiss_shares",
    "hum_frequencies",
    "tones_in_bands",
    "unweighted_volts",
]

HUM_HARMONICS = np.array([1.0, 2.0, 3.0])
"""Harmonics of the mains frequency that hum is made of."""

HUM_AMPLITUDES = np.array([1.0, 1.0, 0.5])
"""Their amplitudes against one another; common practice, no published source.

The first comes from heaters on alternating current and stray fields, the second from the ripple of
full-wave rectifiers, the third, weaker, from saturated iron and rectifier pulses.
"""

HUM_SHARES: FloatArray = HUM_AMPLITUDES**2 / np.sum(HUM_AMPLITUDES**2)
"""Their shares of the power of the hum: 4/9, 4/9 and 1/9."""

HISS_BAND_HZ = (20.0, 20_000.0)
"""Hiss is white between these."""

_HALF_BAND = 10.0**0.05


def hum_frequencies(mains_hz: ArrayLike) -> FloatArray:
    """Frequencies of the tones that hum is made of.

    Parameters
    ----------
    mains_hz : float or array
        Frequency of the mains, above 0 [Hz].

    Returns
    -------
    array
        Its harmonics 1, 2 and 3, shape of `mains_hz` then three [Hz].

    Raises
    ------
    ValueError
        If a frequency is not above 0.

    References
    ----------
    Common practice, no published source; the harmonics above carry little.

    Examples
    --------
    By hand: 50 Hz and its double and triple.

    >>> print(hum_frequencies(50.0))
    [ 50. 100. 150.]
    """
    frequencies: FloatArray = positive("mains_hz", mains_hz)[..., None] * HUM_HARMONICS
    return frequencies


def hiss_shares(frequency_hz: ArrayLike) -> FloatArray:
    """Share of the power of white noise, 20 Hz to 20 kHz, in each one-third octave.

    Parameters
    ----------
    frequency_hz : float or array
        Exact mids, above 0; a band that reaches beyond 20 Hz or 20 kHz counts up to there [Hz].

    Returns
    -------
    float or array
        Width within the span over the whole of it, in the shape of `frequency_hz`; those of the 31 bands
        add up to 1 [dimensionless].

    Raises
    ------
    ValueError
        If a frequency is not above 0.

    References
    ----------
    Definition of white noise: the same power in each hertz; IEC 61260-1:2014 (band edges).

    Examples
    --------
    By hand: the third at 1 kHz is 230.8 Hz wide, of 19 980.

    >>> print(f"{1e3 * hiss_shares(1000.0):.2f} per mille")
    11.55 per mille
    """
    middle = positive("frequency_hz", frequency_hz)
    low, high = HISS_BAND_HZ
    width = np.clip(middle * _HALF_BAND, low, high) - np.clip(middle / _HALF_BAND, low, high)
    shares: FloatArray = width / (high - low)
    return shares


def tones_in_bands(tone_hz: ArrayLike, frequency_hz: ArrayLike) -> FloatArray:
    """Which one-third octave holds which tone.

    Parameters
    ----------
    tone_hz : array
        Frequencies of tones (n,), above 0 [Hz].
    frequency_hz : array
        Exact mids of the bands (b,), above 0 [Hz].

    Returns
    -------
    array
        1 where the band holds the tone, else 0, (n, b); a tone beyond all bands is in none
        [dimensionless].

    Raises
    ------
    ValueError
        If a frequency is not above 0.

    References
    ----------
    IEC 61260-1:2014 (band edges half a tenth of a decade from the mid).

    Examples
    --------
    By hand: the band of 63.1 Hz reaches from 56.2 to 70.8 Hz and so holds 60 Hz.

    >>> print(tones_in_bands([60.0], [50.12, 63.10, 79.43]))
    [[0. 1. 0.]]
    """
    tone = positive("tone_hz", tone_hz)[:, None]
    middle = positive("frequency_hz", frequency_hz)
    holds: FloatArray = ((tone >= middle / _HALF_BAND) & (tone < middle * _HALF_BAND)).astype(float)
    return holds


def unweighted_volts(weighted_volts: ArrayLike, shares: ArrayLike, weighting_db: ArrayLike) -> FloatArray:
    """RMS of a noise from the figure that a weighting meter shows of it.

    V = Vw / sqrt(sum of s 10^(W/10)).

    Parameters
    ----------
    weighted_volts : float or array
        Figure of the meter Vw, 0 or more [V].
    shares : array
        Shares s (..., n) of the noise's power, 0 or more [dimensionless].
    weighting_db : array
        Weighting W (..., n) at their frequencies [dB].

    Returns
    -------
    float or array
        Unweighted rms, in the unit of the figure, broadcast [V].

    Raises
    ------
    ValueError
        If a figure or share is negative.

    References
    ----------
    Definition of a weighted level (IEC 61672-1).

    Examples
    --------
    By hand: all of it at a frequency where the weighting takes 20 dB away.

    >>> print(f"{unweighted_volts(0.001, [1.0], [-20.0]):.3f} V")
    0.010 V
    """
    share = positive("shares", shares, or_zero=True)
    passed = np.sum(share * 10.0 ** (np.asarray(weighting_db, dtype=float) / 10.0), axis=-1)
    volts: FloatArray = positive("weighted_volts", weighted_volts, or_zero=True) / np.sqrt(passed)
    return volts
