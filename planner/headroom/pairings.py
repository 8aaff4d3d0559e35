"""Every loudspeaker with every amplifier in one room: headroom of all pairs in one pass over arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.drive import cable_ohm, clip_of, impedance_at, rating_in_use
from planner.headroom.field import arrive
from planner.headroom.limits import section_capabilities
from planner.headroom.scene import BAND_HZ, air_of, carried
from planner.headroom.sources import sources_of
from planner.headroom.system import Stage, stage_of
from planner.headroom.wired import wired_impedance
from planner.plan import Finding, Plan, PlanError, cross_checks
from planner.plan.amplifier import Amplifier, Cable
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Candidate

__all__ = ["Pairings", "pairings"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Pairings:
    """Loudspeakers (L) by amplifiers (M) by seats (K).

    ``headroom_db`` and ``watts_needed`` are (L, M, K), ``watts_rated`` (L, M). Where a loudspeaker
    cannot take part (``findings`` says why, by its index) its rows are NaN.
    """

    headroom_db: FloatArray
    watts_needed: FloatArray
    watts_rated: FloatArray
    findings: dict[int, tuple[Finding, ...]]

    @property
    def worst_db(self) -> FloatArray:
        """Headroom at the worst seat, (L, M) [dB]."""
        return np.asarray(self.headroom_db.min(axis=-1))


@dataclass(frozen=True, slots=True, eq=False)
class _Heard:
    """What a volt at the terminals of one loudspeaker does: field at the seats, limits, load."""

    field: FloatArray
    ohm: NDArray[np.complex128]
    nominal_ohm: float
    limit_shares: FloatArray
    limit_most: FloatArray


def pairings(
    plan: Plan,
    loudspeakers: Sequence[Loudspeaker],
    amplifiers: Sequence[Amplifier],
    cable: Cable | None = None,
) -> Pairings:
    """Headroom of every pair at every seat; one amplifier drives the whole loudspeaker.

    Raises
    ------
    PlanError
        If room, seats and stands themselves have findings, whichever loudspeaker stands there.
    """
    usable, findings = _usable(plan, loudspeakers, amplifiers[0])
    shape = (len(loudspeakers), len(amplifiers))
    found = Pairings(
        np.full((*shape, len(plan.seats)), np.nan),
        np.full((*shape, len(plan.seats)), np.nan),
        np.full(shape, np.nan),
        findings,
    )
    if not usable:
        return found
    stage = stage_of(_with(plan, [loudspeakers[index] for index in usable], amplifiers[0]))
    heard = [_heard(plan, loudspeakers[index], stage) for index in usable]
    limit_db, amplifier_db, rated = _limits(plan, heard, amplifiers, stage, cable_ohm(cable))
    gain_db = _gain_db(plan, heard, amplifiers, stage, cable_ohm(cable))
    found.headroom_db[usable] = limit_db[..., None] - gain_db
    found.watts_needed[usable] = rated[..., None] * 10.0 ** ((gain_db - amplifier_db[..., None]) / 10.0)
    found.watts_rated[usable] = rated
    return found


def _with(plan: Plan, loudspeakers: Sequence[Loudspeaker], amplifier: Amplifier) -> Plan:
    """The plan with a candidate for every loudspeaker."""
    driving = amplifier.model_copy(update={"drives": "all"})
    candidates = tuple(
        Candidate.model_construct(
            name=one.name, loudspeaker=one, amplifiers=(driving,), cable=None, source=None
        )
        for one in loudspeakers
    )
    return plan.model_copy(update={"candidates": candidates})


def _usable(
    plan: Plan, loudspeakers: Sequence[Loudspeaker], amplifier: Amplifier
) -> tuple[list[int], dict[int, tuple[Finding, ...]]]:
    """Indices of the loudspeakers that can stand here, and what is wrong with the others."""
    shared = cross_checks(plan.model_copy(update={"candidates": ()}))
    if shared:
        raise PlanError(shared)
    findings = {index: cross_checks(_with(plan, [one], amplifier)) for index, one in enumerate(loudspeakers)}
    usable = [index for index, found in findings.items() if not found]
    return usable, {index: found for index, found in findings.items() if found}


def _heard(plan: Plan, loudspeaker: Loudspeaker, stage: Stage) -> _Heard:
    whole = loudspeaker.impedance
    assert whole is not None, "cross-checks refuse a loudspeaker without it"
    sources = sources_of(loudspeaker, [whole] * len(loudspeaker.sections), stage.scene)
    carries = carried(plan.stands, loudspeaker)
    arrival = arrive(sources.pressure, carries, sources, stage.scene, stage.room, stage.modal)
    loads = [wired_impedance(section) or whole for section in loudspeaker.sections]
    limits = section_capabilities(
        loudspeaker, loads, sources.inner, sources.pressure, plan.programme.crest_db, air_of(plan)[::2]
    )
    return _Heard(
        field=arrival.peak if plan.target.peak_db is not None else arrival.steady,
        ohm=impedance_at(whole, BAND_HZ),
        nominal_ohm=whole.nominal_ohm,
        limit_shares=np.array([one.share for one in limits]).reshape(-1, BAND_HZ.size),
        limit_most=np.array([10.0 ** (one.total_db / 10.0) * one.share.sum() for one in limits]),
    )


def _volts2(
    heard: Sequence[_Heard], amplifiers: Sequence[Amplifier], plan: Plan, stage: Stage, loop_ohm: float
) -> tuple[FloatArray, FloatArray]:
    """Mean square volts at the loudspeaker and amps, for a programme of 1 V EMF, (L, M, B) each."""
    output = np.array(
        [
            [rating_in_use(one, each.nominal_ohm, plan.at_distortion_pct).output_ohm for one in amplifiers]
            for each in heard
        ]
    )
    ohm = np.array([each.ohm for each in heard])[:, None, :]
    current2 = stage.shares / np.abs(ohm + loop_ohm + output[..., None]) ** 2
    return np.asarray(current2 * np.abs(ohm) ** 2), np.asarray(current2)


def _gain_db(
    plan: Plan, heard: Sequence[_Heard], amplifiers: Sequence[Amplifier], stage: Stage, loop_ohm: float
) -> FloatArray:
    """How far the programme must rise above 1 V EMF for the target, (L, M, K)."""
    volts2, _ = _volts2(heard, amplifiers, plan, stage, loop_ohm)
    fields = np.array([each.field for each in heard])
    level_db = 10.0 * np.log10(np.einsum("lmb,lkb->lmk", volts2, fields))
    if plan.target.peak_db is not None:
        return np.asarray(plan.target.peak_db - plan.programme.crest_db - level_db)
    return np.asarray((plan.target.average_db or 0.0) - level_db)


def _limits(
    plan: Plan, heard: Sequence[_Heard], amplifiers: Sequence[Amplifier], stage: Stage, loop_ohm: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """First limit and amplifier's limit [dB re 1 V EMF], and the rating in use [W], (L, M) each."""
    volts2, current2 = _volts2(heard, amplifiers, plan, stage, loop_ohm)
    clip_v, clip_a, rated = _clips(plan, heard, amplifiers)
    crest_db = plan.programme.crest_db
    amplifier_db = np.minimum(
        20.0 * np.log10(clip_v) - 10.0 * np.log10(stage.shares.sum()),
        20.0 * np.log10(clip_a) - 10.0 * np.log10(current2.sum(axis=-1)),
    )
    amplifier_db -= crest_db
    least_db = amplifier_db.copy()
    for row, each in enumerate(heard):
        if each.limit_most.size:
            asked = volts2[row] @ each.limit_shares.T
            least_db[row] = np.minimum(least_db[row], 10.0 * np.log10(each.limit_most / asked).min(axis=-1))
    return least_db, amplifier_db, rated


def _clips(
    plan: Plan, heard: Sequence[_Heard], amplifiers: Sequence[Amplifier]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Peak EMF and amps at which each amplifier gives out on each load, and its rating, (L, M) each."""
    clips = np.array(
        [[_clip(one, each.nominal_ohm, plan.at_distortion_pct) for one in amplifiers] for each in heard]
    )
    return clips[..., 0], clips[..., 1], clips[..., 2]


def _clip(amplifier: Amplifier, nominal_ohm: float, at_distortion_pct: float) -> tuple[float, float, float]:
    rating = rating_in_use(amplifier, nominal_ohm, at_distortion_pct)
    volts, amps = clip_of(amplifier, rating, at_distortion_pct)
    return volts * (1.0 + rating.output_ohm / rating.ohm), amps, rating.watts
