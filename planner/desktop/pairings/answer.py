"""What comes of every pair: worked out beside the window, and read for one seat or the worst."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.desktop.background import Progress
from planner.desktop.pairings.offers import Offer
from planner.headroom.catalogue_search import rated_watts, sensitivity_db
from planner.headroom.outcome import verdict_of
from planner.headroom.pairings import Pairings, pairings
from planner.plan import Finding, Plan, PlanError
from planner.plan.amplifier import Amplifier, Cable
from planner.plan.loudspeaker import Loudspeaker

__all__ = ["Answer", "AtSeat", "Pair", "find"]

FloatArray = NDArray[np.float64]
AT_OHM = 8.0
"""The load for which the watts of an amplifier stand at the head of its column."""
LEAST_DIFFERENCE_DB = 0.05
KNOWN = lru_cache(maxsize=1024)(sensitivity_db)


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """Loudspeakers (L) by amplifiers (M) by seats (K), or only ``findings`` where the room has some.

    ``sensitivity_db`` (L,) is the level for 1 W at 1 m, ``watts`` (M,) the rating into 8 ohm.
    """

    loudspeakers: tuple[Offer[Loudspeaker], ...]
    amplifiers: tuple[Offer[Amplifier], ...]
    seats: tuple[str, ...]
    sensitivity_db: FloatArray
    watts: FloatArray
    pairs: Pairings | None
    findings: tuple[Finding, ...] = ()

    def at(self, seat: int | None) -> AtSeat:
        """The answer at a seat, or for None at each pair's worst."""
        assert self.pairs is not None, "there are no pairs where the room has findings"
        headroom, needed = self.pairs.headroom_db, self.pairs.watts_needed
        if seat is None:
            # The seat with the least headroom asks the most watts too: both rise with the same gain.
            where = np.where(np.isnan(headroom), np.inf, headroom).argmin(axis=-1)
        else:
            where = np.full(headroom.shape[:2], min(seat, len(self.seats) - 1))
        pick = where[..., None]
        return AtSeat(
            np.take_along_axis(headroom, pick, axis=-1)[..., 0],
            np.take_along_axis(needed, pick, axis=-1)[..., 0],
            self.pairs.watts_rated,
            where,
        )


@dataclass(frozen=True, slots=True)
class Pair:
    """One pair at one seat; where its loudspeaker gives out first, more watts would not help."""

    headroom_db: float
    watts_needed: float
    watts_rated: float
    seat: int

    @property
    def verdict(self) -> str:
        """``clears``, ``tight`` or ``short``."""
        return verdict_of(self.headroom_db)

    @property
    def takes_part(self) -> bool:
        """Whether there is an answer for the pair."""
        return bool(np.isfinite(self.headroom_db))

    @property
    def loudspeaker_first(self) -> bool:
        """Whether the loudspeaker gives out before the amplifier."""
        amplifier_db = 10.0 * np.log10(self.watts_rated / self.watts_needed)
        return bool(amplifier_db - self.headroom_db > LEAST_DIFFERENCE_DB)


@dataclass(frozen=True, slots=True, eq=False)
class AtSeat:
    """Every pair at one seat, or at its own worst, (L, M) each; NaN where a pair cannot take part."""

    headroom_db: FloatArray
    watts_needed: FloatArray
    watts_rated: FloatArray
    seat: NDArray[np.int_]

    def pair(self, row: int, column: int) -> Pair:
        """One of the pairs."""
        at = row, column
        return Pair(
            float(self.headroom_db[at]),
            float(self.watts_needed[at]),
            float(self.watts_rated[at]),
            int(self.seat[at]),
        )


def find(
    plan: Plan,
    cable: Cable | None,
    loudspeakers: tuple[Offer[Loudspeaker], ...],
    amplifiers: tuple[Offer[Amplifier], ...],
    progress: Progress,
) -> Answer:
    """Work out every pair in the room of a plan."""
    levels = [KNOWN(one.thing) for one in loudspeakers]
    found: Pairings | None = None
    findings: tuple[Finding, ...] = ()
    if progress(0.2):
        try:
            found = pairings(
                plan, [one.thing for one in loudspeakers], [one.thing for one in amplifiers], cable
            )
        except PlanError as error:
            findings = error.findings
    return Answer(
        loudspeakers,
        amplifiers,
        tuple(seat.name for seat in plan.seats),
        np.array([np.nan if level is None else level for level in levels]),
        np.array([_watts(one.thing, plan.at_distortion_pct) for one in amplifiers]),
        found,
        findings,
    )


def _watts(amplifier: Amplifier, at_distortion_pct: float) -> float:
    """The rating into 8 ohm; NaN where the tap in use is none of the amplifier's."""
    try:
        return rated_watts(amplifier, AT_OHM, at_distortion_pct)[0]
    except ValueError:
        return float("nan")
