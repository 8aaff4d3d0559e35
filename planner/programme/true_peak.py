"""True peak: the largest value between the samples, by four-times oversampling."""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from planner.acoustics import FloatArray

__all__ = ["OVERSAMPLING", "TruePeak", "interpolator"]

OVERSAMPLING = 4

_TAPS = 48  # of each phase: flat within 0.01 dB up to 0.44 of the sample rate
_KAISER_BETA = 6.5
_ROW = 96  # samples whose in-between values one matrix product gives

Samples = NDArray[np.float32]


def interpolator() -> FloatArray:
    """Filters that give the values a quarter, a half and three quarters of the way to the next sample.

    A sinc under a Kaiser window; the fourth phase is the samples themselves.

    Returns
    -------
    array
        Taps (3, 48): the values lie between taps 23 and 24, the sums are 1 [dimensionless].

    References
    ----------
    ITU-R BS.1770-5 (2023), annex 2 (which prints a shorter filter, and allows others).

    Examples
    --------
    The filter for the middle is symmetrical.

    >>> middle = interpolator()[1]
    >>> print(bool(np.allclose(middle, middle[::-1])))
    True
    """
    part = np.arange(1, OVERSAMPLING)[:, np.newaxis] / OVERSAMPLING
    distance = part - (np.arange(_TAPS) - (_TAPS // 2 - 1))
    window = np.i0(_KAISER_BETA * np.sqrt(np.clip(1.0 - (2.0 * distance / _TAPS) ** 2, 0.0, 1.0)))
    taps = np.sinc(distance) * window
    scaled: FloatArray = taps / taps.sum(axis=1, keepdims=True)
    return scaled


class TruePeak:
    """The largest value of the oversampled waveform of all channels, fed block by block."""

    def __init__(self, channels: int) -> None:
        """Start in silence with *channels* channels."""
        taps = interpolator()
        # One row of samples with its neighbours times this gives three values for each sample of the row.
        matrix = np.zeros((_ROW + _TAPS - 1, _ROW, OVERSAMPLING - 1))
        for k in range(_ROW):
            matrix[k : k + _TAPS, k] = taps.T
        self._matrix = matrix.reshape(matrix.shape[0], -1).astype(np.float32)
        self._most = float(np.abs(taps).sum(axis=1).max())  # no value exceeds its largest sample by more
        self._kept: Samples = np.zeros((channels, _TAPS // 2 - 1), dtype=np.float32)
        self._peak = 0.0

    def feed(self, samples: Samples) -> None:
        """Take the next block (channels, n)."""
        self._peak = max(self._peak, float(np.max(np.abs(samples), initial=0.0)))
        held = np.concatenate([self._kept, samples], axis=1)
        rows = (held.shape[1] - _TAPS + 1) // _ROW
        if rows > 0:
            self._raise_peak(held, rows)
            held = held[:, rows * _ROW :]
        self._kept = held

    def finish(self) -> float:
        """Take silence after the end, and give the peak; 1 is full scale."""
        self.feed(np.zeros((self._kept.shape[0], _ROW + _TAPS), dtype=np.float32))
        return self._peak

    def _raise_peak(self, held: Samples, rows: int) -> None:
        """Look only at those rows whose samples are large enough to beat the peak so far."""
        windows = sliding_window_view(held, _ROW + _TAPS - 1, axis=1)[:, : rows * _ROW : _ROW]
        # A row of samples and its neighbours lie within two rows.
        largest = np.maximum.reduceat(np.abs(held), np.arange(0, held.shape[1], _ROW), axis=1)
        both = np.maximum(largest[:, :rows], largest[:, 1 : rows + 1])
        chosen = windows[both * self._most > self._peak]
        if chosen.size:
            between = chosen @ self._matrix
            self._peak = max(self._peak, float(between.max()), -float(between.min()))
