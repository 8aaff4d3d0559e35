"""The rows of the table of candidates, and what is found for them beside the window."""

from __future__ import annotations

from dataclasses import dataclass

from planner.desktop.background import Progress
from planner.headroom.answer import Answer, SeatAnswer, answer
from planner.headroom.outcome import Outcome, SeatOutcome
from planner.plan import Plan
from planner.plan.model import Candidate

__all__ = ["Row", "answers_to", "rows_of"]


@dataclass(frozen=True, eq=False)
class Row:
    """One candidate at the seat that is compared; ``slow`` is what takes longer to find, None until then."""

    index: int
    candidate: Candidate
    seat: SeatOutcome
    slow: SeatAnswer | None


def rows_of(
    plan: Plan, outcomes: list[Outcome], place: int | None, answers: tuple[Answer, ...] | None
) -> list[Row]:
    """A row for each candidate at the seat *place*, or (None) at its own worst seat."""
    rows = []
    for index, (candidate, outcome) in enumerate(zip(plan.candidates, outcomes, strict=True)):
        at = outcome.seats.index(outcome.worst) if place is None else min(place, len(outcome.seats) - 1)
        slow = None if answers is None else answers[index].seats[at]
        rows.append(Row(index, candidate, outcome.seats[at], slow))
    return rows


def answers_to(plan: Plan, progress: Progress) -> tuple[Answer, ...] | None:
    """The whole answers for all candidates without the ways to clear; None if stopped."""
    found = []
    for index in range(len(plan.candidates)):
        if not progress(index / len(plan.candidates)):
            return None
        found.append(answer(plan, index, with_ways=False))
    return tuple(found)
