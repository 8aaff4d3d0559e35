"""Resistance of loudspeaker cable, solid copper; stranded wire has a few per cent more."""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = ["area_resistance", "awg_resistance", "loop_resistance"]

COPPER_RESISTIVITY = 1.7241e-8  # ohm m at 20 degrees Celsius, annealed copper, IEC 60028
COPPER_PER_KELVIN = 0.00393  # at 20 degrees Celsius
THICKEST_AWG, THINNEST_AWG = -3, 56  # 0000 to 56, the span of ASTM B258
COLDEST_C, HOTTEST_C = -100.0, 200.0  # where copper keeps to a straight line


def awg_resistance(gauge: ArrayLike, temperature_c: ArrayLike = 20.0) -> FloatArray:
    """Resistance of one conductor of an American wire gauge.

    d = 0.127 mm x 92^((36 - n) / 39).

    Parameters
    ----------
    gauge : float or array
        Gauge n; 0, -1, -2 and -3 stand for 0, 00, 000 and 0000; up to 56 [dimensionless].
    temperature_c : float or array
        Temperature of the copper, -100 to 200 [degC].

    Returns
    -------
    float or array
        Resistance per metre of one conductor, broadcast; a cable has two [ohm/m].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    ASTM B258 (diameters); IEC 60028 (copper).

    Examples
    --------
    Wire tables print 2.525 ohm per 1000 ft (304.8 m) for gauge 14.

    >>> print(f"{304.8 * awg_resistance(14):.3f} ohm")
    2.525 ohm
    """
    number = _within("gauge", gauge, THICKEST_AWG, THINNEST_AWG)
    diameter_mm = 0.127 * 92.0 ** ((36.0 - number) / 39.0)
    return area_resistance(0.25 * np.pi * diameter_mm**2, temperature_c)


def area_resistance(area_mm2: ArrayLike, temperature_c: ArrayLike = 20.0) -> FloatArray:
    """Resistance of one copper conductor of a given cross-section.

    R = rho (1 + 0.00393 (T - 20)) / A.

    Parameters
    ----------
    area_mm2 : float or array
        Cross-section A of the copper, above 0 [mm^2].
    temperature_c : float or array
        Temperature T of the copper, -100 to 200 [degC].

    Returns
    -------
    float or array
        Resistance per metre of one conductor, broadcast; a cable has two [ohm/m].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    IEC 60028 (annealed copper, 0.017241 ohm mm^2/m and 0.00393 /K at 20 degrees).

    Examples
    --------
    By hand: 0.017241 / 2.5.

    >>> print(f"{1000 * area_resistance(2.5):.3f} mohm")
    6.896 mohm
    """
    temperature = _within("temperature_c", temperature_c, COLDEST_C, HOTTEST_C)
    resistivity = COPPER_RESISTIVITY * (1.0 + COPPER_PER_KELVIN * (temperature - 20.0))
    return resistivity / (1e-6 * positive("area_mm2", area_mm2))


def loop_resistance(ohm_per_m: ArrayLike, length_m: ArrayLike) -> FloatArray:
    """Resistance of a cable's two conductors, there and back.

    R = 2 l r.

    Parameters
    ----------
    ohm_per_m : float or array
        Resistance r per metre of one conductor, 0 or more [ohm/m].
    length_m : float or array
        Length l of the cable, 0 or more [m].

    Returns
    -------
    float or array
        Loop resistance, broadcast [ohm].

    Raises
    ------
    ValueError
        If an argument is negative.

    References
    ----------
    Ohm's law.

    Examples
    --------
    By hand: 2 x 5 m x 0.008285 ohm/m for gauge 14.

    >>> print(f"{loop_resistance(0.008285, 5.0):.4f} ohm")
    0.0829 ohm
    """
    per_metre = positive("ohm_per_m", ohm_per_m, or_zero=True)
    return 2.0 * positive("length_m", length_m, or_zero=True) * per_metre


def _within(name: str, value: ArrayLike, low: float, high: float) -> FloatArray:
    array = np.asarray(value, dtype=float)
    wrong = ~((array >= low) & (array <= high))
    if wrong.any():
        raise ValueError(f"{name} must be {low:g} to {high:g}, got {array[wrong][0]:g}")
    return array
