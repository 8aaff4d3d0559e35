"""Plate current of a triode, from a published operating point.

The plate supplies of such valves, 180 to 450 V and more, are lethal, and stay so after the mains is off.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = ["KNEE", "PlateLaw", "operating_law", "plate_current", "plate_resistance"]

# Chosen for the second harmonic that valve manuals state; Koren's own sets have 6 to 16 (from memory).
KNEE = 10.0
SMALLEST_KNEE = 3.0
LEAST_DEPTH = 1.2  # nearer to cut-off, mu at rest says little about mu elsewhere
STEEPEST = 2.5  # the exponents of real triodes lie between 1.2 and this (Reich, from memory)
ROUNDS = 60  # Newton's method took ten at most in 5000 random stages
CLOSE = 1e-12


class PlateLaw(NamedTuple):
    """Koren's law I = G (V ln(1 + exp(kP (1/mu + Vg/V))) / kP)^x: scalars or arrays that broadcast."""

    perveance: FloatArray
    """G, in A/V^x."""
    exponent: FloatArray
    """x; 1.5 is the law of Langmuir and Child."""
    amplification: FloatArray
    """mu far above cut-off, a little more than at the operating point."""
    sharpness: FloatArray
    """kP: how suddenly the current is cut off."""


def operating_law(
    plate_v: ArrayLike,
    grid_v: ArrayLike,
    plate_a: ArrayLike,
    mu: ArrayLike,
    plate_resistance_ohm: ArrayLike,
    knee: ArrayLike = KNEE,
) -> PlateLaw:
    """Plate-current law of a triode that agrees with its data at one operating point.

    x = (V + mu Vg) / (rp I), kP = knee mu; G and the mu far above cut-off follow, so that the law gives
    the current, amplification factor and plate resistance of the data at that point.

    Parameters
    ----------
    plate_v : float or array
        Plate to cathode V at rest, above 0 [V].
    grid_v : float or array
        Bias Vg, below 0, with V + mu Vg at least 1.2 V / knee [V].
    plate_a : float or array
        Plate current I at rest, above 0 [A].
    mu : float or array
        Amplification factor there, above 0 [dimensionless].
    plate_resistance_ohm : float or array
        Plate resistance rp there, above 0, with x from 1 to 2.5 [ohm].
    knee : float or array
        Koren's kP over mu, at least 3; large is an abrupt cut-off, and with x = 1.5 then the
        three-halves law; 10 is our choice, no published source [dimensionless].

    Returns
    -------
    PlateLaw
        Law that gives currents in [A].

    Raises
    ------
    ValueError
        If an argument is outside its limits, or the five do not fit together.

    Notes
    -----
    Koren's kVB, a knee at some 17 V, is left out: plates of power triodes stay well above. Valid for grids
    that draw no current.

    References
    ----------
    Koren, Improved vacuum-tube models for SPICE simulations, Glass Audio 8 (1996); the exponent by
    Euler's theorem, the law being homogeneous in V and Vg.

    Examples
    --------
    By hand: (250 - 4.2 x 45) / (800 x 0.06) = 61 / 48.

    >>> law = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
    >>> print(f"{law.exponent:.4f}")
    1.2708
    """
    plate, grid = positive("plate_v", plate_v), below_zero("grid_v", grid_v)
    current, factor = positive("plate_a", plate_a), positive("mu", mu)
    drop = positive("plate_resistance_ohm", plate_resistance_ohm) * current
    excess = plate + factor * grid
    sudden = positive("knee", knee)
    _demand(sudden >= SMALLEST_KNEE, "knee must be at least 3, got", sudden)
    depth, sharpness = sudden * excess / plate, sudden * factor
    _demand(depth >= LEAST_DEPTH, "plate_v + mu grid_v must be at least 1.2 plate_v / knee, got", excess)
    exponent = excess / drop
    fits = (exponent > 1.0 - CLOSE) & (exponent < STEEPEST + CLOSE)
    _demand(fits, "(plate_v + mu grid_v) / (plate_resistance_ohm plate_a) must be 1 to 2.5, got", exponent)
    above = _above_knee(depth)
    driving = plate * np.logaddexp(0.0, above) / sharpness
    amplification = 1.0 / (above / sharpness - grid / plate)
    return PlateLaw(current / driving**exponent, exponent, amplification, sharpness)


