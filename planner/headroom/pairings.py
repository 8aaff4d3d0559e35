"""Every loudspeaker with every amplifier in one room: headroom of all pairs in one pass over arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.drive import cable_ohm, clip_of, impedance_at, rating_in_use
from planner.headroom.field import arrive
from planner.headroom.limits import section_capabilities
from planner.headroom.programme import crests_of
from planner.headroom.scene import BAND_HZ, air_of, carried
from planner.headroom.sources import sources_of
from planner.headroom.system import Stage, stage_of
from planner.headroom.wired import wired_impedance
from planner.plan import Finding, Plan, PlanError, cross_checks
from planner.plan.amplifier import Amplifier, Cable, Rating
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Candidate

__all__ = ["Pairings", "pairings"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Pairings:
    """Loudspeakers (L) by amplifiers (M) by seats (K).

    ``headroom_db`` and ``watts_needed`` are (L, M, K), ``watts_rated`` (L, M). Where a loudspeaker or an
    amplifier cannot take part (``findings`` and ``amplifier_findings`` say why, by its index) its row or
    column is NaN.
    """

    headroom_db: FloatArray
    watts_needed: FloatArray
    watts_rated: FloatArray
    findings: dict[int, tuple[Finding, ...]]
    amplifier_findings: dict[int, tuple[Finding, ...]]

    @property
    def worst_db(self) -> FloatArray:
        """Headroom at the worst seat, (L, M) [dB]."""
        return np.asarray(self.headroom_db.min(axis=-1))


@dataclass(frozen=True, slots=True, eq=False)
class _Heard:
    """What a volt at the terminals of one loudspeaker does: field at the seats (K, B), limits, load."""

    field: FloatArray
    ohm: NDArray[np.complex128]
    nominal_ohm: float
    limit_shares: FloatArray
    limit_most: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Driven:
    """Every amplifier on every load, for a programme of 1 V EMF.

    ``volts2`` and ``current2`` are mean squares by band, at the loudspeaker, (L, M, B). ``clip_emf_v`` and
    ``clip_a`` are the peaks at which an amplifier gives out, ``rated_w`` its rating in use, (L, M).
    """

    volts2: FloatArray
    current2: FloatArray
    clip_emf_v: FloatArray
    clip_a: FloatArray
    rated_w: FloatArray


def pairings(
    plan: Plan,
    loudspeakers: Sequence[Loudspeaker],
    amplifiers: Sequence[Amplifier],
    cable: Cable | None = None,
) -> Pairings:
    """Headroom of every pair at every seat; one amplifier drives the whole loudspeaker.

    All stand on the stands of the plan. What an amplifier drove elsewhere, and its trim, do not count.

    Raises
    ------
    PlanError
        If room, seats and stands themselves have findings, whichever loudspeaker stands there.
    """
    shared = cross_checks(plan.model_copy(update={"candidates": ()}))
    if shared:
        raise PlanError(shared)
    whole_shape = (len(loudspeakers), len(amplifiers), len(plan.seats))
    headroom_db, watts_needed = np.full(whole_shape, np.nan), np.full(whole_shape, np.nan)
    watts_rated = np.full(whole_shape[:2], np.nan)
    findings, amplifier_findings = _unfit(plan, loudspeakers), _unfit_amplifiers(amplifiers)
    stage = stage_of(_with(plan, [one for row, one in enumerate(loudspeakers) if row not in findings]))
    heard = _all_heard(plan, loudspeakers, stage, findings)
    columns = [column for column in range(len(amplifiers)) if column not in amplifier_findings]
    if heard and columns:
        found = list(heard.values())
        driven = _driven(found, [amplifiers[one] for one in columns], stage, cable_ohm(cable), plan)
        gain_db = _gain_db(plan, found, driven)
        amplifier_db = _amplifier_db(driven, stage) - plan.programme.crest_db
        pairs = np.ix_(list(heard), columns)
        headroom_db[pairs] = np.minimum(amplifier_db, _loudspeaker_db(found, driven))[..., None] - gain_db
        watts_rated[pairs] = driven.rated_w
        short_db = gain_db - amplifier_db[..., None]
        watts_needed[pairs] = driven.rated_w[..., None] * 10.0 ** (short_db / 10.0)
    return Pairings(headroom_db, watts_needed, watts_rated, findings, amplifier_findings)


_ANY_AMPLIFIER = Amplifier(
    name="any", drives="all", taps=(Rating(ohm=8.0, watts=1.0, distortion_pct=0.0, output_ohm=0.0),)
)
"""Stands in where only the loudspeaker matters."""


def _with(plan: Plan, loudspeakers: Sequence[Loudspeaker]) -> Plan:
    """The plan with a candidate for every loudspeaker."""
    candidates = tuple(
        Candidate.model_construct(name=one.name, loudspeaker=one, amplifiers=(_ANY_AMPLIFIER,))
        for one in loudspeakers
    )
    return plan.model_copy(update={"candidates": candidates})


def _unfit(plan: Plan, loudspeakers: Sequence[Loudspeaker]) -> dict[int, tuple[Finding, ...]]:
    """What is wrong with the loudspeakers that cannot stand here or be driven by one amplifier."""
    findings = {index: cross_checks(_with(plan, [one])) for index, one in enumerate(loudspeakers)}
    return {index: found for index, found in findings.items() if found}


def _unfit_amplifiers(amplifiers: Sequence[Amplifier]) -> dict[int, tuple[Finding, ...]]:
    """What is wrong with the amplifiers whose tap in use is none of theirs."""
    return {
        index: (Finding("amplifiers[0].tap_ohm", f"{one.tap_ohm:g}", f"a tap of {one.name}"),)
        for index, one in enumerate(amplifiers)
        if one.tap_ohm is not None and one.tap_ohm not in {tap.ohm for tap in one.taps}
    }


def _all_heard(
    plan: Plan,
    loudspeakers: Sequence[Loudspeaker],
    stage: Stage,
    findings: dict[int, tuple[Finding, ...]],
) -> dict[int, _Heard]:
    """What each loudspeaker does at the seats, by its index; one that is not heard becomes a finding."""
    heard: dict[int, _Heard] = {}
    for index, one in enumerate(loudspeakers):
        if index in findings:
            continue
        made = _heard(plan, one, stage)
        if np.all(made.field.sum(axis=-1) > 0.0):
            heard[index] = made
        else:
            expected = "sections that play within 20 Hz to 20 kHz"
            findings[index] = (Finding("candidates[0].loudspeaker.sections", one.name, expected),)
    return heard


def _heard(plan: Plan, loudspeaker: Loudspeaker, stage: Stage) -> _Heard:
    whole = loudspeaker.impedance
    assert whole is not None, "cross-checks refuse a loudspeaker without it"
    sources = sources_of(loudspeaker, [whole] * len(loudspeaker.sections), stage.scene)
    carries = carried(plan.stands, loudspeaker)
    arrival = arrive(sources.pressure, carries, sources, stage.scene, stage.room, stage.modal)
    loads = [wired_impedance(section) or whole for section in loudspeaker.sections]
    crests_db = crests_of(plan.programme, loudspeaker)
    limits = section_capabilities(
        loudspeaker, loads, sources.inner, sources.pressure, crests_db, air_of(plan)[::2]
    )
    return _Heard(
        field=arrival.peak if plan.target.peak_db is not None else arrival.steady,
        ohm=impedance_at(whole, BAND_HZ),
        nominal_ohm=whole.nominal_ohm,
        limit_shares=np.array([one.share for one in limits]).reshape(-1, BAND_HZ.size),
        limit_most=np.array([10.0 ** (one.total_db / 10.0) * one.share.sum() for one in limits]),
    )


def _driven(
    heard: Sequence[_Heard], amplifiers: Sequence[Amplifier], stage: Stage, loop_ohm: float, plan: Plan
) -> _Driven:
    # An amplifier knows of a loudspeaker only the nominal impedance, and there are few of those.
    nominal_ohm, load = np.unique([each.nominal_ohm for each in heard], return_inverse=True)
    on_loads = np.array(
        [[_on_load(one, ohm, plan.at_distortion_pct) for one in amplifiers] for ohm in nominal_ohm]
    )
    output_ohm, clip_emf_v, clip_a, rated_w = np.moveaxis(on_loads[load], -1, 0)
    ohm = np.array([each.ohm for each in heard])[:, None, :]
    current2 = stage.shares / np.abs(ohm + loop_ohm + output_ohm[..., None]) ** 2
    return _Driven(current2 * np.abs(ohm) ** 2, current2, clip_emf_v, clip_a, rated_w)


def _on_load(
    amplifier: Amplifier, nominal_ohm: float, at_distortion_pct: float
) -> tuple[float, float, float, float]:
    """Output impedance, peak EMF and peak amps at which it gives out, and the rating in use."""
    rating = rating_in_use(amplifier, nominal_ohm, at_distortion_pct)
    volts, amps = clip_of(amplifier, rating, at_distortion_pct)
    return rating.output_ohm, volts * (1.0 + rating.output_ohm / rating.ohm), amps, rating.watts


def _gain_db(plan: Plan, heard: Sequence[_Heard], driven: _Driven) -> FloatArray:
    """How far the programme must rise above 1 V EMF for the target, (L, M, K)."""
    fields = np.array([each.field for each in heard])
    level_db = 10.0 * np.log10(driven.volts2 @ fields.swapaxes(-1, -2))
    if plan.target.peak_db is not None:
        return np.asarray(plan.target.peak_db - plan.programme.crest_db - level_db)
    return np.asarray((plan.target.average_db or 0.0) - level_db)


def _amplifier_db(driven: _Driven, stage: Stage) -> FloatArray:
    """How far the programme may rise above 1 V EMF before the amplifier gives out, peaks at rms (L, M)."""
    volts_db = 20.0 * np.log10(driven.clip_emf_v) - 10.0 * np.log10(stage.shares.sum())
    amps_db = 20.0 * np.log10(driven.clip_a) - 10.0 * np.log10(driven.current2.sum(axis=-1))
    return np.asarray(np.minimum(volts_db, amps_db))


def _loudspeaker_db(heard: Sequence[_Heard], driven: _Driven) -> FloatArray:
    """How far the programme may rise above 1 V EMF before the loudspeaker gives out, (L, M)."""
    least_db = np.full(driven.rated_w.shape, np.inf)
    for row, each in enumerate(heard):
        if each.limit_most.size:
            asked = driven.volts2[row] @ each.limit_shares.T
            least_db[row] = 10.0 * np.log10(each.limit_most / asked).min(axis=-1)
    return least_db
