"""Directivity: pistons, horns, dipoles, and the step that a finite baffle makes."""

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.acoustics.bessel import jinc, jinc_deficit

__all__ = [
    "baffle_step",
    "coverage_factor",
    "dipole_off_axis",
    "horn_coverage",
    "horn_off_axis",
    "pattern_control",
    "piston_factor",
    "piston_off_axis",
]

PISTON_FLOOR_DB = -60.0
HORN_FLOOR_DB = -20.0
DIPOLE_FLOOR_DB = -20.0
HALF_COVERAGE_LOSS_DB = 6.02
PATTERN_CONSTANT = 25400.0  # m degree Hz, the 10^6 inch degree Hz of Keele
BAFFLE_STEP_CONSTANT = 115.0  # m Hz


def piston_factor(ka: ArrayLike) -> FloatArray:
    """Directivity factor of a stiff round piston in an infinite baffle.

    Q = (ka)^2 / (1 - J1(2 ka) / ka), 2 for small ka and (ka)^2 for large.

    Parameters
    ----------
    ka : float or array
        Wavenumber times radius, circumference over wavelength, 0 or more [dimensionless].

    Returns
    -------
    float or array
        Q re full space, in the shape of `ka` [dimensionless].

    Raises
    ------
    ValueError
        If a value is negative.

    References
    ----------
    Beranek and Mellow, Acoustics, 2nd ed., chapter 13.

    Examples
    --------
    By hand: J1(2) = 0.57672, so 1 / (1 - 0.57672) = 2.3625.

    >>> print(f"{piston_factor(1.0):.4f}")
    2.3625
    """
    return 1.0 / jinc_deficit(2.0 * floats("ka", ka, at_least=0.0))


