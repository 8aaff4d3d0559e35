"""Reverberation: how long sound stays in a room, and how loud that makes it."""

from math import log

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.acoustics.absorption import (
    NEPERS_OF_60_DB,
    SOUND_SPEED_20C,
    absorption_exponent,
    sabine_slope,
    t60_from_exponent,
)

__all__ = [
    "build_up",
    "critical_distance",
    "delayed_reverberant_gain",
    "eyring_t60",
    "reverberant_gain",
    "room_constant",
    "sabine_t60",
    "schroeder_frequency",
]

DB_PER_NEPER = 10.0 / log(10.0)  # 4.3429, of energy


def sabine_t60(
    volume_m3: ArrayLike, absorption_m2: ArrayLike, *, sound_speed: ArrayLike = SOUND_SPEED_20C
) -> FloatArray:
    """Reverberation time by Sabine.

    T = 24 ln(10) V / (c A), which is 0.161 V / A.

    Parameters
    ----------
    volume_m3 : float or array
        Volume V, above 0 [m^3].
    absorption_m2 : float or array
        Absorption area A of surfaces, furnishings and air (4 m V), above 0; meant for live rooms, a mean
        absorption up to about 0.2 [m^2].
    sound_speed : float or array
        Speed of sound c, above 0 [m/s].

    Returns
    -------
    float or array
        Time for 60 dB, broadcast [s].

    Raises
    ------
    ValueError
        If an argument is 0 or negative: a room without absorption never falls silent.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 5.

    Examples
    --------
    By hand: 24 x 2.302585 / 343.2 = 0.16102, times 200 / 32.2.

    >>> print(f"{sabine_t60(200.0, 32.2):.3f} s")
    1.000 s
    """
    absorption = floats("absorption_m2", absorption_m2, above=0.0)
    return sabine_slope(volume_m3, sound_speed) / absorption


def eyring_t60(
    volume_m3: ArrayLike,
    surface_m2: ArrayLike,
    mean_absorption: ArrayLike,
    air_per_m: ArrayLike = 0.0,
    *,
    sound_speed: ArrayLike = SOUND_SPEED_20C,
) -> FloatArray:
    """Reverberation time by Eyring, with the air.

    T = 24 ln(10) V / (c (-S ln(1 - a) + 4 m V)).

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
    sound_speed : float or array
        Speed of sound c, above 0 [m/s].

    Returns
    -------
    float or array
        Time for 60 dB, broadcast [s].

    Raises
    ------
    ValueError
        If an argument is outside its limits, or nothing absorbs at all.

    References
    ----------
    Eyring, Reverberation Time in "Dead" Rooms, JASA 1 (1930); Kuttruff, Room Acoustics, 6th ed., chapter 5.

    Examples
    --------
    By hand, 8 x 5 x 3 m at 0.2: 0.16102 x 120 / (158 x 0.22314) = 19.322 / 35.257.

    >>> print(f"{eyring_t60(120.0, 158.0, 0.2):.3f} s")
    0.548 s
    """
    exponent = absorption_exponent(volume_m3, surface_m2, mean_absorption, air_per_m)
    if np.any(exponent <= 0.0):
        raise ValueError("mean_absorption must be above 0 where air_per_m is 0, got 0")
    return t60_from_exponent(volume_m3, surface_m2, exponent, sound_speed=sound_speed)


def schroeder_frequency(t60_s: ArrayLike, volume_m3: ArrayLike) -> FloatArray:
    """Frequency above which a room's modes overlap enough to be taken as one diffuse field.

    f = 2000 sqrt(T / V) Hz.

    Parameters
    ----------
    t60_s : float or array
        Reverberation time T, above 0 [s].
    volume_m3 : float or array
        Volume V, above 0 [m^3].

    Returns
    -------
    float or array
        Frequency, broadcast [Hz].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., equation (3.44).

    Examples
    --------
    By hand: 2000 x sqrt(1 / 200) = 2000 x 0.070711.

    >>> print(f"{schroeder_frequency(1.0, 200.0):.1f} Hz")
    141.4 Hz
    """
    t60 = floats("t60_s", t60_s, above=0.0)
    frequency: FloatArray = 2000.0 * np.sqrt(t60 / floats("volume_m3", volume_m3, above=0.0))
    return frequency


def room_constant(absorption_m2: ArrayLike, surface_m2: ArrayLike) -> FloatArray:
    """Room constant of the classical steady field.

    R = A / (1 - A / S).

    Parameters
    ----------
    absorption_m2 : float or array
        Absorption area A, 0 or more and below `surface_m2` [m^2].
    surface_m2 : float or array
        Surface S of the room, above 0 [m^2].

    Returns
    -------
    float or array
        R, broadcast [m^2].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Bies, Hansen and Howard, Engineering Noise Control, 5th ed., equation (6.44).

    Examples
    --------
    By hand: 20 / (1 - 0.2).

    >>> print(f"{room_constant(20.0, 100.0):.1f} m^2")
    25.0 m^2
    """
    absorption = floats("absorption_m2", absorption_m2, at_least=0.0)
    surface = floats("surface_m2", surface_m2, above=0.0)
    mean = floats("absorption_m2 / surface_m2", absorption / surface, below=1.0)
    return absorption / (1.0 - mean)


