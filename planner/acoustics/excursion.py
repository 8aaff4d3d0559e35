"""How far a diaphragm must travel to make a level, alone or with the help of a vent."""

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = ["diaphragm_excursion", "vented_share"]

FULL_SPACE_SR = 4.0 * np.pi
BOX_LOSS_Q = 7.0
"""Quality factor of an ordinary vented box with its leaks (Small, JAES 21, 1973)."""


def diaphragm_excursion(
    pressure_pa: ArrayLike,
    frequency_hz: ArrayLike,
    area_m2: ArrayLike,
    density: ArrayLike = 1.204,
    solid_angle_sr: ArrayLike = FULL_SPACE_SR,
) -> FloatArray:
    """Excursion of a small diaphragm that makes a pressure at 1 m.

    x = Omega p / (rho omega^2 S), a simple source into the solid angle Omega; peak or rms as the pressure is.

    Parameters
    ----------
    pressure_pa : float or array
        Pressure at 1 m in free field, 0 or more [Pa].
    frequency_hz : float or array
        Frequency, above 0, low enough for the diaphragm to be small against the wavelength [Hz].
    area_m2 : float or array
        Area of the diaphragm, or of several together, above 0 [m^2].
    density : float or array
        Density of air, above 0 [kg/m^3].
    solid_angle_sr : float or array
        4 pi in free field, 2 pi flush in a wall [sr].

    Returns
    -------
    float or array
        Excursion, one way [m].

    Raises
    ------
    ValueError
        If a value is off these limits.

    References
    ----------
    Beranek and Mellow, Acoustics, 2nd ed., chapter 4 (simple source); Small, JAES 20, 1972.

    Examples
    --------
    By hand, 1 Pa (94 dB) at 40 Hz from 0.05 m^2: 12.566 / (1.204 x (251.33)^2 x 0.05) = 3.305 mm.

    >>> print(f"{diaphragm_excursion(1.0, 40.0, 0.05) * 1000:.3f} mm")
    3.305 mm
    """
    pressure = floats("pressure_pa", pressure_pa, at_least=0.0)
    omega = 2.0 * np.pi * floats("frequency_hz", frequency_hz, above=0.0)
    area, rho = floats("area_m2", area_m2, above=0.0), floats("density", density, above=0.0)
    excursion: FloatArray = (
        floats("solid_angle_sr", solid_angle_sr, above=0.0) * pressure / (rho * omega**2 * area)
    )
    return excursion


def vented_share(frequency_hz: ArrayLike, tuning_hz: ArrayLike) -> FloatArray:
    """What the diaphragm of a vented box moves, against a sealed one of the same output.

    sqrt((1 - h^2)^2 + (h/Q)^2), h = tuning/f, Q = 7: the vent carries the output at the tuning, where only
    the losses of the box are left; below it diaphragm and vent work against each other.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, above 0 [Hz].
    tuning_hz : float or array
        Resonance of box and vent, above 0 [Hz].

    Returns
    -------
    float or array
        Excursion over that of a sealed box, 1 far above the tuning [dimensionless].

    Raises
    ------
    ValueError
        If a frequency is 0 or negative.

    References
    ----------
    Small, Vented-Box Loudspeaker Systems, JAES 21, 1973: volume velocities of diaphragm and box, leakage
    losses of Q 7.

    Examples
    --------
    By hand at twice the tuning: 1 - 1/4 = 0.75, and 0.5/7 = 0.071 beside it: 0.753. At the tuning 1/7.

    >>> print(f"{vented_share(60.0, 30.0):.3f} {vented_share(30.0, 30.0):.3f}")
    0.753 0.143
    """
    ratio = floats("tuning_hz", tuning_hz, above=0.0) / floats("frequency_hz", frequency_hz, above=0.0)
    share: FloatArray = np.hypot(1.0 - ratio**2, ratio / BOX_LOSS_Q)
    return share
