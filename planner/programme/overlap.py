"""Overlapping blocks: cut out for the Fourier transform, and put together again without a seam.

Blocks of M samples overlap by a quarter. Each is multiplied by a window before and after whatever is done to
its spectrum; the squares of two windows three quarters of a block apart sum to one, so doing nothing gives
the samples back exactly, and the powers of all spectra together are exactly that of the samples.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from planner.acoustics import FloatArray

__all__ = ["Cutter", "Joiner", "window"]


def window(size: int, points: int) -> FloatArray:
    """Window of a block, at evenly spaced moments of it.

    Flat over the middle half; sin(pi/2 sin^2(2 pi t)) in the first quarter, its mirror image in the last.

    Parameters
    ----------
    size : int
        Samples of the block [dimensionless].
    points : int
        Moments asked for, the first at its first sample; a multiple of 4 [dimensionless].

    Returns
    -------
    array
        Values (points,) from 0 to 1 [dimensionless].

    References
    ----------
    Princen and Bradley, IEEE Trans. ASSP 34 (1986), 1153: windows that join without a seam.

    Examples
    --------
    By hand: half way up the rise the square is a half.

    >>> print(f"{window(2**16, 8)[1]**2:.3f}")
    0.500
    """
    moment = np.arange(points // 4) / points + 0.5 / size
    rise = np.sin(0.5 * np.pi * np.sin(2.0 * np.pi * moment) ** 2)
    # The last quarter is what the square of the first leaves, at the moments that coincide with it.
    return np.concatenate([rise, np.ones(points // 2), np.sqrt(1.0 - rise**2)])


class Cutter:
    """Cuts a stream of samples into windowed blocks."""

    def __init__(self, channels: int, size: int) -> None:
        """Start a quarter of a block before the first sample; *size* is a multiple of 4."""
        self._size, self._quarter = size, size // 4
        self._window = window(size, size)
        self._held = np.zeros((channels, self._quarter))

    def feed(self, samples: FloatArray) -> FloatArray:
        """Blocks (channels, blocks, size) that are complete with the next samples (channels, n)."""
        hop = 3 * self._quarter
        held = np.concatenate([self._held, samples], axis=1)
        count = max((held.shape[1] - self._size) // hop + 1, 0)
        self._held = held[:, count * hop :].copy()
        if count == 0:
            return np.zeros((held.shape[0], 0, self._size))
        blocks = sliding_window_view(held, self._size, axis=1)[:, ::hop][:, :count].copy()
        _shade(blocks, self._window, self._quarter)
        return blocks

    def finish(self) -> FloatArray:
        """The blocks that are left when silence follows the last sample."""
        return self.feed(np.zeros((self._held.shape[0], self._size)))


class Joiner:
    """Windows blocks once more and puts them together, from a quarter of a block before the start on."""

    def __init__(self, channels: int, size: int, points: int, dtype: type[Any]) -> None:
        """Take blocks that stand for *size* samples by *points* values, a multiple of 4."""
        self._quarter = points // 4
        self._window = window(size, points).astype(np.zeros(0, dtype).real.dtype)
        self._tail: NDArray[Any] = np.zeros((channels, 1, self._quarter), dtype=dtype)

    def feed(self, blocks: NDArray[Any]) -> NDArray[Any]:
        """Values (channels, blocks, points * 3 / 4) that the next blocks complete, in their place."""
        _shade(blocks, self._window, self._quarter)
        late = blocks[:, :, 3 * self._quarter :]
        blocks[:, :1, : self._quarter] += self._tail
        blocks[:, 1:, : self._quarter] += late[:, :-1]
        self._tail = late[:, -1:].copy()
        return blocks[:, :, : 3 * self._quarter]


def _shade(blocks: NDArray[Any], shape: NDArray[Any], quarter: int) -> None:
    """Multiply by a window where it is not 1."""
    blocks[:, :, :quarter] *= shape[:quarter]
    blocks[:, :, -quarter:] *= shape[-quarter:]
