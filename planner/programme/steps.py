"""A recording in steps of 20 ms: whatever is summed or held at its largest for each."""

from __future__ import annotations

import numpy as np

from planner.acoustics import FloatArray
from planner.programme.loudness import STEPS_PER_SECOND

__all__ = ["StepTrack"]


class StepTrack:
    """One value for each 20 ms of a stream, fed block by block."""

    def __init__(self, sample_rate_hz: int, gather: np.ufunc) -> None:
        """*gather* is ``np.add`` or ``np.maximum``; steps begin at the sample nearest their moment."""
        self._rate_hz, self._gather = sample_rate_hz, gather
        self._position = 0
        self._pieces: list[tuple[int, FloatArray]] = []

    def feed(self, values: FloatArray) -> None:
        """Take the next values (n,), none of them negative."""
        if values.size == 0:
            return
        end = self._position + values.size
        guess = self._position * STEPS_PER_SECOND // self._rate_hz
        steps = np.arange(max(guess - 1, 0), end * STEPS_PER_SECOND // self._rate_hz + 2)
        starts = (steps * self._rate_hz + STEPS_PER_SECOND // 2) // STEPS_PER_SECOND
        first = int(np.searchsorted(starts, self._position, side="right")) - 1
        starts = starts[first : int(np.searchsorted(starts, end))]
        offsets = np.maximum(starts - self._position, 0)
        self._pieces.append((int(steps[first]), self._gather.reduceat(values, offsets)))
        self._position = end

    def finish(self) -> FloatArray:
        """All steps (n,), the last of which may be incomplete."""
        count = max((start + piece.size for start, piece in self._pieces), default=0)
        track = np.zeros(count)
        for start, piece in self._pieces:
            place = slice(start, start + piece.size)
            track[place] = self._gather(track[place], piece)
        return track
