"""How sure the headroom is: inputs drawn within their tolerances, all draws in one pass.

Draws are stratified (a Latin hypercube with a fixed seed): the same plan gives the same answer, and
ten thousand of them settle the chance far better than as many plain random ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from planner.headroom.capability import Capability
from planner.headroom.field import direct_amplitudes, reverberant_strength
from planner.headroom.placed import placed
from planner.headroom.system import System, stage_of, system_of
from planner.plan import Plan
from planner.plan.loudspeaker import Impedance
from planner.plan.model import Candidate, Tolerances

__all__ = ["CASES", "DRAWS", "INPUTS", "Certainty", "certainty"]

FloatArray = NDArray[np.float64]
SingleArray = NDArray[np.float32]
Values = TypeVar("Values", FloatArray, SingleArray)

DRAWS = 10_000
CASES = 20
INPUTS = (
    "sensitivity_db",
    "low_room_gain_db",
    "t60_pct",
    "distance_m",
    "transient_ratio",
    "crest_db",
    "rating_pct",
    "impedance_pct",
)
_NODES = np.linspace(-3.9, 3.9, 7)
_LEAST_M = 0.05


@dataclass(frozen=True, slots=True)
class Certainty:
    """How sure the headroom at one seat is.

    ``chance_unclipped`` is the share of draws that play the peak unclipped, ``range_db`` the 10 %
    and 90 % points of headroom, ``doubt`` the inputs with the share of the variance each brings,
    the greatest first. ``cases_db`` is the headroom of :data:`CASES` cases that are equally likely,
    the least first: the middles of as many slices of the distribution.
    """

    chance_unclipped: float
    range_db: tuple[float, float]
    doubt: tuple[tuple[str, float], ...]
    cases_db: tuple[float, ...]


def certainty(plan: Plan, candidate: int = 0, seats: tuple[int, ...] | None = None) -> list[Certainty]:
    """How sure the headroom of a candidate is at each seat (or at some of them).

    Raises
    ------
    PlanError
        With all findings, as :func:`planner.headroom.compute` does.
    """
    plan = placed(plan, candidate)
    system = system_of(plan, plan.candidates[candidate], stage_of(plan))
    draws = _Draws(plan.tolerances or Tolerances(), standard_draws())
    by_impedance = _by_impedance(plan, system, draws)
    return [
        _judged(_headrooms(plan, system, draws, seat, by_impedance))
        for seat in (range(len(plan.seats)) if seats is None else seats)
    ]


def _judged(headroom_db: FloatArray) -> Certainty:
    low, high = np.percentile(headroom_db, [10.0, 90.0])
    cases = np.percentile(headroom_db, (np.arange(CASES) + 0.5) * (100.0 / CASES))
    return Certainty(
        chance_unclipped=float(np.mean(headroom_db >= 0.0)),
        range_db=(float(low), float(high)),
        doubt=_doubt(headroom_db),
        cases_db=tuple(cases.tolist()),
    )


def _doubt(headroom_db: FloatArray) -> tuple[tuple[str, float], ...]:
    """Shares of variance by squared correlation with each input, which the draws keep independent."""
    centred = headroom_db - headroom_db.mean()
    normal = standard_draws()
    explained = (normal @ centred) ** 2 / (normal**2).sum(axis=1)
    total = explained.sum()
    shares = explained / total if total > 0.0 else explained
    order = np.argsort(-shares, kind="stable")
    return tuple((INPUTS[index], float(shares[index])) for index in order)


@cache
def standard_draws(count: int = DRAWS) -> FloatArray:
    """Standard normal draws, (inputs, count): every stratum of every input is met once."""
    normal = NormalDist()
    strata = np.array([normal.inv_cdf((index + 0.5) / count) for index in range(count)])
    shuffled = np.random.default_rng(1979)
    return np.array([shuffled.permutation(strata) for _ in INPUTS])


@dataclass(frozen=True, slots=True, eq=False)
class _Draws:
    """The inputs' deviations for every draw (D,)."""

    tolerances: Tolerances
    normal: FloatArray

    def shift(self, key: str) -> FloatArray:
        """A normal deviation in the input's own unit."""
        return np.asarray(self.normal[INPUTS.index(key)] * getattr(self.tolerances, key))

    def ratio(self, key: str) -> FloatArray:
        """A lognormal factor about 1; a deviation of p per cent is a factor of 1 + p/100."""
        return np.asarray(np.exp(self.normal[INPUTS.index(key)] * self.spread(key)))

    def spread(self, key: str) -> float:
        """Standard deviation of the logarithm of a lognormal input."""
        given = float(getattr(self.tolerances, key))
        return float(np.log(given) if key.endswith("ratio") else np.log1p(given / 100.0))


