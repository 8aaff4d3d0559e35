"""The best place for a seat, or for the stands, within an area: where the bass is strongest and most even.

A grid over the area is tried with few lines a band, the best of it again with the full physics, and from
the very best the search creeps on in ever smaller steps. The present place takes part, so the result is
never worse.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planner.headroom.bass import Bass, bass_levels, played_bands
from planner.headroom.compute import compute
from planner.headroom.modal import LINES
from planner.headroom.placed import placed, put_back
from planner.headroom.places import Area, Move, allowed, here, inside, moved_to, placements, spots_over
from planner.headroom.scene import BAND_HZ
from planner.headroom.system import System, stage_of, system_of
from planner.plan import Finding, Plan, PlanError
from planner.plan.room import Room

__all__ = ["Area", "Placing", "Progress", "best_seat", "best_stands"]

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
Progress = Callable[[float], bool]
"""Told the share of the work that is done; answers whether to go on."""

FEW_LINES = 12
AT_ONCE = 128
FINALISTS = 12
LEAST_STEP_M = 0.01
MOST_STEPS = 24
ROUNDS = 2
GRID_SHARE = 0.9
_AROUND = np.array([(x, y) for x in (-1.0, 0.0, 1.0) for y in (-1.0, 0.0, 1.0) if (x, y) != (0.0, 0.0)])


@dataclass(frozen=True, slots=True, eq=False)
class Placing:
    """A better place, and what it brings to the seat it was sought for.

    ``plan`` has everything in its new place. ``score_gain_db`` is what the search went by, the sum of
    ``level_gain_db`` (more energy, mean of the bands judged) and ``evenness_gain_db`` (a smaller standard
    deviation of their levels). ``band_hz``, ``before_db`` and ``after_db`` (b,) are the bands judged and
    their levels for 1 V in each. Watts needed are those of the full answer.
    """

    plan: Plan
    score_gain_db: float
    level_gain_db: float
    evenness_gain_db: float
    watts_before: float
    watts_after: float
    band_hz: FloatArray
    before_db: FloatArray
    after_db: FloatArray


def best_seat(
    plan: Plan, candidate: int, seat: int, area: Area, *, progress: Progress | None = None
) -> Placing | None:
    """The place within an area where one seat hears the best bass of a candidate; None if cancelled.

    Best is the highest score: energy mean less standard deviation [dB] of the levels in those thirds from
    31.5 to 200 Hz that the loudspeaker itself plays (common sense, no published source).

    Raises
    ------
    PlanError
        If the plan has findings or no room, or nobody may sit anywhere in the area.
    """
    return _sought(plan, candidate, seat, [Move("seats", seat)], area, progress)


def best_stands(
    plan: Plan,
    candidate: int,
    stands: tuple[int, ...],
    area: Area,
    *,
    seat: int = 0,
    mirrored: bool = False,
    progress: Progress | None = None,
) -> Placing | None:
    """The places within an area from which some stands give one seat the best bass; None if cancelled.

    Best is as for :func:`best_seat`. Stands are moved one after the other, twice around. *mirrored*, there
    are two: the first is sought within the area and the other kept opposite, across the line that halves
    the room's width.

    Raises
    ------
    PlanError
        If the plan has findings or no room, or nothing may stand anywhere in the area.
    ValueError
        If two stands are not given where they shall mirror each other.
    """
    if mirrored:
        if len(stands) != 2:
            raise ValueError(f"mirrored takes two stands, got {len(stands)}")
        return _sought(plan, candidate, seat, [Move("stands", *stands)], area, progress)
    moves = [Move("stands", index) for index in stands] * (ROUNDS if len(stands) > 1 else 1)
    return _sought(plan, candidate, seat, moves, area, progress)


class _Cancelled(Exception):
    """Whoever waited has lost patience."""


@dataclass(frozen=True, slots=True)
class _Question:
    """What stays the same all through a search: whose bass is judged, at which seat, and who is told."""

    room: Room
    system: System
    bands: IntArray
    seat: int
    area: Area
    progress: Progress | None

    def bass(self, plan: Plan, move: Move, spots: FloatArray, lines: int = LINES) -> Bass:
        """The bass with a thing at each of the spots; the full physics unless with fewer lines."""
        places = placements(plan, self.room, move, self.seat, spots)
        return bass_levels(self.room, self.system, self.bands, places, lines=lines, head=lines == LINES)

    def tell(self, share: float) -> None:
        """Say how far things are, and stop if so answered."""
        if self.progress is not None and not self.progress(share):
            raise _Cancelled


def _sought(
    plan: Plan, candidate: int, seat: int, moves: list[Move], area: Area, progress: Progress | None
) -> Placing | None:
    now = placed(plan, candidate)
    stage = stage_of(now)
    if now.room is None:
        raise PlanError([Finding("room", "null", "a room: in open air no place is better for bass")])
    system = system_of(now, now.candidates[candidate], stage)
    question = _Question(now.room, system, played_bands(system), seat, area, progress)
    after = now
    try:
        for done, move in enumerate(moves):
            after = _improved(question, after, move, done / len(moves), 1.0 / len(moves))
    except _Cancelled:
        return None
    found = _placing(question, now, after, candidate)
    return replace(found, plan=put_back(after, plan, candidate))


def _improved(question: _Question, plan: Plan, move: Move, begun: float, part: float) -> Plan:
    """The plan with one thing in its best place."""
    spots, pitch = spots_over(question.area, question.room)
    spots = spots[allowed(plan, question.room, move, spots)]
    if not len(spots):
        raise PlanError([_nowhere(move, question.area)])
    rough = []
    for first in range(0, len(spots), AT_ONCE):
        question.tell(begun + part * GRID_SHARE * first / len(spots))
        rough.append(question.bass(plan, move, spots[first : first + AT_ONCE], FEW_LINES).score_db)
    best = np.argsort(np.concatenate(rough))[::-1][:FINALISTS]
    question.tell(begun + part * GRID_SHARE)
    now = here(plan, move)
    finalists = np.concatenate([now[None], spots[best]])
    scores = question.bass(plan, move, finalists).score_db
    start = int(np.argmax(scores))
    spot = _crept(question, plan, move, finalists[start], float(scores[start]), pitch / 2.0)
    question.tell(begun + part)
    return plan if np.array_equal(spot, now) else moved_to(plan, question.room, move, spot)


def _crept(
    question: _Question, plan: Plan, move: Move, spot: FloatArray, score: float, step: float
) -> FloatArray:
    """Where one comes from a spot by going uphill in ever smaller steps, to the centimetre."""
    for _ in range(MOST_STEPS):
        near = np.round(spot + step * _AROUND, 2)
        near = near[inside(question.area, question.room, near)]
        near = near[allowed(plan, question.room, move, near)]
        scores = question.bass(plan, move, near).score_db if len(near) else np.array([-np.inf])
        if scores.max() > score:
            spot, score = near[int(np.argmax(scores))], float(scores.max())
        elif step > LEAST_STEP_M:
            step = max(step / 2.0, LEAST_STEP_M)
        else:
            break
    return spot


def _nowhere(move: Move, area: Area) -> Finding:
    found = f"{area.x0_m:g} to {area.x1_m:g} m by {area.y0_m:g} to {area.y1_m:g} m"
    expected = "an area of the room with a free place in it, clear of seats and stands"
    return Finding(f"{move.group}[{move.index}]", found, expected)


def _placing(question: _Question, before: Plan, after: Plan, candidate: int) -> Placing:
    still = Move("seats", question.seat)
    old, new = (question.bass(plan, still, here(plan, still)[None]) for plan in (before, after))
    watts = [compute(plan, candidate).seats[question.seat].watts_needed for plan in (before, after)]
    level_gain = float(new.strength_db[0] - old.strength_db[0])
    evenness_gain = float(old.unevenness_db[0] - new.unevenness_db[0])
    return Placing(
        plan=after,
        score_gain_db=level_gain + evenness_gain,
        level_gain_db=level_gain,
        evenness_gain_db=evenness_gain,
        watts_before=watts[0],
        watts_after=watts[1],
        band_hz=BAND_HZ[question.bands],
        before_db=old.level_db[0],
        after_db=new.level_db[0],
    )
