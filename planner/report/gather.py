"""All that a report tells of a plan, computed once for words, tables and charts alike."""

from __future__ import annotations

from dataclasses import dataclass

from planner.headroom.answer import Answer, SeatAnswer, answer
from planner.headroom.curves import DistanceCurve, level_against_distance
from planner.headroom.quiet_to_loud import QuietToLoud, quiet_to_loud
from planner.headroom.room_gain import RoomGain, room_gain
from planner.headroom.system import system_at
from planner.plan import Plan
from planner.plan.model import Candidate

__all__ = ["Case", "gather"]


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """What is known of one candidate; the curves are those of its worst seat."""

    plan: Plan
    index: int
    answer: Answer
    worst_seat: int
    distance: DistanceCurve
    room_gain: RoomGain | None
    span: QuietToLoud

    @property
    def candidate(self) -> Candidate:
        """The candidate as the plan has it."""
        return self.plan.candidates[self.index]

    @property
    def seats(self) -> tuple[SeatAnswer, ...]:
        """The answers at all seats."""
        return self.answer.seats

    @property
    def worst(self) -> SeatAnswer:
        """The answer at the seat with the least headroom."""
        return self.seats[self.worst_seat]


def gather(plan: Plan) -> tuple[Case, ...]:
    """Everything on every candidate.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    return tuple(_case(plan, index) for index in range(len(plan.candidates)))


def _case(plan: Plan, index: int) -> Case:
    found = answer(plan, index)
    worst = found.seats.index(found.worst)
    system = system_at(plan, index)
    return Case(
        plan=plan,
        index=index,
        answer=found,
        worst_seat=worst,
        distance=level_against_distance(plan, index, worst),
        room_gain=room_gain(plan, index, worst),
        span=quiet_to_loud(system, plan, worst, found.worst.noise),
    )
