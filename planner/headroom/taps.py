"""What each tap of an amplifier would give, and why the one in use is in use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.drive import load_of, rating_in_use
from planner.headroom.outcome import FirstLimit
from planner.headroom.placed import placed
from planner.headroom.system import Stage, System, stage_of, system_of
from planner.plan import Plan
from planner.plan.amplifier import Amplifier, Rating
from planner.plan.edit import rebuilt
from planner.plan.model import Candidate

__all__ = ["AmplifierTaps", "Tap", "tap_choices"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Tap:
    """One tap, as if it were the one in use.

    ``rating`` is the one that would count. ``headroom_db`` (K,) is that of the whole candidate at every
    seat, ``amplifier_db`` (K,) that of this amplifier alone [dB], and ``first_limit`` what would give out
    first. ``counts`` is False where all its ratings lie above the distortion asked for.
    """

    ohm: float
    rating: Rating
    headroom_db: FloatArray
    amplifier_db: FloatArray
    first_limit: FirstLimit
    counts: bool


@dataclass(frozen=True, slots=True, eq=False)
class AmplifierTaps:
    """All taps of one amplifier, from low to high.

    ``by_rule_ohm`` is the tap that the rule takes, the one nearest the nominal impedance on a log scale,
    and ``in_use_ohm`` the one that the plan has; they differ only where the plan states ``tap_ohm``.
    """

    name: str
    nominal_ohm: float
    stated_ohm: float | None
    in_use_ohm: float
    by_rule_ohm: float
    taps: tuple[Tap, ...]

    @property
    def in_use(self) -> Tap:
        """The tap that the plan has."""
        return next(tap for tap in self.taps if tap.ohm == self.in_use_ohm)

    @property
    def best(self) -> Tap:
        """The tap with most headroom at the seat that has least of it, the lowest if several have."""
        return max(self.taps, key=lambda tap: (round(float(tap.headroom_db.min()), 6), -tap.ohm))


def tap_choices(plan: Plan, candidate: int = 0) -> tuple[AmplifierTaps, ...]:
    """What every tap of every amplifier of a candidate would give, each by the whole computation.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    here = placed(plan, candidate)
    stage, chosen = stage_of(here), here.candidates[candidate]
    return tuple(_of(here, chosen, index, stage) for index in range(len(chosen.amplifiers)))


def _of(plan: Plan, candidate: Candidate, index: int, stage: Stage) -> AmplifierTaps:
    amplifier = candidate.amplifiers[index]
    nominal = load_of(candidate, amplifier).nominal_ohm
    free = rebuilt(amplifier, {"tap_ohm": None})
    assert isinstance(free, Amplifier)
    distortion = plan.at_distortion_pct
    return AmplifierTaps(
        name=amplifier.name,
        nominal_ohm=nominal,
        stated_ohm=amplifier.tap_ohm,
        in_use_ohm=rating_in_use(amplifier, nominal, distortion).ohm,
        by_rule_ohm=rating_in_use(free, nominal, distortion).ohm,
        taps=tuple(_taps(plan, candidate, index, stage)),
    )


def _taps(plan: Plan, candidate: Candidate, index: int, stage: Stage) -> Iterator[Tap]:
    amplifier = candidate.amplifiers[index]
    for ohm in sorted({tap.ohm for tap in amplifier.taps}):
        changed = rebuilt(amplifier, {"tap_ohm": ohm})
        others = (*candidate.amplifiers[:index], changed, *candidate.amplifiers[index + 1 :])
        system = system_of(plan, candidate.model_copy(update={"amplifiers": others}), stage)
        yield _tap(system, index, plan.at_distortion_pct)


def _tap(system: System, index: int, at_distortion_pct: float) -> Tap:
    first, rating = system.first, system.drives[index].rating
    return Tap(
        ohm=rating.ohm,
        rating=rating,
        headroom_db=first.total_db - system.gain_db,
        amplifier_db=system.amplifier_limit(index).total_db - system.gain_db,
        first_limit=FirstLimit(
            first.part, first.quantity, float(system.stage.scene.band_hz[first.hardest_band()])
        ),
        counts=rating.distortion_pct <= at_distortion_pct,
    )
