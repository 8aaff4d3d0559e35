"""Ways to clear: single changes, each of which alone would leave 3 dB of headroom at a seat.

Every amount is found by computing the whole plan anew, never by rule; what cannot clear the seat
within sensible bounds is said to be not possible.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from planner.headroom.changes import CHANGES, Change
from planner.headroom.outcome import TIGHT_BELOW_DB
from planner.headroom.placed import placed, put_back
from planner.headroom.system import stage_of, system_of
from planner.plan import Plan, PlanError

__all__ = ["Way", "ways_to_clear"]

# A hair above 3 dB, so that a plan with the change applied reads "clears" whatever is rounded.
WANTED_DB = TIGHT_BELOW_DB + 0.0005
CLOSE_DB = 0.002
MOST_STEPS = 40


@dataclass(frozen=True, slots=True)
class Way:
    """One change: its key, the value now and the value that clears, in a unit of the plan.

    ``to_value`` and ``plan`` are None where the change alone cannot clear the seat; ``headroom_db``
    is what the changed plan gives, or the best that could be had.
    """

    change: str
    from_value: float
    to_value: float | None
    unit: str
    headroom_db: float
    plan: Plan | None


def ways_to_clear(
    plan: Plan, candidate: int, seat: int, *, progress: Callable[[float], bool] | None = None
) -> list[Way]:
    """Every way that makes sense for this plan, those not possible included; empty if it clears already.

    *progress* is told the share of the work that is done and answers whether to go on; if not, the ways
    found until then are given.

    Raises
    ------
    PlanError
        With all findings, as :func:`planner.headroom.compute` does.
    """
    here = placed(plan, candidate)
    now_db = _headroom(here, candidate, seat)
    if now_db >= TIGHT_BELOW_DB:
        return []
    changes = [change for change in CHANGES if change.applies(here, candidate, seat)]
    ways: list[Way] = []
    for number, change in enumerate(changes):
        if progress is not None and not progress(number / len(changes)):
            break
        way = _way(change, here, candidate, seat, now_db)
        ways.append(replace(way, plan=way.plan and put_back(way.plan, plan, candidate)))
    return ways


def _way(change: Change, plan: Plan, candidate: int, seat: int, now_db: float) -> Way:
    start, end = change.bounds(plan, candidate, seat)

    def headroom_at(place: float) -> float:
        return _headroom(change.apply(plan, candidate, seat, change.value_at(place)), candidate, seat)

    found, best_db = _first_reaching(headroom_at, change.places(start, end), now_db, whole=change.whole)
    if found is None:
        return Way(change.key, start, None, change.unit, best_db, None)
    value = change.value_at(found)
    changed = change.apply(plan, candidate, seat, value)
    return Way(change.key, start, value, change.unit, best_db, changed)


def _headroom(plan: Plan, candidate: int, seat: int) -> float:
    """Headroom at one seat by the full computation; minus infinity where the plan makes no sense."""
    alone, place = _alone(plan, candidate, seat)
    try:
        stage = stage_of(alone)
        system = system_of(alone, alone.candidates[0], stage)
    except PlanError:
        if not plan.seats:
            raise
        return -np.inf
    return system.first.total_db - float(system.gain_db[place])


def _alone(plan: Plan, candidate: int, seat: int) -> tuple[Plan, int]:
    """The plan with one candidate, this seat, and the seats that loudspeakers are aimed at."""
    aimed = {stand.aim.seat for stand in plan.stands}
    kept = [index for index, one in enumerate(plan.seats) if index == seat or one.name in aimed]
    seats = tuple(plan.seats[index] for index in kept)
    update = {"seats": seats, "candidates": (plan.candidates[candidate],)}
    return plan.model_copy(update=update), kept.index(seat)


def _first_reaching(
    headroom_at: Callable[[float], float], places: list[float], now_db: float, *, whole: bool
) -> tuple[float | None, float]:
    """The first place on the way with the headroom wanted, and the headroom there.

    None, with the best headroom met, if there is no such place.
    """
    below, below_db, best_db = places[0], now_db, now_db
    for place in places[1:]:
        place_db = headroom_at(place)
        best_db = max(best_db, place_db)
        if place_db >= WANTED_DB:
            if whole:
                return place, place_db
            return _between(headroom_at, (below, below_db), (place, place_db))
        below, below_db = place, place_db
    return None, best_db


def _between(
    headroom_at: Callable[[float], float], below: tuple[float, float], above: tuple[float, float]
) -> tuple[float, float]:
    """Regula falsi with halving (the Illinois rule) between a value that lacks and one that has enough."""
    (low, low_db), (high, high_db) = below, above
    low_gap, high_gap = max(low_db, -1e3) - WANTED_DB, high_db - WANTED_DB
    for _ in range(MOST_STEPS):
        if high_db - WANTED_DB <= CLOSE_DB:
            break
        middle = low + (high - low) * low_gap / (low_gap - high_gap)
        middle_db = headroom_at(middle)
        if middle_db >= WANTED_DB:
            high, high_db, high_gap, low_gap = middle, middle_db, middle_db - WANTED_DB, low_gap / 2.0
        else:
            low, low_gap, high_gap = middle, max(middle_db, -1e3) - WANTED_DB, high_gap / 2.0
    return high, high_db
