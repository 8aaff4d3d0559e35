"""What the chart from quiet to loud looks at: a seat with its noise and every level that is known there."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.desktop.charts.system_panel import SystemView
from planner.headroom.noise import SeatNoise, seat_noises
from planner.headroom.quiet_to_loud import QuietToLoud, quiet_to_loud

__all__ = ["QuietView"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class QuietView(SystemView):
    """What is looked at, with its noise and its levels."""

    @cached_property
    def noise(self) -> SeatNoise:
        """What is heard at the seat with nothing playing."""
        return seat_noises(self.system, self.sight.plan)[self.sight.place]

    @cached_property
    def span(self) -> QuietToLoud:
        """Every level by third octave."""
        return quiet_to_loud(self.system, self.sight.plan, self.sight.place, self.noise)

    def levels(self) -> dict[str, FloatArray]:
        """The levels that are known, the loudest first."""
        span = self.span
        found = {
            "loudspeaker": span.loudspeaker_db,
            "clip": span.clip_db,
            "peak": span.peak_db,
            "average": span.average_db,
            "room": span.room_db,
            "noise": span.noise_db,
            "threshold": span.threshold_db,
        }
        return {key: levels for key, levels in found.items() if levels is not None}
