"""Ratings of a single-ended triode amplifier, worked out from its valve and transformer.

The plate supplies of such amplifiers are lethal.
"""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive
from planner.electrics.single_ended import sine_power
from planner.electrics.transformer import output_impedance, turns_ratio
from planner.electrics.triode import PlateLaw, below_zero, plate_resistance

__all__ = ["triode_ratings"]

DRIVES = np.linspace(0.0, 4.0, 201)  # peak grid volts over bias; 1 is the limit of class A1


def triode_ratings(
    law: PlateLaw,
    plate_v: float,
    grid_v: float,
    primary_ohm: float,
    tap_ohm: float,
    primary_winding_ohm: float = 0.0,
    secondary_winding_ohm: float = 0.0,
    distortion_pct: ArrayLike = (1.0, 3.0, 5.0, 10.0),
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Ratings of a tap at several distortions.

    Parameters
    ----------
    law : PlateLaw
        The triode, scalars, currents in [A].
    plate_v : float
        Plate to cathode at rest, above 0 [V].
    grid_v : float
        Fixed bias, below 0 [V].
    primary_ohm : float
        Primary load with the tap rightly loaded, above 0 [ohm].
    tap_ohm : float
        Load that the tap is meant for, above 0 [ohm].
    primary_winding_ohm : float
        Resistance of the primary, 0 or more [ohm].
    secondary_winding_ohm : float
        Resistance of the secondary up to the tap, 0 or more [ohm].
    distortion_pct : array
        Total harmonic distortions (n,), above 0 [percent].

    Returns
    -------
    ohm : array
        Load of the rating, the tap's (n,) [ohm].
    watts : array
        Most sine watts with this distortion not exceeded at less drive (n,) [W].
    distortion_pct : array
        Distortion of the rating (n,); lower than asked for where four times the drive of class A1
        does not reach it [percent].
    output_ohm : array
        Output impedance at the tap (n,) [ohm].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    Notes
    -----
    Beyond class A1 (watts above those of `sine_power`) the drive is flattened at zero grid volts.

    References
    ----------
    As `sine_power`; the flattened drive is common practice, no published source.

    Examples
    --------
    By hand: 800 ohm / 312.5 = 2.56 ohm.

    >>> from planner.electrics.triode import operating_law
    >>> law = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
    >>> ohm, watts, distortion, output = triode_ratings(law, 250.0, -45.0, 2500.0, 8.0)
    >>> print(f"{output[0]:.2f} ohm")
    2.56 ohm
    """
    ratio = turns_ratio(primary_ohm, tap_ohm)
    secondary = positive("secondary_winding_ohm", secondary_winding_ohm, or_zero=True)
    source = output_impedance(
        plate_resistance(law, plate_v, grid_v), ratio, primary_winding_ohm, secondary_winding_ohm
    )
    load = ratio**2 * (tap_ohm + secondary)
    drive = -below_zero("grid_v", grid_v) * DRIVES
    _, curve = sine_power(law, plate_v, grid_v, load, drive[1:], primary_winding_ohm)
    worst = np.maximum.accumulate(np.append(0.0, curve))
    asked = np.minimum(positive("distortion_pct", distortion_pct), worst[-1])
    chosen = np.interp(asked, worst, drive)
    at_plate, _ = sine_power(law, plate_v, grid_v, load, chosen, primary_winding_ohm)
    watts = at_plate * tap_ohm / (tap_ohm + secondary)
    return np.full_like(watts, tap_ohm), watts, asked, np.full_like(watts, float(source))
