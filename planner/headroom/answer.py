"""The whole answer for one candidate: the outcome, how sure it is, and what would clear it."""

from __future__ import annotations

from dataclasses import dataclass

from planner.headroom.certainty import Certainty, certainty
from planner.headroom.compute import compute
from planner.headroom.gain import GainChain, gain_chain
from planner.headroom.hearing import Hearing, hearing_at
from planner.headroom.noise import SeatNoise, seat_noises
from planner.headroom.outcome import Outcome, SeatOutcome
from planner.headroom.system import system_at
from planner.headroom.ways import Way, ways_to_clear
from planner.headroom.weight import FloorLoad, floor_loads
from planner.headroom.wiring import Wiring, wirings
from planner.plan import Plan

__all__ = ["Answer", "SeatAnswer", "answer", "answer_all"]


@dataclass(frozen=True, slots=True, eq=False)
class SeatAnswer:
    """What is said of one seat.

    ``ways`` is empty where the seat clears or nobody asked, ``gain`` None where the plan names no
    source or an amplifier's gain is not known.
    """

    outcome: SeatOutcome
    certainty: Certainty
    noise: SeatNoise
    hearing: Hearing
    gain: GainChain | None
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """What is said of one candidate: at the seats, of the wiring of each amplifier, of its weight."""

    outcome: Outcome
    seats: tuple[SeatAnswer, ...]
    wirings: tuple[Wiring, ...]
    floor_loads: tuple[FloorLoad, ...]

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
    system = system_at(plan, candidate)
    sure, noises = certainty(plan, candidate), seat_noises(system, plan)
    seats = tuple(
        SeatAnswer(
            outcome=seat,
            certainty=sure[index],
            noise=noises[index],
            hearing=hearing_at(system, plan, index, seat.average_dba),
            gain=gain_chain(system, plan, index),
            ways=tuple(ways_to_clear(plan, candidate, index)) if with_ways else (),
        )
        for index, seat in enumerate(outcome.seats)
    )
    return Answer(outcome, seats, wirings(system), floor_loads(plan.candidates[candidate]))


def answer_all(plan: Plan, *, with_ways: bool = True) -> list[Answer]:
    """The whole answers for all candidates; raises :class:`PlanError` as :func:`answer` does."""
    return [answer(plan, index, with_ways=with_ways) for index in range(len(plan.candidates))]
