"""Frequency bands, weighting curves, and tables read over log frequency."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = ["OCTAVE_KEYS", "exact_third", "interpolate", "third_octaves", "weighting"]

_OCTAVE_LABELS = ("31.5", "63", "125", "250", "500", "1000", "2000", "4000", "8000", "16000")

OCTAVE_KEYS: Mapping[str, float] = MappingProxyType(
    {label: 10.0 ** (3.0 + 0.3 * step) for step, label in enumerate(_OCTAVE_LABELS, start=-5)}
)
"""Nominal octave label to exact base-ten mid frequency in Hz (IEC 61260-1)."""

# Poles of IEC 61672-1:2013 annex E, in Hz.
_LOW, _A_LOW, _A_HIGH, _HIGH = 20.598997, 107.65265, 737.86223, 12194.217


def exact_third(nominal_hz: ArrayLike) -> FloatArray:
    """Exact base-ten mid frequency of the one-third octave in which a frequency lies.

    fm = 10^(n/10) Hz with the whole n nearest 10 log10(f).

    Parameters
    ----------
    nominal_hz : float or array
        Nominal mid, or any other frequency, above 0 [Hz].

    Returns
    -------
    float or array
        Exact mid, in the shape of `nominal_hz` [Hz].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative.

    References
    ----------
    IEC 61260-1:2014, 5.2 to 5.4.

    Examples
    --------
    By hand: 10 log10(31.5) = 14.98, and 10^1.5 = 31.623.

    >>> print(f"{exact_third(31.5):.3f} Hz")
    31.623 Hz
    """
    tenths = np.round(10.0 * np.log10(floats("nominal_hz", nominal_hz, above=0.0)))
    exact: FloatArray = 10.0 ** (tenths / 10.0)
    return exact


def third_octaves(low_hz: float = 20.0, high_hz: float = 20000.0) -> FloatArray:
    """Exact base-ten mid frequencies of the one-third octaves from one frequency to another.

    Parameters
    ----------
    low_hz : float
        Lies in the first band, above 0 [Hz].
    high_hz : float
        Lies in the last band, at least `low_hz` [Hz].

    Returns
    -------
    array
        Mids (n,), ascending, both ends included; 31 of them by default [Hz].

    Raises
    ------
    ValueError
        If `low_hz` is not above 0 or `high_hz` lies below it.

    References
    ----------
    IEC 61260-1:2014, 5.2 to 5.4.

    Examples
    --------
    By hand: 10^1.3 = 19.953, ..., 10^4.3 = 19952.6.

    >>> mids = third_octaves()
    >>> print(f"{mids.size} bands, {mids[0]:.3f} to {mids[-1]:.1f} Hz")
    31 bands, 19.953 to 19952.6 Hz
    """
    low = floats("low_hz", low_hz, above=0.0)
    ends = 10.0 * np.log10([low, floats("high_hz", high_hz, at_least=float(low))])
    first, last = (int(end) for end in np.round(ends))
    mids: FloatArray = 10.0 ** (np.arange(first, last + 1) / 10.0)
    return mids


def weighting(frequency_hz: ArrayLike, curve: str) -> FloatArray:
    """Frequency weighting A, C or Z of sound level meters.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, above 0 [Hz].
    curve : str
        "A", "C" or "Z" [dimensionless].

    Returns
    -------
    float or array
        Weighting, 0 at 1 kHz, in the shape of `frequency_hz` [dB].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative, or `curve` is none of the three.

    References
    ----------
    IEC 61672-1:2013, annex E (analytic expressions, of which its table is the rounding).

    Examples
    --------
    The standard's table prints -16.1 dB for A at 125 Hz.

    >>> print(f"{weighting(125.8925, 'A'):.1f} dB")
    -16.1 dB
    """
    frequency = floats("frequency_hz", frequency_hz, above=0.0)
    if curve == "Z":
        return 0.0 * frequency
    if curve not in ("A", "C"):
        raise ValueError(f'curve must be "A", "C" or "Z", got {curve!r}')
    response = _a_response if curve == "A" else _c_response
    weight: FloatArray = 20.0 * np.log10(response(frequency) / response(np.asarray(1000.0)))
    return weight


def interpolate(frequency_hz: ArrayLike, table_hz: ArrayLike, table_values: ArrayLike) -> FloatArray:
    """Read a table: linear in value over log frequency, flat beyond its ends.

    Parameters
    ----------
    frequency_hz : float or array
        Where to read it, any shape, above 0 [Hz].
    table_hz : array
        Frequencies of the table (n,), rising, above 0 [Hz].
    table_values : array
        Values (..., n) in any one unit; each leading index is a table of its own [dimensionless].

    Returns
    -------
    float or array
        Values in that unit, leading shape of `table_values` then shape of `frequency_hz` [dimensionless].

    Raises
    ------
    ValueError
        If a frequency is not above 0, or the table is empty, uneven in length, or not rising.

    References
    ----------
    Common practice, no published source.

    Examples
    --------
    By hand: 200 Hz is half way from 100 to 400 Hz on a log scale.

    >>> print(f"{interpolate(200.0, [100.0, 400.0], [1.0, 2.0]):.2f}")
    1.50
    """
    frequency = floats("frequency_hz", frequency_hz, above=0.0)
    known_hz, known = floats("table_hz", table_hz, above=0.0), floats("table_values", table_values)
    if known_hz.ndim != 1 or known_hz.size == 0 or known.shape[-1:] != known_hz.shape:
        raise ValueError(f"table_values must hold one value for each table_hz, got {known.shape} values")
    if np.any(np.diff(known_hz) <= 0.0):
        raise ValueError(f"table_hz must rise, got {known_hz.tolist()}")
    # Positions 0 to n - 1 along the table, held at its ends: np.interp does both.
    position = np.interp(np.log(frequency), np.log(known_hz), np.arange(known_hz.size))
    below = np.asarray(position).astype(int)
    above = np.minimum(below + 1, known_hz.size - 1)
    share = position - below
    values: FloatArray = (1.0 - share) * known[..., below] + share * known[..., above]
    return values


def _c_response(frequency_hz: FloatArray) -> FloatArray:
    square = frequency_hz**2
    return square / ((square + _LOW**2) * (square + _HIGH**2))


def _a_response(frequency_hz: FloatArray) -> FloatArray:
    square = frequency_hz**2
    high_passes: FloatArray = square / np.sqrt((square + _A_LOW**2) * (square + _A_HIGH**2))
    return _c_response(frequency_hz) * high_passes
