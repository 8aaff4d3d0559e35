"""From a plan and one of its candidates to the outcome at every seat, in one vectorised pass."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bands import weighting
from planner.acoustics.reverberation import critical_distance
from planner.headroom.field import Arrival
from planner.headroom.ladder import ladders
from planner.headroom.outcome import (
    AmplifierOutcome,
    Bands,
    FirstLimit,
    Outcome,
    PartLimit,
    RoomFigures,
    SeatOutcome,
    Step,
    verdict_of,
)
from planner.headroom.placed import placed
from planner.headroom.scene import BAND_HZ
from planner.headroom.system import Stage, System, stage_of, system_of
from planner.plan import Plan

__all__ = ["compute", "compute_all"]

FloatArray = NDArray[np.float64]
A_WEIGHTED = 10.0 ** (np.asarray(weighting(BAND_HZ, "A")) / 10.0)


def compute(plan: Plan, candidate: int = 0) -> Outcome:
    """The outcome of one candidate at all seats.

    Parameters
    ----------
    plan : Plan
        A plan as :func:`planner.plan.load` gives it.
    candidate : int
        Which of the plan's candidates.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    here = placed(plan, candidate)
    return _outcome(here, candidate, stage_of(here))


def compute_all(plan: Plan) -> list[Outcome]:
    """The outcomes of all candidates of a plan; raises :class:`PlanError` as :func:`compute` does."""
    stage = stage_of(plan)
    return [
        _outcome(plan, index, stage) if one.stands is None else compute(plan, index)
        for index, one in enumerate(plan.candidates)
    ]


def _outcome(plan: Plan, candidate: int, stage: Stage) -> Outcome:
    system = system_of(plan, plan.candidates[candidate], stage)
    steps = ladders(system, plan.programme.crest_db)
    seats = tuple(_seat(plan, system, seat, steps[seat]) for seat in range(len(plan.seats)))
    cautions = stage.room.cautions if stage.room else ()
    return Outcome(system.candidate.name, seats, _room_figures(system), cautions)


def _seat(plan: Plan, system: System, seat: int, steps: tuple[Step, ...]) -> SeatOutcome:
    arrival, scene, first = system.arrival, system.stage.scene, system.first
    gain_db, crest_db = float(system.gain_db[seat]), plan.programme.crest_db
    headroom_db = first.total_db - gain_db
    peak_db = _sum_db(arrival.peak[seat]) + gain_db + crest_db
    amplifiers = tuple(_amplifier(system, index, gain_db, crest_db) for index in range(len(system.drives)))
    hardest = amplifiers[system.limiting_amplifier]
    return SeatOutcome(
        name=plan.seats[seat].name,
        distance_m=float(scene.distance_m[seat].min()),
        verdict=verdict_of(headroom_db),
        peak_target_db=peak_db,
        average_db=_sum_db(arrival.steady[seat]) + gain_db,
        average_dba=_sum_db(arrival.steady[seat] * A_WEIGHTED) + gain_db,
        watts_needed=hardest.watts_needed,
        watts_rated=hardest.watts_rated,
        headroom_db=headroom_db,
        loudest_peak_db=peak_db + headroom_db,
        first_limit=FirstLimit(first.part, first.quantity, float(scene.band_hz[first.hardest_band()])),
        limits=_limits(system, gain_db),
        bands=_bands(system, seat, gain_db),
        amplifiers=amplifiers,
        ladder=steps,
        one_side_db=_one_side_db(plan, arrival, seat),
    )


def _limits(system: System, gain_db: float) -> tuple[PartLimit, ...]:
    found = (
        PartLimit(one.part, one.quantity, float(BAND_HZ[one.hardest_band()]), one.total_db - gain_db)
        for one in system.capabilities
    )
    return tuple(sorted(found, key=lambda one: one.headroom_db))


def _sum_db(power: FloatArray) -> float:
    return float(10.0 * np.log10(power.sum()))


def _bands(system: System, seat: int, gain_db: float) -> Bands:
    """Level and headroom by band; a band's headroom is for its energy alone."""
    least = np.min([one.band_db for one in system.capabilities], axis=0)
    silent = np.finfo(float).tiny
    direct, steady, peak = (
        np.maximum(field[seat], silent)
        for field in (system.arrival.direct, system.arrival.steady, system.arrival.peak)
    )
    return Bands(
        centre_hz=system.stage.scene.band_hz,
        level_db=10.0 * np.log10(peak) + gain_db,
        room_gain_db=10.0 * np.log10(steady / direct),
        headroom_db=least - gain_db,
    )


def _amplifier(system: System, index: int, gain_db: float, crest_db: float) -> AmplifierOutcome:
    drive = system.drives[index]
    headroom_db = system.amplifier_limit(index).total_db - gain_db
    crest = 10.0 ** ((crest_db + gain_db) / 20.0)
    return AmplifierOutcome(
        name=drive.amplifier.name,
        tap_ohm=drive.rating.ohm,
        watts_rated=drive.rating.watts,
        watts_needed=drive.rating.watts * 10.0 ** (-headroom_db / 10.0),
        peak_volts=crest * float(np.sqrt(np.sum(drive.terminal_v**2))),
        peak_amps=crest * float(np.sqrt(np.sum(drive.current_a**2))),
        average_watts=float(np.sum(drive.watts)) * 10.0 ** (gain_db / 10.0),
        headroom_db=headroom_db,
    )


def _one_side_db(plan: Plan, arrival: Arrival, seat: int) -> float | None:
    """What a peak on the weakest stand alone asks beyond its share of one on all stands [dB]."""
    if len(plan.stands) < 2 or any(stand.carries is not None for stand in plan.stands):
        return None
    alone = arrival.alone[seat].sum(axis=-1)
    return float(10.0 * np.log10(arrival.peak[seat].sum() / alone.min()))


def _room_figures(system: System) -> RoomFigures | None:
    room = system.stage.room
    if room is None:
        return None
    pressure = system.sources.pressure
    inverse_factor = (pressure / system.sources.directivity_factor).sum(axis=0) / pressure.sum(axis=0)
    constant = room.surface_m2 * room.exponent
    return RoomFigures(
        volume_m3=room.volume_m3,
        surface_m2=room.surface_m2,
        t60_s=room.t60_s,
        mean_absorption=room.mean_absorption,
        schroeder_hz=room.schroeder_hz,
        critical_distance_m=np.asarray(critical_distance(1.0 / inverse_factor, constant)),
    )