@dataclass(frozen=True, slots=True, eq=False)
class _ByImpedance:
    """Limits and levels computed at a few impedances, and where each draw lies between them.

    ``totals_db`` (nodes, C) are the capabilities, ``power`` (nodes, K, B) what arrives against what
    the impedance of the plan makes, ``lower`` and ``part`` (D,) the node below and the way to the next.
    """

    totals_db: FloatArray
    ratios: FloatArray
    lower: NDArray[np.int64]
    part: FloatArray

    def capability(self) -> FloatArray:
        """The capabilities in every draw, (C, D) [dB re 1 V EMF]."""
        return _between(self.totals_db, self.lower, self.part).T

    def power(self, seat: int) -> SingleArray:
        """What arrives at a seat in every draw against the plan's impedance, (D, B)."""
        return _between(_single(self.ratios[:, seat]), self.lower, _single(self.part))


def _between(nodes: Values, lower: NDArray[np.int64], part: Values) -> Values:
    """Values on the way *part* (D,) from the node below (D,) to the next, (D, ...)."""
    slope = np.diff(nodes, axis=0)
    between: Values = nodes[lower] + slope[lower] * part[:, None]
    return between


def _by_impedance(plan: Plan, system: System, draws: _Draws) -> _ByImpedance:
    factors = np.exp(_NODES * draws.spread("impedance_pct"))
    systems = [system_of(plan, _scaled(system.candidate, factor), system.stage) for factor in factors]
    place = (draws.normal[INPUTS.index("impedance_pct")] - _NODES[0]) / (_NODES[1] - _NODES[0])
    lower = np.clip(place.astype(np.int64), 0, _NODES.size - 2)
    return _ByImpedance(
        totals_db=np.array([[one.total_db for one in each.capabilities] for each in systems]),
        ratios=np.array([each.arrival.peak for each in systems]) / system.arrival.peak,
        lower=lower,
        part=place - lower,
    )


def _scaled(candidate: Candidate, factor: float) -> Candidate:
    """The candidate with every impedance curve times *factor*; nominal values stay as they are."""
    loudspeaker = candidate.loudspeaker
    sections = tuple(
        section.model_copy(update={"impedance": _times(section.impedance, factor)})
        for section in loudspeaker.sections
    )
    changes = {"impedance": _times(loudspeaker.impedance, factor), "sections": sections}
    return candidate.model_copy(update={"loudspeaker": loudspeaker.model_copy(update=changes)})


def _times(impedance: Impedance | None, factor: float) -> Impedance | None:
    if impedance is None:
        return None
    table = impedance.table or ()
    if impedance.driver is None and not table:
        table = ((1000.0, impedance.nominal_ohm, 0.0),)
    scaled = tuple((hertz, ohm * factor, degrees) for hertz, ohm, degrees in table) or None
    driver = impedance.driver
    if driver is not None:
        changes = {"dc_ohm": driver.dc_ohm * factor, "inductance_h": driver.inductance_h * factor}
        driver = driver.model_copy(update=changes)
    return impedance.model_copy(update={"table": scaled, "driver": driver})


