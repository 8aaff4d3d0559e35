"""The Bessel function J1 that pistons need, in numpy alone: a start must not wait for scipy."""

from math import factorial

import numpy as np
from numpy.polynomial.polynomial import polyval
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = ["bessel_j1", "jinc", "jinc_deficit"]

# Both series lose least here: alternating terms of the power series grow to 4000 (1e-12 of error), and
# the asymptotic one stops improving at exp(-2 x), 4e-11.
_ASYMPTOTIC_FROM = 12.0
_POWER_TERMS = 32  # (12 / 2)^64 / (32! 33!) = 3e-22
_HANKEL_TERMS = 20


def _power_terms(first: int) -> FloatArray:
    """Factors of q^k, q = (x / 2)^2, in the sum of (-q)^k / ((k + first)! (k + first + 1)!)."""
    orders = range(first, first + _POWER_TERMS)
    return np.array([(-1.0) ** (m - first) / (factorial(m) * factorial(m + 1)) for m in orders])


def _hankel_terms() -> FloatArray:
    """Factors of x^-k in Hankel's expansion of order one."""
    orders = np.arange(1, _HANKEL_TERMS)
    return np.concatenate([[1.0], np.cumprod((4.0 - (2.0 * orders - 1.0) ** 2) / (8.0 * orders))])


_JINC_TERMS, _DEFICIT_TERMS = _power_terms(first=0), _power_terms(first=1)
_SIGNS = (-1.0) ** np.arange(_HANKEL_TERMS // 2)
_COSINE_TERMS, _SINE_TERMS = _SIGNS * _hankel_terms()[0::2], _SIGNS * _hankel_terms()[1::2]


def bessel_j1(argument: ArrayLike) -> FloatArray:
    """Bessel function of the first kind and order one.

    Parameters
    ----------
    argument : float or array
        Any finite number; negative ones give the negative of the positive ones [dimensionless].

    Returns
    -------
    float or array
        J1, within 1e-10, in the shape of `argument` [dimensionless].

    Raises
    ------
    ValueError
        If an argument is not finite.

    References
    ----------
    Abramowitz and Stegun, Handbook of Mathematical Functions, 9.1.10 and 9.2.5.

    Examples
    --------
    Table 9.1 of the handbook prints 0.44005 05857 at 1.

    >>> print(f"{bessel_j1(1.0):.8f}")
    0.44005059
    """
    x = floats("argument", argument)
    return 0.5 * x * jinc(x)


def jinc(argument: ArrayLike) -> FloatArray:
    """Pressure of a piston off axis re on axis: D = 2 J1(x) / x, 1 at 0.

    Parameters
    ----------
    argument : float or array
        x = k a sin(angle), any finite number [dimensionless].

    Returns
    -------
    float or array
        D, -0.132 to 1, in the shape of `argument` [dimensionless].

    Raises
    ------
    ValueError
        If an argument is not finite.

    References
    ----------
    Beranek and Mellow, Acoustics, 2nd ed., equation (13.7); Abramowitz and Stegun, 9.1.10 and 9.2.5.

    Examples
    --------
    By hand: 2 x 0.44005 / 1.

    >>> print(f"{jinc(1.0):.5f}")
    0.88010
    """
    x = np.abs(floats("argument", argument))
    near = x < _ASYMPTOTIC_FROM
    values: FloatArray = np.piecewise(x, [near, ~near], [_jinc_series, _jinc_asymptotic])
    return values[()]


def jinc_deficit(argument: ArrayLike) -> FloatArray:
    """What jinc lacks to 1, by the square of half the argument: (1 - 2 J1(x) / x) / (x / 2)^2, 1/2 at 0.

    Parameters
    ----------
    argument : float or array
        x = 2 k a, any finite number [dimensionless].

    Returns
    -------
    float or array
        Above 0 to 0.5, in the shape of `argument`; small arguments lose no digits [dimensionless].

    Raises
    ------
    ValueError
        If an argument is not finite.

    References
    ----------
    Abramowitz and Stegun, 9.1.10 and 9.2.5.

    Examples
    --------
    By hand: 1 - 0.88010 = 0.11990, over 0.25.

    >>> print(f"{jinc_deficit(1.0):.4f}")
    0.4796
    """
    x = np.abs(floats("argument", argument))
    near = x < _ASYMPTOTIC_FROM
    values: FloatArray = np.piecewise(x, [near, ~near], [_deficit_series, _deficit_asymptotic])
    return values[()]


def _jinc_series(x: FloatArray) -> FloatArray:
    return np.asarray(polyval((0.5 * x) ** 2, _JINC_TERMS), dtype=float)


def _deficit_series(x: FloatArray) -> FloatArray:
    return np.asarray(polyval((0.5 * x) ** 2, _DEFICIT_TERMS), dtype=float)


def _deficit_asymptotic(x: FloatArray) -> FloatArray:
    return (1.0 - _jinc_asymptotic(x)) / (0.5 * x) ** 2


def _jinc_asymptotic(x: FloatArray) -> FloatArray:
    phase = x - 0.75 * np.pi
    cosines = polyval(x**-2, _COSINE_TERMS) * np.cos(phase)
    sines = polyval(x**-2, _SINE_TERMS) * np.sin(phase) / x
    return np.asarray(np.sqrt(8.0 / (np.pi * x**3)) * (cosines - sines), dtype=float)
