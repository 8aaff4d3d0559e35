"""What a presentation tells of, and the copies of its plan that a slider makes of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from planner.headroom.compute import compute
from planner.headroom.hearing import Hearing, hearing_at
from planner.headroom.noise import SeatNoise, seat_noises
from planner.headroom.outcome import SeatOutcome
from planner.headroom.system import System, stage_of, system_of
from planner.plan.amplifier import Amplifier
from planner.plan.fields import Part
from planner.plan.loudspeaker import Section
from planner.plan.model import Candidate, Plan

__all__ = [
    "Case",
    "channels",
    "with_crest",
    "with_noise_changed",
    "with_one_watt_level",
    "with_target_changed",
]


AnyPart = TypeVar("AnyPart", bound=Part)


@dataclass(frozen=True, eq=False)
class Case:
    """One candidate at one seat of a plan that can be computed."""

    plan: Plan
    candidate: int
    place: int

    @cached_property
    def seat(self) -> SeatOutcome:
        """The answer at the seat."""
        return compute(self.plan, self.candidate).seats[self.place]

    @cached_property
    def system(self) -> System:
        """The candidate in the room."""
        return system_of(self.plan, self.chosen, stage_of(self.plan))

    @property
    def chosen(self) -> Candidate:
        """The candidate."""
        return self.plan.candidates[self.candidate]

    @cached_property
    def noise(self) -> SeatNoise:
        """What is heard at the seat with nothing playing."""
        return seat_noises(self.system, self.plan)[self.place]

    @property
    def hearing(self) -> Hearing:
        """How long the music may be listened to at the seat."""
        return hearing_at(self.system, self.plan, self.place, self.seat.average_dba)

    def on(self, plan: Plan) -> Case:
        """The same candidate and seat of another copy of the plan."""
        return Case(plan, self.candidate, self.place)


def with_target_changed(plan: Plan, change_db: float) -> Plan:
    """A copy that asks for so much more at every seat, whether it holds the peak or the average."""
    held = plan.target
    changes = {
        name: level + change_db
        for name, level in (("peak_db", held.peak_db), ("average_db", held.average_db))
        if level is not None
    }
    return _with(plan, target=_with(held, **changes))


def with_crest(plan: Plan, crest_db: float, average_db: float) -> Plan:
    """A copy whose music is more or less lively at the same average level, so that its peaks follow."""
    return _with(
        plan,
        target=_with(plan.target, peak_db=None, average_db=average_db),
        programme=_with(plan.programme, crest_db=crest_db),
    )


def with_one_watt_level(plan: Plan, candidate: int, change_db: float) -> Plan:
    """A copy in which one watt plays so much louder through every section of a candidate's loudspeaker."""
    chosen = plan.candidates[candidate]
    sections = tuple(_louder(section, change_db) for section in chosen.loudspeaker.sections)
    loudspeaker = _with(chosen.loudspeaker, sections=sections)
    return _with_candidate(plan, candidate, _with(chosen, loudspeaker=loudspeaker))


def with_noise_changed(plan: Plan, candidate: int, change_db: float) -> Plan:
    """A copy in which the hum and hiss of a candidate's amplifiers are so much louder."""
    chosen = plan.candidates[candidate]
    amplifiers = tuple(_noisier(amplifier, change_db) for amplifier in chosen.amplifiers)
    return _with_candidate(plan, candidate, _with(chosen, amplifiers=amplifiers))


def channels(plan: Plan, amplifier: Amplifier) -> int:
    """How many channels of an amplifier a plan needs: one for each stand that carries what it drives."""
    return sum(
        amplifier.drives == "all" or stand.carries is None or amplifier.drives in stand.carries
        for stand in plan.stands
    )


def _louder(section: Section, change_db: float) -> Section:
    level_db = section.sensitivity.level_db + change_db
    return _with(section, sensitivity=_with(section.sensitivity, level_db=level_db))


def _noisier(amplifier: Amplifier, change_db: float) -> Amplifier:
    residual = amplifier.residual
    if residual is None:
        return amplifier
    times = 10.0 ** (change_db / 20.0)
    raised = _with(residual, hum_mv=residual.hum_mv * times, hiss_mv=residual.hiss_mv * times)
    return _with(amplifier, residual=raised)


def _with_candidate(plan: Plan, index: int, candidate: Candidate) -> Plan:
    candidates = (*plan.candidates[:index], candidate, *plan.candidates[index + 1 :])
    return _with(plan, candidates=candidates)


def _with(part: AnyPart, **changes: object) -> AnyPart:
    # Not checked: a slider may go where a plan may not, and nothing of it is ever kept.
    return part.model_copy(update=changes)