def _headrooms(
    plan: Plan, system: System, draws: _Draws, seat: int, by_impedance: _ByImpedance
) -> FloatArray:
    """Headroom at one seat for every draw (D,)."""
    crest_db = draws.shift("crest_db")
    held_peak = plan.target.peak_db is not None
    field = _field(plan, system, draws, seat, built_up=held_peak)
    power = (field * by_impedance.power(seat)).sum(axis=-1)
    level_db = 10.0 * np.log10(power) + draws.shift("sensitivity_db")
    held_db = plan.target.peak_db if held_peak else plan.target.average_db
    crest_now = plan.programme.crest_db + crest_db if held_peak else 0.0
    gain_db = (held_db or 0.0) - crest_now - level_db
    return np.asarray(_least_capability(system, draws, by_impedance, crest_db) - gain_db)


def _least_capability(
    system: System, draws: _Draws, by_impedance: _ByImpedance, crest_db: FloatArray
) -> FloatArray:
    """How far the programme may rise in every draw until the first limit, (D,) [dB re 1 V EMF]."""
    rating_db = 10.0 * np.log10(draws.ratio("rating_pct"))
    total = by_impedance.capability()
    for index, one in enumerate(system.capabilities):
        total[index] += _shift(one, rating_db, crest_db, draws)
    return np.asarray(total.min(axis=0))


def _shift(one: Capability, rating_db: FloatArray, crest_db: FloatArray, draws: _Draws) -> FloatArray:
    if one.quantity in ("voltage", "current"):
        return rating_db - crest_db
    if one.quantity == "excursion":
        # More pressure from a volt asks for more travel, too.
        return -crest_db - draws.shift("sensitivity_db")
    return -crest_db if one.quantity == "peak power" else np.zeros_like(crest_db)


def _field(plan: Plan, system: System, draws: _Draws, seat: int, *, built_up: bool) -> SingleArray:
    """Mean square pressure at the seat for every draw, 1 V EMF, nominal impedance, (D, B).

    The arrays over draws and bands are single precision: 1e-6 dB is enough, and exponentials are
    several times quicker.
    """
    scene, stage = system.stage.scene, system.stage
    farther = np.maximum(draws.shift("distance_m"), _LEAST_M - scene.distance_m[seat].min())
    near = scene.distance_m[seat]
    amplitudes = direct_amplitudes(system.pressure, system.carried, system.sources, scene)[seat]
    # Air takes nothing worth naming over a few centimetres, so only 1/r is drawn.
    closer = near / (near + farther[:, None])
    direct = _direct(_single(closer), _single(amplitudes), _single(scene.coherence))
    room = stage.room
    if room is None:
        return direct
    exponent = _single(room.exponent / draws.ratio("t60_pct")[:, None])
    strength = reverberant_strength(system.pressure, system.carried, system.sources)
    ways = _single((near + farther[:, None]) * room.surface_m2 / (4.0 * room.volume_m3))
    reverberant = np.zeros_like(exponent)
    for stand in range(near.size):
        reverberant += _single(strength[stand]) * np.exp(-exponent * ways[:, stand, None])
    reverberant *= np.float32(16.0 * np.pi / room.surface_m2) / exponent
    if built_up:
        transient = plan.programme.transient_ms / 1000.0 * draws.ratio("transient_ratio")
        decays = 6.0 * np.log(10.0) * (transient / draws.ratio("t60_pct"))[:, None] / room.t60_s
        reverberant *= np.float32(1.0) - np.exp(-_single(decays))
    statistical: SingleArray = direct + reverberant
    if stage.modal is None or system.arrival.modal is None:
        return statistical
    weight = stage.modal.weight
    modal = system.arrival.modal[seat] * weight
    low: SingleArray = (
        _single(10.0 ** (draws.shift("low_room_gain_db") / 10.0))[:, None] * _single(modal)
        + _single(1.0 - weight) * statistical
    )
    return low


def _direct(closer: SingleArray, amplitudes: SingleArray, coherence: SingleArray) -> SingleArray:
    """Σp² + 2ρ Σ pᵢpⱼ for stands (N, B) brought closer by factors (D, N), as matrix products, (D, B)."""
    apart, together = closer**2 @ amplitudes**2, (closer @ amplitudes) ** 2
    direct: SingleArray = np.maximum((np.float32(1.0) - coherence) * apart + coherence * together, 0)
    return direct


def _single(values: FloatArray) -> SingleArray:
    return values.astype(np.float32)
