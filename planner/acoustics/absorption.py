"""The absorption exponent of a room, and the reverberation time that goes with it.

The exponent x is what one mean free path (4 V / S) takes away: intensity falls by exp(-x). Eyring's formula
takes -ln(1 - a) for the surfaces; the air adds its part; a measured reverberation time gives the whole.
"""

from math import log

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = [
    "NEPERS_OF_60_DB",
    "SOUND_SPEED_20C",
    "absorption_exponent",
    "exponent_from_t60",
    "sabine_slope",
    "t60_from_exponent",
]

SOUND_SPEED_20C = 343.2  # m/s, ISO 9613-1
NEPERS_OF_60_DB = 6.0 * log(10.0)  # 13.8155: energy falls by 10^-6


def sabine_slope(volume_m3: ArrayLike, sound_speed: ArrayLike = SOUND_SPEED_20C) -> FloatArray:
    """Reverberation time times absorption area, the constant of all formulas of Sabine's kind.

    24 ln(10) V / c, which is 0.161 V.

    Parameters
    ----------
    volume_m3 : float or array
        Volume V, above 0 [m^3].
    sound_speed : float or array
        Speed of sound c, above 0 [m/s].

    Returns
    -------
    float or array
        Product of time and area, broadcast [s m^2].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 5.

    Examples
    --------
    By hand: 24 x 2.302585 / 343.2 = 0.16102, times 100.

    >>> print(f"{sabine_slope(100.0):.2f} s m^2")
    16.10 s m^2
    """
    speed = floats("sound_speed", sound_speed, above=0.0)
    return 4.0 * NEPERS_OF_60_DB * floats("volume_m3", volume_m3, above=0.0) / speed


def absorption_exponent(
    volume_m3: ArrayLike, surface_m2: ArrayLike, mean_absorption: ArrayLike, air_per_m: ArrayLike = 0.0
) -> FloatArray:
    """Absorption exponent of one mean free path, surfaces by Eyring and the air.

    x = -ln(1 - a) + 4 m V / S.

    Parameters
    ----------
    volume_m3 : float or array
        Volume V, above 0 [m^3].
    surface_m2 : float or array
        Surface S of the room, above 0 [m^2].
    mean_absorption : float or array
        Absorption area over surface a, 0 to below 1 [dimensionless].
    air_per_m : float or array
        Energy attenuation m of the air, 0 or more [1/m].

    Returns
    -------
    float or array
        x, broadcast; 0 only if nothing absorbs [dimensionless].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 5.

    Examples
    --------
    By hand: -ln(0.8) + 4 x 0.001 x 120 / 158 = 0.22314 + 0.00304.

    >>> print(f"{absorption_exponent(120.0, 158.0, 0.2, 0.001):.4f}")
    0.2262
    """
    volume = floats("volume_m3", volume_m3, above=0.0)
    surface = floats("surface_m2", surface_m2, above=0.0)
    mean = floats("mean_absorption", mean_absorption, at_least=0.0, below=1.0)
    air = floats("air_per_m", air_per_m, at_least=0.0)
    exponent: FloatArray = -np.log1p(-mean) + 4.0 * air * volume / surface
    return exponent


def t60_from_exponent(
    volume_m3: ArrayLike,
    surface_m2: ArrayLike,
    exponent: ArrayLike,
    *,
    sound_speed: ArrayLike = SOUND_SPEED_20C,
) -> FloatArray:
    """Reverberation time of a room with a known absorption exponent.

    T = 24 ln(10) V / (c S x).

    Parameters
    ----------
    volume_m3 : float or array
        Volume V, above 0 [m^3].
    surface_m2 : float or array
        Surface S of the room, above 0 [m^2].
    exponent : float or array
        Absorption exponent x, above 0 [dimensionless].
    sound_speed : float or array
        Speed of sound c, above 0 [m/s].

    Returns
    -------
    float or array
        Time for 60 dB, broadcast [s].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 5.

    Examples
    --------
    By hand: 0.16102 x 120 / (158 x 0.25) = 19.322 / 39.5.

    >>> print(f"{t60_from_exponent(120.0, 158.0, 0.25):.4f} s")
    0.4892 s
    """
    surface = floats("surface_m2", surface_m2, above=0.0)
    lost = floats("exponent", exponent, above=0.0)
    return sabine_slope(volume_m3, sound_speed) / (surface * lost)


def exponent_from_t60(
    volume_m3: ArrayLike,
    surface_m2: ArrayLike,
    t60_s: ArrayLike,
    *,
    sound_speed: ArrayLike = SOUND_SPEED_20C,
) -> FloatArray:
    """Absorption exponent that a measured reverberation time means; it holds the air already.

    x = 24 ln(10) V / (c S T).

    Parameters
    ----------
    volume_m3 : float or array
        Volume V, above 0 [m^3].
    surface_m2 : float or array
        Surface S of the room, above 0 [m^2].
    t60_s : float or array
        Time T for 60 dB, above 0 [s].
    sound_speed : float or array
        Speed of sound c, above 0 [m/s].

    Returns
    -------
    float or array
        x, broadcast [dimensionless].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 5.

    Examples
    --------
    By hand: 0.16102 x 120 / (158 x 0.5) = 19.322 / 79.

    >>> print(f"{exponent_from_t60(120.0, 158.0, 0.5):.4f}")
    0.2446
    """
    surface = floats("surface_m2", surface_m2, above=0.0)
    t60 = floats("t60_s", t60_s, above=0.0)
    return sabine_slope(volume_m3, sound_speed) / (surface * t60)
