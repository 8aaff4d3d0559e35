"""Programme spectra by one-third octave, and typical crest factors."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.acoustics.bands import exact_third, interpolate
from planner.resources import simulated_programme

__all__ = ["TYPICAL_CREST", "Crest", "relative_levels", "shares"]


class Crest(NamedTuple):
    """A crest factor that programme of one kind typically has, and who says so."""

    programme: str
    crest_db: float
    source: str


_PRACTICE = "common practice, no published source"

TYPICAL_CREST = (
    Crest("sine", 3.01, "definition: 20 log10(sqrt 2)"),
    Crest("test noise clipped to twice its RMS value", 6.02, "AES2, IEC 60268-5"),
    Crest("dense pop and rock, loudly mastered", 9.0, _PRACTICE),
    Crest("speech", 12.0, _PRACTICE),
    Crest("pop and rock, gently mastered", 14.0, _PRACTICE),
    Crest("jazz and acoustic music", 16.0, _PRACTICE),
    Crest("chamber music and piano", 17.0, _PRACTICE),
    Crest("orchestra, full range", 20.0, _PRACTICE),
)


def relative_levels(kind: str, frequency_hz: ArrayLike) -> FloatArray:
    """Level of a programme in the one-third octaves, re its own zero level.

    Parameters
    ----------
    kind : str
        "pink" (the same in each band) or "simulated" (typical of many programmes) [dimensionless].
    frequency_hz : float or array
        Exact mid frequencies, above 0; between the bands of the table read over log frequency, beyond its
        ends (20 Hz, 20 kHz) held flat [Hz].

    Returns
    -------
    float or array
        Band level, in the shape of `frequency_hz` [dB].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative, or the kind unknown.

    References
    ----------
    IEC 60268-1:1985, table II (simulated programme signal).

    Examples
    --------
    The table prints -5.2 dB at 40 Hz.

    >>> print(f"{relative_levels('simulated', 39.811):.1f} dB")
    -5.2 dB
    """
    frequency = floats("frequency_hz", frequency_hz, above=0.0)
    if kind == "pink":
        return 0.0 * frequency
    if kind == "simulated":
        nominal_hz, level_db = simulated_programme()
        return interpolate(frequency, exact_third(nominal_hz), level_db)
    raise ValueError(f'kind must be "pink" or "simulated", got {kind!r}')


def shares(kind: str, frequency_hz: ArrayLike) -> FloatArray:
    """Share of a programme's power in each of a set of one-third octaves.

    Parameters
    ----------
    kind : str
        "pink" or "simulated" [dimensionless].
    frequency_hz : array
        Exact mid frequencies (..., n) of adjoining bands, above 0 [Hz].

    Returns
    -------
    array
        Shares (..., n) that sum to 1 over the last axis [dimensionless].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative, or the kind unknown.

    References
    ----------
    IEC 60268-1:1985, table II (simulated programme signal).

    Examples
    --------
    By hand: pink noise spreads evenly over 4 bands.

    >>> print(shares("pink", [100.0, 125.9, 158.5, 199.5]))
    [0.25 0.25 0.25 0.25]
    """
    power = 10.0 ** (np.atleast_1d(relative_levels(kind, frequency_hz)) / 10.0)
    portion: FloatArray = power / power.sum(axis=-1, keepdims=True)
    return portion
