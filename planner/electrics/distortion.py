"""Harmonics of one cycle, and what they amount to."""

import numpy as np
from numpy.typing import ArrayLike

from planner.electrics import FloatArray, positive

__all__ = ["harmonics", "total_distortion"]


def harmonics(waveform: ArrayLike) -> FloatArray:
    """Peak of each harmonic of a cycle.

    Parameters
    ----------
    waveform : array
        One cycle, an even number of equal steps along the last axis, in any unit [dimensionless].

    Returns
    -------
    array
        Peaks in the same unit along the last axis, index = harmonic, the mean first [dimensionless].

    Raises
    ------
    ValueError
        If the last axis is shorter than 4 or odd.

    References
    ----------
    Discrete Fourier transform.

    Examples
    --------
    By hand: 2 + 3 cos t at 0, 90, 180 and 270 degrees.

    >>> print(harmonics([5.0, 2.0, -1.0, 2.0]).round(9))
    [2. 3. 0.]
    """
    cycle = np.atleast_1d(np.asarray(waveform, dtype=float))
    count = cycle.shape[-1]
    if count < 4 or count % 2:
        raise ValueError(f"waveform must have an even number of samples, 4 or more, got {count}")
    peaks: FloatArray = np.abs(np.fft.rfft(cycle, axis=-1)) * (2.0 / count)
    peaks[..., [0, -1]] *= 0.5
    return peaks


def total_distortion(peaks: ArrayLike) -> FloatArray:
    """Total harmonic distortion from the peaks of the harmonics.

    d = sqrt(h2^2 + h3^2 + ...) / h1.

    Parameters
    ----------
    peaks : array
        Peaks along the last axis, index = harmonic, the mean first, in any unit [dimensionless].

    Returns
    -------
    float or array
        Distortion re the fundamental [percent].

    Raises
    ------
    ValueError
        If a fundamental is not above 0.

    References
    ----------
    Definition re the fundamental. IEC 60268-3 refers to the whole: 0.5 % of the figure less at 10 %.

    Examples
    --------
    By hand: sqrt(0.04^2 + 0.03^2) = 0.05.

    >>> print(f"{total_distortion([60.0, 1.0, 0.04, 0.03]):.1f} %")
    5.0 %
    """
    heights = np.asarray(peaks, dtype=float)
    fundamental = positive("fundamental", heights[..., 1])
    distortion: FloatArray = 100.0 * np.sqrt(np.sum(heights[..., 2:] ** 2, axis=-1)) / fundamental
    return distortion
