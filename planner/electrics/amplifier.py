"""What a rating of so many watts into so many ohm can swing."""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = ["clip_amps", "clip_volts"]


def clip_volts(watts: ArrayLike, ohm: ArrayLike) -> FloatArray:
    """Peak voltage that a rating in continuous sine watts reaches.

    V = sqrt(2 P R).

    Parameters
    ----------
    watts : float or array
        Rating P in sine watts, 0 or more [W].
    ohm : float or array
        Load R of the rating, above 0 [ohm].

    Returns
    -------
    float or array
        Peak, not RMS, voltage at the terminals, broadcast [V].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Ohm's law; the peak of a sine is sqrt(2) times its RMS value.

    Examples
    --------
    By hand: 3.5 W into 8 ohm is 5.2915 V RMS, times 1.41421.

    >>> print(f"{clip_volts(3.5, 8.0):.4f} V")
    7.4833 V
    """
    power = positive("watts", watts, or_zero=True)
    volts: FloatArray = np.sqrt(2.0 * power * positive("ohm", ohm))
    return volts


def clip_amps(watts: ArrayLike, ohm: ArrayLike) -> FloatArray:
    """Peak current that a rating in continuous sine watts reaches.

    I = sqrt(2 P / R).

    Parameters
    ----------
    watts : float or array
        Rating P in sine watts, 0 or more [W].
    ohm : float or array
        Load R of the rating, above 0 [ohm].

    Returns
    -------
    float or array
        Peak, not RMS, current, broadcast [A].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Ohm's law; the peak of a sine is sqrt(2) times its RMS value.

    Examples
    --------
    By hand: 3.5 W into 8 ohm is 0.6614 A RMS, times 1.41421.

    >>> print(f"{clip_amps(3.5, 8.0):.4f} A")
    0.9354 A
    """
    power = positive("watts", watts, or_zero=True)
    amps: FloatArray = np.sqrt(2.0 * power / positive("ohm", ohm))
    return amps
