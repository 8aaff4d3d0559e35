"""How quiet a room is, and what an ear can hear at all: NC curves and the threshold of hearing."""

import csv
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.acoustics.bands import exact_third, interpolate, weighting
from planner.resources import resource_path

__all__ = [
    "HIGHEST_NC",
    "LOWEST_NC",
    "NC_OCTAVES_HZ",
    "hearing_threshold",
    "nc_a_level",
    "nc_by_octave",
    "nc_from_a_level",
    "nc_levels",
    "nc_rating",
    "octaves_of_thirds",
]

LOWEST_NC, HIGHEST_NC = 15.0, 70.0
NC_OCTAVES_HZ: FloatArray = 10.0 ** (3.0 + 0.3 * np.arange(-6.0, 4.0))
"""Exact mids of the ten octaves of the NC curves, 16 Hz to 8 kHz [Hz]."""

_NC_STEP = 0.05


def nc_levels(nc: ArrayLike) -> FloatArray:
    """Octave-band levels of a noise criterion curve.

    Between the curves of the table, 5 apart, levels are linear in NC.

    Parameters
    ----------
    nc : float or array
        Noise criterion, 15 to 70 [dimensionless].

    Returns
    -------
    array
        Levels, shape of `nc` then the ten octaves from 16 Hz to 8 kHz [dB re 20 µPa].

    Raises
    ------
    ValueError
        If a criterion is below 15 or above 70.

    References
    ----------
    ANSI/ASA S12.2-2019, table 1 (older books print a family that differs by 1 dB in places).

    Examples
    --------
    The table prints 26 dB at 500 Hz for NC-20 and 31 dB for NC-25: two fifths between them are 28.

    >>> print(f"{nc_levels(20.0)[5]:.0f} dB, {nc_levels(22.0)[5]:.0f} dB")
    26 dB, 28 dB
    """
    number = floats("nc", nc, at_least=LOWEST_NC, at_most=HIGHEST_NC)
    known, curves = _nc_table()
    position = np.interp(number, known, np.arange(known.size))
    below = np.minimum(np.asarray(position).astype(int), known.size - 2)
    share = (position - below)[..., None]
    levels: FloatArray = (1.0 - share) * curves[below] + share * curves[below + 1]
    return levels


def nc_by_octave(octave_levels_db: ArrayLike) -> FloatArray:
    """Noise criterion curve that the level of each octave reaches.

    Linear between the curves; beyond NC-15 and NC-70, which the standard does not cover, 1 for each dB.

    Parameters
    ----------
    octave_levels_db : array
        Levels (..., 10) of the octaves 16 Hz to 8 kHz; minus infinity where nothing was measured
        [dB re 20 µPa].

    Returns
    -------
    array
        The lowest curve that the octave does not exceed, in the shape of `octave_levels_db` [dimensionless].

    Raises
    ------
    ValueError
        If the last axis does not hold ten octaves.

    References
    ----------
    ANSI/ASA S12.2-2019, table 1 and the tangency method.

    Examples
    --------
    By hand: NC-20 and NC-25 have 26 and 31 dB at 500 Hz, so 29 dB there is three fifths between.

    >>> levels = np.full(10, -np.inf)
    >>> levels[5] = 29.0
    >>> print(f"{nc_by_octave(levels)[5]:.1f}")
    23.0
    """
    level = np.asarray(octave_levels_db, dtype=float)
    known, curves = _nc_table()
    if level.shape[-1:] != NC_OCTAVES_HZ.shape:
        raise ValueError(f"octave_levels_db must end in 10 octaves, got shape {level.shape}")
    # The first curve that is not exceeded: at 16 Hz the highest curves fall together.
    above = np.sum(curves < level[..., None, :], axis=-2)
    upper = np.clip(above, 1, known.size - 1)
    octave = np.arange(level.shape[-1])
    low, high = curves[upper - 1, octave], curves[upper, octave]
    share = (level - low) / np.where(high > low, high - low, 1.0)
    within = known[upper - 1] + share * (known[upper] - known[upper - 1])
    beyond = np.where(above == 0, LOWEST_NC + level - curves[0], HIGHEST_NC + level - curves[-1])
    reached: FloatArray = np.where((above == 0) | (above == known.size), beyond, within)
    return reached


def nc_rating(octave_levels_db: ArrayLike) -> FloatArray:
    """Noise criterion of a spectrum: the highest curve that any octave reaches.

    Parameters
    ----------
    octave_levels_db : array
        Levels (..., 10) of the octaves 16 Hz to 8 kHz; minus infinity where nothing was measured
        [dB re 20 µPa].

    Returns
    -------
    float or array
        Rating (...), not rounded: reports round it to a whole number; below 15 and above 70 it lies
        outside the standard and counts 1 for each dB [dimensionless].

    Raises
    ------
    ValueError
        If the last axis does not hold ten octaves.

    References
    ----------
    ANSI/ASA S12.2-2019, tangency method.

    Examples
    --------
    By hand: the curve NC-30 with 8 dB more at 125 Hz, where NC-40 has just these 56 dB.

    >>> levels = nc_levels(30.0)
    >>> levels[3] += 8.0
    >>> print(f"NC-{nc_rating(levels):.0f}")
    NC-40
    """
    rating: FloatArray = nc_by_octave(octave_levels_db).max(axis=-1)
    return rating


