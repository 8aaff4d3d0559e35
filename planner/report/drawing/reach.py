"""Whom the horns on the stands do not reach, and who sits nearer than where they are one source."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.headroom.coverage import LeastDistance, horn_coverage, least_distances
from planner.plan import Plan

__all__ = ["Outside", "Reach", "reach_of"]


@dataclass(frozen=True, slots=True)
class Outside:
    """One seat beyond the −6 dB angle of the horn on one stand at one frequency: its level re the axis."""

    seat: int
    stand: str
    frequency_hz: float
    loss_db: float


@dataclass(frozen=True, slots=True)
class Reach:
    """All that is to be said of one candidate's horns and distances, at 2, 4 and 8 kHz."""

    outside: tuple[Outside, ...] = ()
    distances: tuple[LeastDistance, ...] = ()

    def beyond(self, seat: int, frequency_hz: float) -> tuple[Outside, ...]:
        """Every horn that does not reach a seat at a frequency, the weakest there first."""
        found = (one for one in self.outside if (one.seat, one.frequency_hz) == (seat, frequency_hz))
        return tuple(sorted(found, key=lambda one: one.loss_db))

    def too_near(self, seat: str) -> LeastDistance | None:
        """The farthest least distance that a seat is nearer than; None where it is far enough from all."""
        found = (one for one in self.distances if seat in one.nearer)
        return max(found, key=lambda one: one.distance_m, default=None)


def reach_of(plan: Plan, candidate: int) -> Reach:
    """The reach of one candidate; where two horns on a stand play one frequency, the upper one counts.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    upper = {
        (horn.stand, float(hz)): (horn, number)
        for horn in horn_coverage(plan, candidate)
        for number, hz in enumerate(horn.frequency_hz)
    }
    outside = tuple(
        Outside(int(seat), stand, hz, float(horn.loss_db[number, seat]))
        for (stand, hz), (horn, number) in upper.items()
        for seat in np.flatnonzero(horn.outside[number])
    )
    return Reach(outside, least_distances(plan, candidate))
