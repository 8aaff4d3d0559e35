"""Output transformer: what the plate sees of the loudspeaker, and the loudspeaker of the plate."""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = ["output_impedance", "reflected_load", "turns_ratio", "winding_resistances"]


def turns_ratio(primary_ohm: ArrayLike, tap_ohm: ArrayLike) -> FloatArray:
    """Turns of the primary for each turn of a tap.

    n = sqrt(Rp / Rt).

    Parameters
    ----------
    primary_ohm : float or array
        Primary load Rp with the tap rightly loaded, above 0 [ohm].
    tap_ohm : float or array
        Load Rt that the tap is meant for, above 0 [ohm].

    Returns
    -------
    float or array
        Ratio, broadcast [dimensionless].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Ideal transformer: impedances are as the square of the turns. Makers who count the windings into
    the primary load have a slightly lower ratio.

    Examples
    --------
    By hand: sqrt(2500 / 8) = sqrt(312.5).

    >>> print(f"{turns_ratio(2500.0, 8.0):.3f}")
    17.678
    """
    ratio: FloatArray = np.sqrt(positive("primary_ohm", primary_ohm) / positive("tap_ohm", tap_ohm))
    return ratio


def reflected_load(
    load_ohm: ArrayLike,
    ratio: ArrayLike,
    primary_winding_ohm: ArrayLike = 0.0,
    secondary_winding_ohm: ArrayLike = 0.0,
) -> FloatArray:
    """Load that the plate sees through the transformer.

    R = r1 + n^2 (Rl + r2).

    Parameters
    ----------
    load_ohm : float or array
        Load Rl at the tap, above 0 [ohm].
    ratio : float or array
        Turns ratio n, primary to tap, above 0 [dimensionless].
    primary_winding_ohm : float or array
        Resistance r1 of the primary, 0 or more [ohm].
    secondary_winding_ohm : float or array
        Resistance r2 of the secondary up to the tap, 0 or more [ohm].

    Returns
    -------
    float or array
        Load at the plate, mid band, broadcast [ohm].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Ideal transformer with resistances in series; neither inductance nor core loss.

    Examples
    --------
    By hand: 100 + 312.5 x (8 + 0.4).

    >>> print(f"{reflected_load(8.0, 312.5**0.5, 100.0, 0.4):.0f} ohm")
    2725 ohm
    """
    secondary = positive("secondary_winding_ohm", secondary_winding_ohm, or_zero=True)
    primary = positive("primary_winding_ohm", primary_winding_ohm, or_zero=True)
    return primary + positive("ratio", ratio) ** 2 * (positive("load_ohm", load_ohm) + secondary)


def output_impedance(
    plate_resistance_ohm: ArrayLike,
    ratio: ArrayLike,
    primary_winding_ohm: ArrayLike = 0.0,
    secondary_winding_ohm: ArrayLike = 0.0,
) -> FloatArray:
    """Output impedance at a tap, without feedback.

    Zout = (rp + r1) / n^2 + r2.

    Parameters
    ----------
    plate_resistance_ohm : float or array
        Plate resistance rp; twice one valve's for a push-pull pair, 0 or more [ohm].
    ratio : float or array
        Turns ratio n, primary to tap, above 0 [dimensionless].
    primary_winding_ohm : float or array
        Resistance r1 of the primary, 0 or more [ohm].
    secondary_winding_ohm : float or array
        Resistance r2 of the secondary up to the tap, 0 or more [ohm].

    Returns
    -------
    float or array
        Output impedance, mid band, broadcast [ohm].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Ideal transformer with resistances in series; neither inductance nor core loss.

    Examples
    --------
    By hand: (800 + 100) / 312.5 + 0.4.

    >>> print(f"{output_impedance(800.0, 312.5**0.5, 100.0, 0.4):.2f} ohm")
    3.28 ohm
    """
    plate = positive("plate_resistance_ohm", plate_resistance_ohm, or_zero=True)
    primary = positive("primary_winding_ohm", primary_winding_ohm, or_zero=True)
    secondary = positive("secondary_winding_ohm", secondary_winding_ohm, or_zero=True)
    return (plate + primary) / positive("ratio", ratio) ** 2 + secondary


def winding_resistances(
    insertion_loss_db: ArrayLike, primary_ohm: ArrayLike, tap_ohm: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Winding resistances that make up an insertion loss.

    r2 = Rt (10^(L/10) - 1) / 2 and r1 = r2 Rp / Rt: the windings share the loss.

    Parameters
    ----------
    insertion_loss_db : float or array
        Mid-band loss L with the tap rightly loaded, 0 or more [dB].
    primary_ohm : float or array
        Primary load Rp with the tap rightly loaded, above 0 [ohm].
    tap_ohm : float or array
        Load Rt that the tap is meant for, above 0 [ohm].

    Returns
    -------
    primary_winding_ohm : float or array
        Resistance r1 of the primary, broadcast [ohm].
    secondary_winding_ohm : float or array
        Resistance r2 of the secondary up to the tap, broadcast [ohm].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Definition of loss as power into the transformer over power out of it; equal shares are common
    practice, no published source; core loss is counted as copper.

    Examples
    --------
    By hand: 0.5 dB is 1.12202 times the power, 8 x 0.12202 / 2 = 0.4881, times 312.5.

    >>> print(*(f"{ohm:.3f} ohm" for ohm in winding_resistances(0.5, 2500.0, 8.0)))
    152.523 ohm 0.488 ohm
    """
    loss = 10.0 ** (positive("insertion_loss_db", insertion_loss_db, or_zero=True) / 10.0) - 1.0
    primary, tap = positive("primary_ohm", primary_ohm), positive("tap_ohm", tap_ohm)
    return 0.5 * loss * primary + 0.0 * tap, 0.5 * loss * tap + 0.0 * primary
