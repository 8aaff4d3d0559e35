"""The whole answer for one candidate: the outcome, how sure it is, and what would clear it."""

from __future__ import annotations

from dataclasses import dataclass

from planner.headroom.certainty import Certainty, certainty
from planner.headroom.compute import compute
from planner.headroom.outcome import Outcome, SeatOutcome
from planner.headroom.ways import Way, ways_to_clear
from planner.plan import Plan

__all__ = ["Answer", "SeatAnswer", "answer", "answer_all"]


@dataclass(frozen=True, slots=True, eq=False)
class SeatAnswer:
    """What is said of one seat; ``ways`` is empty where the seat clears or nobody asked."""

    outcome: SeatOutcome
    certainty: Certainty
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """What is said of one candidate."""

    outcome: Outcome
    seats: tuple[SeatAnswer, ...]

    @property
    def worst(self) -> SeatAnswer:
        """The answer at the seat with the least headroom."""
        return min(self.seats, key=lambda seat: seat.outcome.headroom_db)


def answer(plan: Plan, candidate: int = 0, *, with_ways: bool = True) -> Answer:
    """The whole answer for one candidate; the ways to clear take longest and may be left out.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    outcome = compute(plan, candidate)
    sure = certainty(plan, candidate)
    seats = tuple(
        SeatAnswer(seat, sure[index], tuple(ways_to_clear(plan, candidate, index)) if with_ways else ())
        for index, seat in enumerate(outcome.seats)
    )
    return Answer(outcome, seats)


def answer_all(plan: Plan, *, with_ways: bool = True) -> list[Answer]:
    """The whole answers for all candidates; raises :class:`PlanError` as :func:`answer` does."""
    return [answer(plan, index, with_ways=with_ways) for index in range(len(plan.candidates))]
