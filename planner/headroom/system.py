"""One candidate in its scene, for a programme whose EMF is 1 V: what every later question starts from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.capability import Capability, amplifier_capabilities, first_to_give_out
from planner.headroom.drive import Drive, amplifier_of, cable_ohm, drive_of, load_of
from planner.headroom.field import Arrival, arrive
from planner.headroom.limits import section_capabilities
from planner.headroom.modal import ModalField, modal_field
from planner.headroom.placed import placed
from planner.headroom.programme import crests_of, shares_of
from planner.headroom.room import RoomField, room_field
from planner.headroom.scene import Scene, air_of, carried, scene_of
from planner.headroom.sources import Sources, sources_of
from planner.headroom.wired import wired_impedance
from planner.plan import Finding, Plan, PlanError, cross_checks
from planner.plan.model import Candidate

__all__ = ["Stage", "System", "stage_of", "system_at", "system_of"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """What all candidates on a plan's stands share: scene, the room's fields, programme by band (B,)."""

    scene: Scene
    room: RoomField | None
    modal: ModalField | None
    shares: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class System:
    """One candidate on the stage.

    ``driven_by`` is the index of the amplifier of each section (S), ``pressure`` the on-axis
    pressure of each section at 1 m (S, B), re 20 µPa, ``gain_db`` (K,) how far the programme rises
    above 1 V EMF so that each seat hears the target.
    """

    candidate: Candidate
    stage: Stage
    carried: FloatArray
    sources: Sources
    drives: list[Drive]
    driven_by: list[int]
    pressure: FloatArray
    arrival: Arrival
    capabilities: tuple[Capability, ...]
    gain_db: FloatArray

    @property
    def first(self) -> Capability:
        """The limit that is met first."""
        return first_to_give_out(self.capabilities)

    def amplifier_limit(self, index: int) -> Capability:
        """Voltage or current of one amplifier, whichever gives out first."""
        return first_to_give_out(self.capabilities[2 * index : 2 * index + 2])

    @property
    def limiting_amplifier(self) -> int:
        """Index of the amplifier that gives out first."""
        return int(np.argmin([self.amplifier_limit(index).total_db for index in range(len(self.drives))]))


def stage_of(plan: Plan) -> Stage:
    """The stage of a plan; raises :class:`PlanError` with all findings if it has any."""
    findings = cross_checks(plan)
    if findings:
        raise PlanError(findings)
    scene = scene_of(plan)
    room = room_field(plan, scene)
    return Stage(scene, room, modal_field(plan, scene, room), shares_of(plan.programme))


def system_at(plan: Plan, candidate: int) -> System:
    """A candidate where it stands; raises :class:`PlanError` with all findings if the plan has any."""
    here = placed(plan, candidate)
    return system_of(here, here.candidates[candidate], stage_of(here))


def system_of(plan: Plan, candidate: Candidate, stage: Stage) -> System:
    """A candidate put on the stage of its plan; one that stands in places of its own is placed before."""
    assert candidate.stands is None, "this stage is not where the candidate stands"
    scene, driven_by = stage.scene, amplifier_of(candidate)
    loads = [load_of(candidate, amplifier) for amplifier in candidate.amplifiers]
    sources = sources_of(candidate.loudspeaker, [loads[index] for index in driven_by], scene)
    loop = cable_ohm(candidate.cable)
    drives = [
        drive_of(amplifier, load, stage.shares * seen**2, scene.band_hz, loop, plan.at_distortion_pct)
        for amplifier, load, seen in zip(
            candidate.amplifiers, loads, _seen(candidate, sources, driven_by), strict=True
        )
    ]
    section_gain = np.array([drives[index].section_gain for index in driven_by])
    pressure = section_gain * sources.pressure * np.sqrt(stage.shares)
    carries = carried(plan.stands, candidate.loudspeaker)
    arrival = arrive(pressure, carries, sources, scene, stage.room, stage.modal)
    _refuse_silence(arrival, candidate)
    crest_db = plan.programme.crest_db
    capabilities = (
        *(one for drive in drives for one in amplifier_capabilities(drive, crest_db)),
        *section_capabilities(
            candidate.loudspeaker,
            [
                wired_impedance(one) or loads[a]
                for one, a in zip(candidate.loudspeaker.sections, driven_by, strict=True)
            ],
            section_gain * sources.inner * np.sqrt(stage.shares),
            pressure,
            crests_of(plan.programme, candidate.loudspeaker),
            air_of(plan)[::2],
        ),
    )
    gain_db = _gain_db(plan, arrival)
    return System(
        candidate, stage, carries, sources, drives, driven_by, pressure, arrival, capabilities, gain_db
    )


def _seen(candidate: Candidate, sources: Sources, driven_by: list[int]) -> list[FloatArray]:
    """What the crossover leaves of the programme for each amplifier, as gains (B,)."""
    whole = np.ones(sources.inner.shape[1])
    return [
        whole if amplifier.drives == "all" else sources.inner[driven_by.index(index)]
        for index, amplifier in enumerate(candidate.amplifiers)
    ]


def _refuse_silence(arrival: Arrival, candidate: Candidate) -> None:
    if not np.all(np.isfinite(arrival.peak)) or np.any(arrival.direct.sum(axis=-1) <= 0.0):
        expected = "sections that play within 20 Hz to 20 kHz"
        raise PlanError([Finding("candidates", candidate.name, expected)])


def _gain_db(plan: Plan, arrival: Arrival) -> FloatArray:
    if plan.target.peak_db is not None:
        held_db, field = plan.target.peak_db - plan.programme.crest_db, arrival.peak
    else:
        held_db, field = plan.target.average_db or 0.0, arrival.steady
    return np.asarray(held_db - 10.0 * np.log10(field.sum(axis=-1)))