def nc_a_level(nc: ArrayLike) -> FloatArray:
    """A-weighted level of a noise whose octaves lie on a noise criterion curve.

    Parameters
    ----------
    nc : float or array
        Noise criterion, 15 to 70 [dimensionless].

    Returns
    -------
    float or array
        Level of all ten octaves, in the shape of `nc` [dB re 20 µPa].

    Raises
    ------
    ValueError
        If a criterion is below 15 or above 70.

    References
    ----------
    ANSI/ASA S12.2-2019, table 1; IEC 61672-1:2013 (weighting A).

    Examples
    --------
    By hand for NC-20, 63 Hz to 8 kHz: 23.8, 23.9, 24.3, 22.8, 22.0, 21.2, 18.0 and 15.0 dB(A) make 31.6;
    the 23.6 dB(A) of 31.5 Hz bring 32.3, the 22 of 16 Hz the rest.

    >>> print(f"{nc_a_level(20.0):.1f} dB")
    32.4 dB
    """
    powers = 10.0 ** ((nc_levels(nc) + weighting(NC_OCTAVES_HZ, "A")) / 10.0)
    level: FloatArray = 10.0 * np.log10(powers.sum(axis=-1))
    return level


def nc_from_a_level(level_dba: ArrayLike) -> FloatArray:
    """Noise criterion curve that has an A-weighted level, held between NC-15 and NC-70.

    The inverse of :func:`nc_a_level`, for rooms of which only a level is known: a guess of their spectrum.

    Parameters
    ----------
    level_dba : float or array
        A-weighted level [dB re 20 µPa].

    Returns
    -------
    float or array
        Noise criterion, 15 below the level of the lowest curve and 70 above that of the highest, in the
        shape of `level_dba` [dimensionless].

    Raises
    ------
    ValueError
        If a level is not a finite number.

    References
    ----------
    ANSI/ASA S12.2-2019, table 1. That a room is shaped like the curves: common practice, no published source.

    Examples
    --------
    By hand: NC-20 has 32.38 dB(A).

    >>> print(f"NC-{nc_from_a_level(32.38):.1f}")
    NC-20.0
    """
    grid = np.arange(LOWEST_NC, HIGHEST_NC + _NC_STEP / 2.0, _NC_STEP)
    fine = np.minimum(grid, HIGHEST_NC)
    found: FloatArray = np.interp(floats("level_dba", level_dba), nc_a_level(fine), fine)
    return found


def octaves_of_thirds(third_levels_db: ArrayLike, frequency_hz: ArrayLike) -> FloatArray:
    """Levels of the ten octaves of the NC curves, from those of one-third octaves.

    Parameters
    ----------
    third_levels_db : array
        Levels (..., n) of one-third octaves [dB re 20 µPa].
    frequency_hz : array
        Their mids (n,), nominal or exact, above 0 [Hz].

    Returns
    -------
    array
        Levels (..., 10) of the octaves 16 Hz to 8 kHz; minus infinity where no third is given, and too
        little where some are missing [dB re 20 µPa].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative.

    References
    ----------
    IEC 61260-1:2014 (an octave holds three one-third octaves).

    Examples
    --------
    By hand: three thirds of 40 dB make 40 + 4.77 dB.

    >>> print(f"{octaves_of_thirds([40.0, 40.0, 40.0], [800.0, 1000.0, 1250.0])[6]:.2f} dB")
    44.77 dB
    """
    tenths = np.round(10.0 * np.log10(exact_third(frequency_hz)))
    holds = np.abs(tenths[:, None] - 10.0 * np.log10(NC_OCTAVES_HZ)) < 1.5
    powers = 10.0 ** (np.asarray(third_levels_db, dtype=float) / 10.0)
    with np.errstate(divide="ignore"):
        octaves: FloatArray = 10.0 * np.log10(powers @ holds)
    return octaves


def hearing_threshold(frequency_hz: ArrayLike) -> FloatArray:
    """Level below which a pure tone is not heard by young ears of normal hearing.

    Both ears, sound from the front, free field. Read between its rows over log frequency, held flat
    below 20 Hz and above 16 kHz. It holds for tones: a one-third octave of noise near the threshold is
    about as audible above 500 Hz, where the ear's own bands are as narrow; below, neighbouring thirds
    add up in one band of the ear, which may hear them up to 3 dB earlier. Age raises it, most at the top.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, above 0 [Hz].

    Returns
    -------
    float or array
        Threshold, in the shape of `frequency_hz` [dB re 20 µPa].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative.

    References
    ----------
    ISO 226:2003 to 12.5 kHz, ISO 389-7:2005 above (free field, frontal incidence).

    Examples
    --------
    The table prints 22.1 dB at 125 Hz and -5.4 dB at 4 kHz.

    >>> print(f"{hearing_threshold(125.0):.1f} dB, {hearing_threshold(4000.0):.1f} dB")
    22.1 dB, -5.4 dB
    """
    table_hz, table_db = _threshold_table()
    return interpolate(frequency_hz, table_hz, table_db)


@cache
def _nc_table() -> tuple[FloatArray, FloatArray]:
    """Criteria (n,), rising, and levels of their curves (n, 10)."""
    rows = np.array(_numbers("nc_curves.csv"))
    return rows[:, 0], rows[:, 1:]


@cache
def _threshold_table() -> tuple[FloatArray, FloatArray]:
    """Frequencies and thresholds, each (n,)."""
    frequency_hz, threshold_db = np.array(_numbers("hearing_threshold.csv")).T
    return frequency_hz, threshold_db


def _numbers(name: str) -> list[list[float]]:
    """The rows of a table of numbers, without its heading."""
    text = resource_path(name).read_text(encoding="utf-8")
    return [[float(cell) for cell in row] for row in list(csv.reader(text.splitlines()))[1:]]