def plate_current(law: PlateLaw, plate_v: ArrayLike, grid_v: ArrayLike) -> FloatArray:
    """Plate current of a triode.

    I = G E^x with E = V ln(1 + exp(kP (1/mu + Vg/V))) / kP.

    Parameters
    ----------
    law : PlateLaw
        The triode, currents in [A].
    plate_v : float or array
        Plate to cathode V, above 0 [V].
    grid_v : float or array
        Grid to cathode Vg, at most 0: no grid current [V].

    Returns
    -------
    float or array
        Plate current, broadcast [A].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Koren, Improved vacuum-tube models for SPICE simulations, Glass Audio 8 (1996), with kVB = 0.

    Examples
    --------
    The operating point itself; then, by hand, V and Vg doubled: 60 mA x 2^(61/48).

    >>> law = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
    >>> for plate, grid in ((250.0, -45.0), (500.0, -90.0)):
    ...     print(f"{1000 * plate_current(law, plate, grid):.1f} mA")
    60.0 mA
    144.8 mA
    """
    return current_and_slope(law, positive("plate_v", plate_v), below_zero("grid_v", grid_v, or_zero=True))[0]


def plate_resistance(law: PlateLaw, plate_v: ArrayLike, grid_v: ArrayLike) -> FloatArray:
    """Plate resistance of a triode for small signals.

    rp = 1 / (dI / dV).

    Parameters
    ----------
    law : PlateLaw
        The triode, currents in [A].
    plate_v : float or array
        Plate to cathode V, above 0 [V].
    grid_v : float or array
        Grid to cathode Vg, at most 0, and the valve not cut off [V].

    Returns
    -------
    float or array
        Plate resistance, broadcast; infinite where no current flows [ohm].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Derivative of Koren's law, Glass Audio 8 (1996), with kVB = 0.

    Examples
    --------
    The operating point itself gives the data's own value back.

    >>> law = operating_law(250.0, -45.0, 0.060, 4.2, 800.0)
    >>> print(f"{plate_resistance(law, 250.0, -45.0):.0f} ohm")
    800 ohm
    """
    plate, grid = positive("plate_v", plate_v), below_zero("grid_v", grid_v, or_zero=True)
    with np.errstate(divide="ignore"):
        resistance: FloatArray = 1.0 / current_and_slope(law, plate, grid)[1]
    return resistance


def current_and_slope(
    law: PlateLaw, plate_v: FloatArray, grid_v: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Plate current in A and its derivative with respect to plate voltage in A/V, unchecked."""
    above = law.sharpness * (1.0 / law.amplification + grid_v / plate_v)
    softplus = np.logaddexp(0.0, above)
    driving = plate_v * softplus / law.sharpness
    share = softplus / law.sharpness - np.exp(above - softplus) * grid_v / plate_v
    steep = law.perveance * driving ** (law.exponent - 1.0)
    return steep * driving, law.exponent * steep * share


def below_zero(name: str, value: ArrayLike, *, or_zero: bool = False) -> FloatArray:
    """Give *value* as floats; raise ValueError naming it if any is not finite and below (or at) zero."""
    array = np.asarray(value, dtype=float)
    right = (array > -np.inf) & (array <= 0.0 if or_zero else array < 0.0)
    _demand(right, f"{name} must be {'at most' if or_zero else 'below'} 0, got", array)
    return array


def _demand(right: ArrayLike, rule: str, value: FloatArray) -> None:
    holds, shown = np.broadcast_arrays(right, value)
    if not holds.all():
        raise ValueError(f"{rule} {shown[~holds][0]:g}")


def _above_knee(depth: FloatArray) -> FloatArray:
    """Exponent z for which (1 + exp(-z)) ln(1 + exp(z)) is *depth*, above 1: convex, so Newton descends."""
    above = np.asarray(depth, dtype=float)
    for _ in range(ROUNDS):
        tail = np.exp(-above) * np.logaddexp(0.0, above)
        step = (tail + np.logaddexp(0.0, above) - depth) / (1.0 - tail)
        above = above - step
        if np.all(np.abs(step) <= CLOSE * np.maximum(1.0, np.abs(above))):
            break
    return above
