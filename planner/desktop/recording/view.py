"""What the recording chart shows: the peaks at the seat over time, and the level that clips."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.desktop.charts.seat_panel import Sight
from planner.headroom.clipped import Clipped, clip_level_db, clipped_at
from planner.plan.recording import Recording
from planner.report.clipped_words import clipped_text, clock_text, share_text

__all__ = ["MOST_POINTS", "RecordingView", "clock_text", "share_text", "verdict_text"]

FloatArray = NDArray[np.float64]
MOST_POINTS = 1200


@dataclass(frozen=True, eq=False)
class RecordingView:
    """What is looked at, and how far above the target it is played."""

    sight: Sight
    recording: Recording
    offset_db: float = 0.0

    @cached_property
    def clipped(self) -> Clipped:
        """What is clipped at this level."""
        sight = self.sight
        found = clipped_at(sight.plan, sight.candidate, sight.seat, self.offset_db)
        assert found is not None
        return found

    @property
    def asked_db(self) -> float:
        """The peak level at the seat that this playing asks for."""
        return self.sight.seat.peak_target_db + self.offset_db

    @cached_property
    def clip_db(self) -> float:
        """The peak level at the seat at which the amplifier clips; it stands still as the level moves."""
        least = min(one.headroom_db for one in self.sight.seat.amplifiers)
        return self.sight.seat.peak_target_db + least

    @cached_property
    def start_s(self) -> FloatArray:
        """Where each window begins."""
        return np.asarray(np.arange(self.peak_db.size) * self.recording.timeline.window_s)

    @cached_property
    def peak_db(self) -> FloatArray:
        """Peak level at the seat by window; NaN in silence."""
        peaks = [np.nan if one is None else one for one in self.recording.timeline.peak_dbfs]
        full_db = self.recording.rms_dbfs + clip_level_db(self.sight.plan, 0.0)
        return np.asarray(np.array(peaks) - full_db + self.asked_db)

    def thinned(self) -> tuple[FloatArray, FloatArray]:
        """Edges (n + 1,) and greatest peaks (n,) of as many windows as a screen can show."""
        group = max(1, -(-self.peak_db.size // MOST_POINTS))
        at = np.arange(0, self.peak_db.size, group)
        quiet = np.where(np.isnan(self.peak_db), -np.inf, self.peak_db)
        most = np.maximum.reduceat(quiet, at)
        edges = np.append(at * self.recording.timeline.window_s, self.recording.duration_s)
        return edges, np.where(np.isinf(most), np.nan, most)


def verdict_text(view: RecordingView) -> str:
    """How much is clipped, how often and where, hard and soft told apart."""
    return clipped_text(view.clipped, view.recording)