def critical_distance(directivity_factor: ArrayLike, room_constant_m2: ArrayLike) -> FloatArray:
    """Distance on axis at which direct and reverberant sound are equally strong.

    rc = sqrt(Q R / (16 pi)).

    Parameters
    ----------
    directivity_factor : float or array
        Q re full space, above 0 [dimensionless].
    room_constant_m2 : float or array
        Room constant R, 0 or more [m^2].

    Returns
    -------
    float or array
        Distance, broadcast [m].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Bies, Hansen and Howard, Engineering Noise Control, 5th ed., chapter 6.

    Examples
    --------
    By hand: sqrt(25 / 50.265) = 0.7052.

    >>> print(f"{critical_distance(1.0, 25.0):.3f} m")
    0.705 m
    """
    factor = floats("directivity_factor", directivity_factor, above=0.0)
    constant = floats("room_constant_m2", room_constant_m2, at_least=0.0)
    distance: FloatArray = np.sqrt(factor * constant / (16.0 * np.pi))
    return distance


def reverberant_gain(directivity_factor: ArrayLike, room_constant_m2: ArrayLike) -> FloatArray:
    """Level of the classical reverberant field above the source's own level at 1 m on axis.

    G = 10 log10(16 pi / (Q R)).

    Parameters
    ----------
    directivity_factor : float or array
        Q re full space, above 0 [dimensionless].
    room_constant_m2 : float or array
        Room constant R, above 0 [m^2].

    Returns
    -------
    float or array
        Gain, the same everywhere in the room, broadcast [dB].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Bies, Hansen and Howard, Engineering Noise Control, 5th ed., equation (6.43), the term 4 / R.

    Examples
    --------
    By hand: 10 log10(50.265 / 25).

    >>> print(f"{reverberant_gain(1.0, 25.0):.2f} dB")
    3.03 dB
    """
    factor = floats("directivity_factor", directivity_factor, above=0.0)
    constant = floats("room_constant_m2", room_constant_m2, above=0.0)
    gain: FloatArray = 10.0 * np.log10(16.0 * np.pi / (factor * constant))
    return gain


def delayed_reverberant_gain(
    directivity_factor: ArrayLike,
    exponent: ArrayLike,
    distance_m: ArrayLike,
    volume_m3: ArrayLike,
    surface_m2: ArrayLike,
) -> FloatArray:
    """Reverberant level at a distance, above the source's own level at 1 m on axis.

    G = 10 log10(16 pi / (Q S x)) - 4.343 x r S / (4 V): no reverberant sound before the direct one. At one
    mean free path (4 V / S) it is near the classical field with its room constant.

    Parameters
    ----------
    directivity_factor : float or array
        Q re full space, above 0 [dimensionless].
    exponent : float or array
        Absorption exponent x of the room, above 0 [dimensionless].
    distance_m : float or array
        Distance r from the source, 0 or more [m].
    volume_m3 : float or array
        Volume V, above 0 [m^3].
    surface_m2 : float or array
        Surface S of the room, above 0 [m^2].

    Returns
    -------
    float or array
        Gain in the steady state, broadcast; the theory was found in halls, small rooms stretch it [dB].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Barron and Lee, Energy relations in concert auditoriums, JASA 84 (1988).

    Examples
    --------
    By hand, 8 x 5 x 3 m, x = 0.25, 3 m away: 10 log10(50.265 / 39.5) = 1.047, less
    4.343 x 0.25 x 3 x 158 / 480 = 1.072.

    >>> print(f"{delayed_reverberant_gain(1.0, 0.25, 3.0, 120.0, 158.0):.3f} dB")
    -0.025 dB
    """
    lost = floats("exponent", exponent, above=0.0)
    distance = floats("distance_m", distance_m, at_least=0.0)
    volume = floats("volume_m3", volume_m3, above=0.0)
    surface = floats("surface_m2", surface_m2, above=0.0)
    delay_db = DB_PER_NEPER * lost * distance * surface / (4.0 * volume)
    return reverberant_gain(directivity_factor, surface * lost) - delay_db


def build_up(transient_s: ArrayLike, t60_s: ArrayLike) -> FloatArray:
    """Share of the steady reverberant energy that has built up when a transient ends.

    b = 1 - exp(-6 ln(10) tau / T).

    Parameters
    ----------
    transient_s : float or array
        Length tau of the transient, 0 or more [s].
    t60_s : float or array
        Reverberation time T, above 0 [s].

    Returns
    -------
    float or array
        Share, 0 to 1, broadcast [dimensionless].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 5 (growth of the energy density, mirror of its decay).

    Examples
    --------
    By hand: 13.8155 x 0.02 / 0.5 = 0.5526, and 1 - exp(-0.5526) = 0.4246.

    >>> print(f"{build_up(0.020, 0.5):.3f}")
    0.425
    """
    transient = floats("transient_s", transient_s, at_least=0.0)
    t60 = floats("t60_s", t60_s, above=0.0)
    share: FloatArray = -np.expm1(-NEPERS_OF_60_DB * transient / t60)
    return share
