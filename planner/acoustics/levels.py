"""Level arithmetic: sums, distance, one watt, efficiency."""

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = [
    "AIR_IMPEDANCE",
    "REFERENCE_PRESSURE_PA",
    "correlated_gain",
    "distance_loss",
    "efficiency",
    "level_sum",
    "one_watt_level",
]

REFERENCE_PRESSURE_PA = 20e-6  # ISO 1683
AIR_IMPEDANCE = 413.2  # rho c at 20 degrees Celsius, Pa s/m


def level_sum(levels_db: ArrayLike, axis: int | tuple[int, ...] | None = -1) -> FloatArray:
    """Level of several sounds together that have nothing in common (powers add).

    L = 10 log10(sum of 10^(Li/10)).

    Parameters
    ----------
    levels_db : array
        Levels to add; minus infinity stands for silence [dB].
    axis : int, tuple of int or None
        Axis or axes summed away; None sums all of them [dimensionless].

    Returns
    -------
    float or array
        Level of the sum, in the shape of `levels_db` without `axis`; nothing but silence gives
        minus infinity [dB].

    References
    ----------
    ISO 1683 (levels of quantities proportional to power).

    Examples
    --------
    By hand: two equal levels make 10 log10(2) = 3.01 dB more.

    >>> print(f"{level_sum([95.0, 95.0]):.2f} dB")
    98.01 dB
    """
    levels = np.atleast_1d(np.asarray(levels_db, dtype=float))
    loudest = np.max(levels, axis=axis, keepdims=True, initial=-np.inf)
    reference = np.where(np.isfinite(loudest), loudest, 0.0)  # keeps 10^x in range
    powers = np.sum(10.0 ** ((levels - reference) / 10.0), axis=axis)
    with np.errstate(divide="ignore"):
        total: FloatArray = 10.0 * np.log10(powers) + reference.reshape(np.shape(powers))
    return total


def correlated_gain(count: ArrayLike, coherence: ArrayLike) -> FloatArray:
    """Level that equal sources with partly the same signal make above one of them.

    G = 10 log10(n + n (n - 1) rho): 10 log10(n) with nothing in common, 20 log10(n) for one signal.

    Parameters
    ----------
    count : float or array
        Number of equal sources, at least 1 [dimensionless].
    coherence : float or array
        Correlation rho of each two of them, from -1/(n - 1) to 1 [dimensionless].

    Returns
    -------
    float or array
        Gain over one source, broadcast; minus infinity where they cancel [dB].

    Raises
    ------
    ValueError
        If `count` is below 1, or `coherence` is one that so many sources cannot all have.

    References
    ----------
    Sum of n(n - 1) cross terms of equal pressures, any textbook on random signals.

    Examples
    --------
    By hand: two loudspeakers at 0.5 make 10 log10(2 + 2 x 0.5) = 10 log10(3).

    >>> print(f"{correlated_gain(2, 0.5):.2f} dB")
    4.77 dB
    """
    n = floats("count", count, at_least=1.0)
    rho = floats("coherence", coherence, at_least=-1.0, at_most=1.0)
    crossed = floats("coherence x (count - 1)", rho * (n - 1.0), at_least=-1.0 - 1e-12)
    with np.errstate(divide="ignore"):
        gain: FloatArray = 10.0 * np.log10(n * np.maximum(1.0 + crossed, 0.0))
    return gain


def distance_loss(distance_m: ArrayLike) -> FloatArray:
    """Level lost between 1 m and a distance in the free field; positive beyond 1 m.

    D = 20 log10(r / 1 m), to be taken from the level at 1 m.

    Parameters
    ----------
    distance_m : float or array
        From the acoustic centre, above 0; the law holds where the source is small against it [m].

    Returns
    -------
    float or array
        Loss, in the shape of `distance_m` [dB].

    Raises
    ------
    ValueError
        If a distance is 0 or negative.

    References
    ----------
    ISO 9613-2, geometrical divergence (20 lg(d/d0)).

    Examples
    --------
    By hand: 4 m is two doublings of 6.02 dB.

    >>> print(f"{distance_loss(4.0):.2f} dB")
    12.04 dB
    """
    distance = floats("distance_m", distance_m, above=0.0)
    loss: FloatArray = 20.0 * np.log10(distance)
    return loss


def one_watt_level(level_2v83_db: ArrayLike, impedance_ohm: ArrayLike) -> FloatArray:
    """Level for 1 W into the nominal impedance, from the level for 2.83 V.

    L1W = L + 10 log10(R / 8 ohm). 2.83 V is the trade's rounding of sqrt(8) V, which is taken: 1 W in 8 ohm.

    Parameters
    ----------
    level_2v83_db : float or array
        Level at 1 m on axis for 2.83 V [dB re 20 µPa].
    impedance_ohm : float or array
        Nominal impedance R, above 0 [ohm].

    Returns
    -------
    float or array
        Level at 1 m on axis for sqrt(R) volts, broadcast [dB re 20 µPa].

    Raises
    ------
    ValueError
        If an impedance is 0 or negative.

    References
    ----------
    IEC 60268-5, 20.3 (characteristic sensitivity refers to 1 W in the rated impedance).

    Examples
    --------
    By hand: 4 ohm takes 2 W at 2.83 V, so 1 W makes 3.01 dB less.

    >>> print(f"{one_watt_level(93.0, 4.0):.2f} dB")
    89.99 dB
    """
    level = floats("level_2v83_db", level_2v83_db)
    impedance = floats("impedance_ohm", impedance_ohm, above=0.0)
    one_watt: FloatArray = level + 10.0 * np.log10(impedance / 8.0)
    return one_watt


def efficiency(level_1w_db: ArrayLike, directivity_factor: ArrayLike) -> FloatArray:
    """Share of the electrical power that is radiated as sound.

    eta = 4 pi p^2 / (rho c Q) / 1 W, with p the pressure at 1 m on axis for 1 W and rho c = 413.2 Pa s/m.

    Parameters
    ----------
    level_1w_db : float or array
        Level at 1 m on axis for 1 W [dB re 20 µPa].
    directivity_factor : float or array
        Q re full space, above 0: 1 for an omnidirectional source, 2 for one that fills a half space
        [dimensionless].

    Returns
    -------
    float or array
        Fraction, not per cent, broadcast; above 1 the two inputs contradict each other [dimensionless].

    Raises
    ------
    ValueError
        If a directivity factor is 0 or negative.

    References
    ----------
    Small, Direct-Radiator Loudspeaker System Analysis, JAES 20 (1972): 1 acoustic watt makes 112.1 dB
    at 1 m in a half space.

    Examples
    --------
    By hand: 92.16 dB is 0.8110 Pa; 4 pi x 0.6577 / (413.2 x 2) = 0.0100.

    >>> print(f"{efficiency(92.16, 2.0):.4f}")
    0.0100
    """
    level = floats("level_1w_db", level_1w_db)
    factor = floats("directivity_factor", directivity_factor, above=0.0)
    pressure_squared = REFERENCE_PRESSURE_PA**2 * 10.0 ** (level / 10.0)
    return 4.0 * np.pi * pressure_squared / (AIR_IMPEDANCE * factor)