def piston_off_axis(ka: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """Level of a stiff round piston in an infinite baffle off its axis, re on axis.

    20 log10 |2 J1(x) / x|, x = ka sin(angle); nulls are held at -60 dB, behind the baffle at the loss of 90
    degrees.

    Parameters
    ----------
    ka : float or array
        Wavenumber times radius, 0 or more [dimensionless].
    angle_deg : float or array
        Angle to the axis, either sign; taken as within 180 of it [degree].

    Returns
    -------
    float or array
        Relative level, 0 to -60, broadcast [dB].

    Raises
    ------
    ValueError
        If `ka` is negative.

    References
    ----------
    Beranek and Mellow, Acoustics, 2nd ed., equation (13.7). Floor and rear: common practice, no published
    source.

    Examples
    --------
    By hand: x = 1 at 90 degrees, 20 log10(0.88010).

    >>> print(f"{piston_off_axis(1.0, 90.0):.2f} dB")
    -1.11 dB
    """
    angle = np.minimum(np.abs(_wrapped("angle_deg", angle_deg)), 90.0)
    amplitude = jinc(floats("ka", ka, at_least=0.0) * np.sin(np.radians(angle)))
    return _floored_db(np.abs(amplitude), PISTON_FLOOR_DB)


def coverage_factor(horizontal_deg: ArrayLike, vertical_deg: ArrayLike) -> FloatArray:
    """Directivity factor of a horn that fills a rectangular angle evenly, by Molloy's equation.

    Q = 180 / arcsin(sin(H / 2) sin(V / 2)).

    Parameters
    ----------
    horizontal_deg : float or array
        Coverage angle H, above 0, taken as 180 at most [degree].
    vertical_deg : float or array
        Coverage angle V, above 0, taken as 180 at most [degree].

    Returns
    -------
    float or array
        Q re full space, at least 2, broadcast; too high where the pattern is not sharp [dimensionless].

    Raises
    ------
    ValueError
        If an angle is 0 or negative.

    References
    ----------
    Molloy, Calculation of the Directivity Index for Various Types of Radiators, JASA 20 (1948).

    Examples
    --------
    A handbook prints 12.8 for 90 by 40 degrees: 180 / arcsin(0.70711 x 0.34202) = 180 / 13.996.

    >>> print(f"{coverage_factor(90.0, 40.0):.2f}")
    12.86
    """
    horizontal = np.minimum(floats("horizontal_deg", horizontal_deg, above=0.0), 180.0)
    vertical = np.minimum(floats("vertical_deg", vertical_deg, above=0.0), 180.0)
    sines = np.sin(np.radians(0.5 * horizontal)) * np.sin(np.radians(0.5 * vertical))
    factor: FloatArray = np.pi / np.arcsin(sines)
    return factor


def pattern_control(mouth_m: ArrayLike, coverage_deg: ArrayLike) -> FloatArray:
    """Frequency down to which a horn holds its coverage angle in one plane.

    f = 25 400 / (mouth x angle) Hz.

    Parameters
    ----------
    mouth_m : float or array
        Mouth size in that plane, above 0 [m].
    coverage_deg : float or array
        Coverage angle in that plane, above 0 [degree].

    Returns
    -------
    float or array
        Frequency, broadcast; an empirical rule [Hz].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Keele, What's So Sacred About Exponential Horns?, 51st AES Convention (1975).

    Examples
    --------
    By hand: 25400 / (0.5 x 90).

    >>> print(f"{pattern_control(0.5, 90.0):.0f} Hz")
    564 Hz
    """
    mouth = floats("mouth_m", mouth_m, above=0.0)
    return PATTERN_CONSTANT / (mouth * floats("coverage_deg", coverage_deg, above=0.0))


def horn_coverage(frequency_hz: ArrayLike, coverage_deg: ArrayLike, control_hz: ArrayLike) -> FloatArray:
    """Coverage angle of a horn in one plane, widening as 1/f below its pattern control.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, above 0 [Hz].
    coverage_deg : float or array
        Angle in which the horn is held, above 0 [degree].
    control_hz : float or array
        Pattern-control frequency of the plane, above 0 [Hz].

    Returns
    -------
    float or array
        Angle between the -6 dB directions, broadcast, without upper limit [degree].

    Raises
    ------
    ValueError
        If an argument is 0 or negative.

    References
    ----------
    Keele, What's So Sacred About Exponential Horns?, 51st AES Convention (1975).

    Examples
    --------
    By hand: an octave below control, twice the angle.

    >>> print(f"{horn_coverage(400.0, 60.0, 800.0):.0f} degree")
    120 degree
    """
    frequency = floats("frequency_hz", frequency_hz, above=0.0)
    control = floats("control_hz", control_hz, above=0.0)
    return floats("coverage_deg", coverage_deg, above=0.0) * np.maximum(control / frequency, 1.0)


def horn_off_axis(
    azimuth_deg: ArrayLike, elevation_deg: ArrayLike, horizontal_deg: ArrayLike, vertical_deg: ArrayLike
) -> FloatArray:
    """Level of a horn off its axis, re on axis: -6 dB at half the coverage angle.

    -6.02 ((2 azimuth / H)^2 + (2 elevation / V)^2) dB, never below -20 dB.

    Parameters
    ----------
    azimuth_deg : float or array
        Horizontal angle from the aim, either sign; taken as within 180 of it [degree].
    elevation_deg : float or array
        Vertical angle from the aim, either sign; taken as within 180 of it [degree].
    horizontal_deg : float or array
        Horizontal coverage H at this frequency, above 0 [degree].
    vertical_deg : float or array
        Vertical coverage V at this frequency, above 0 [degree].

    Returns
    -------
    float or array
        Relative level, 0 to -20, broadcast [dB].

    Raises
    ------
    ValueError
        If a coverage angle is 0 or negative.

    References
    ----------
    Common practice, no published source.

    Examples
    --------
    By hand: 15 degrees of a 60 degree horn is half its half angle, a quarter of 6.02 dB.

    >>> print(f"{horn_off_axis(15.0, 0.0, 60.0, 40.0):.3f} dB")
    -1.505 dB
    """
    across = 2.0 * _wrapped("azimuth_deg", azimuth_deg) / floats("horizontal_deg", horizontal_deg, above=0.0)
    upward = 2.0 * _wrapped("elevation_deg", elevation_deg) / floats("vertical_deg", vertical_deg, above=0.0)
    level: FloatArray = np.maximum(-HALF_COVERAGE_LOSS_DB * (across**2 + upward**2), HORN_FLOOR_DB)
    return level


def dipole_off_axis(angle_deg: ArrayLike) -> FloatArray:
    """Level of a dipole (gradient source) off its axis, re on axis.

    20 log10 |cos(angle)|, never below -20 dB.

    Parameters
    ----------
    angle_deg : float or array
        Angle to the axis, either sign [degree].

    Returns
    -------
    float or array
        Relative level, 0 to -20, the same before and behind, in the shape of `angle_deg` [dB].

    Raises
    ------
    ValueError
        If an angle is not finite.

    References
    ----------
    Kuttruff, Room Acoustics, 6th ed., chapter 1. Floor: common practice, no published source.

    Examples
    --------
    By hand: cos(60) = 0.5.

    >>> print(f"{dipole_off_axis(60.0):.2f} dB")
    -6.02 dB
    """
    return _floored_db(np.abs(np.cos(np.radians(floats("angle_deg", angle_deg)))), DIPOLE_FLOOR_DB)


def baffle_step(frequency_hz: ArrayLike, width_m: ArrayLike) -> FloatArray:
    """Free-field level of a loudspeaker in a finite baffle, re the same one in a half space.

    gain^2 = (1 + 4 x^2) / (1 + x^2) / 4, x^2 = (f / f3)^2 / 2, f3 = 115 / width: -6.02 dB low, -3.01 at f3, 0
    high.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, 0 or more [Hz].
    width_m : float or array
        Width of the baffle, above 0 [m].

    Returns
    -------
    float or array
        Step, -6.02 to 0, broadcast; without the ripple of real edges [dB].

    Raises
    ------
    ValueError
        If a frequency is negative, or a width 0 or negative.

    References
    ----------
    Olson, Direct Radiator Loudspeaker Enclosures (1950; JAES 17, 1969), smoothed to a first-order shelf.

    Examples
    --------
    By hand: f3 = 115 / 0.25 = 460 Hz, where x^2 = 0.5 and gain^2 = 3 / 1.5 / 4 = 0.5.

    >>> print(f"{baffle_step(460.0, 0.25):.2f} dB")
    -3.01 dB
    """
    frequency = floats("frequency_hz", frequency_hz, at_least=0.0)
    ratio = frequency * floats("width_m", width_m, above=0.0) / BAFFLE_STEP_CONSTANT
    square = 0.5 * ratio**2
    step: FloatArray = 10.0 * np.log10((1.0 + 4.0 * square) / (1.0 + square) / 4.0)
    return step


def _wrapped(name: str, angle_deg: ArrayLike) -> FloatArray:
    """The same direction within 180 degrees of straight ahead."""
    return (floats(name, angle_deg) + 180.0) % 360.0 - 180.0


def _floored_db(amplitude: FloatArray, floor_db: float) -> FloatArray:
    level: FloatArray = 20.0 * np.log10(np.maximum(amplitude, 10.0 ** (floor_db / 20.0)))
    return level
