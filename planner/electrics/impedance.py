"""Impedance of a moving-coil driver."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planner.electrics import positive

__all__ = ["driver_impedance"]


def driver_impedance(
    frequency_hz: ArrayLike,
    dc_ohm: ArrayLike,
    resonance_hz: ArrayLike,
    mechanical_q: ArrayLike,
    electrical_q: ArrayLike,
    inductance_h: ArrayLike,
) -> NDArray[np.complex128]:
    """Impedance of a moving-coil driver from its small-signal parameters.

    Z = Re + Res / (1 + j Qms (f / fs - fs / f)) + j 2 pi f L, Res = Re Qms / Qes.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency f, above 0 [Hz].
    dc_ohm : float or array
        Resistance Re of the coil, above 0 [ohm].
    resonance_hz : float or array
        Resonance fs, above 0 [Hz].
    mechanical_q : float or array
        Mechanical Q at resonance Qms, above 0 [dimensionless].
    electrical_q : float or array
        Electrical Q at resonance Qes, above 0 [dimensionless].
    inductance_h : float or array
        Inductance L of the coil, 0 or more; real coils are lossy and rise more slowly [H].

    Returns
    -------
    complex or array of complex
        Impedance, broadcast [ohm].

    Raises
    ------
    ValueError
        If an argument is outside its limits.

    References
    ----------
    Small, Direct-Radiator Loudspeaker System Analysis, JAES 20 (1972).

    Examples
    --------
    By hand, at resonance: 6 (1 + 4 / 0.5) = 54 ohm.

    >>> print(f"{driver_impedance(40.0, 6.0, 40.0, 4.0, 0.5, 0.0):.1f} ohm")
    54.0+0.0j ohm
    """
    frequency = positive("frequency_hz", frequency_hz)
    resistance = positive("dc_ohm", dc_ohm)
    tuning = frequency / positive("resonance_hz", resonance_hz)
    q = positive("mechanical_q", mechanical_q)
    motional = resistance * q / positive("electrical_q", electrical_q)
    coil = 2j * np.pi * frequency * positive("inductance_h", inductance_h, or_zero=True)
    return resistance + motional / (1.0 + 1j * q * (tuning - 1.0 / tuning)) + coil
