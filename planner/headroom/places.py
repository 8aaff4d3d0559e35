"""Seats and stands moved about the floor: what may be where, and the plan with it there.

Heights and aims are kept. Spots are (P, 2), x and y [m].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.bass import Placements
from planner.headroom.scene import axes_of
from planner.plan import Plan
from planner.plan.checks import LEAST_DISTANCE_M, WALL_GAP_M
from planner.plan.model import Seat, Stand
from planner.plan.reshape.parts import changed
from planner.plan.room import Room

__all__ = ["Area", "Move", "allowed", "here", "inside", "moved_to", "placements", "spots_over"]

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
FINEST_M = 0.1
MOST_SPOTS = 1200


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of the floor, by two opposite corners."""

    x0_m: float
    y0_m: float
    x1_m: float
    y1_m: float

    def edges(self, room: Room) -> tuple[FloatArray, FloatArray]:
        """Lowest and highest x and y of what lies in a room; the lowest above the highest if nothing does."""
        corners = np.array([[self.x0_m, self.y0_m], [self.x1_m, self.y1_m]])
        low, high = corners.min(axis=0), corners.max(axis=0)
        return np.maximum(low, 0.0), np.minimum(high, [room.length_m, room.width_m])


@dataclass(frozen=True, slots=True)
class Move:
    """One thing that is moved: a seat, a stand, or a stand with another kept opposite.

    *opposite* is the stand that mirrors it across the line that halves the room's width.
    """

    group: str
    index: int
    opposite: int | None = None


def spots_over(area: Area, room: Room) -> tuple[FloatArray, float]:
    """Spots over that part of an area that lies in the room, edges included, and their spacing [m]."""
    low, high = area.edges(room)
    size = high - low
    if np.any(size < 0.0):
        return np.empty((0, 2)), FINEST_M
    pitch = max(FINEST_M, float(np.sqrt(np.prod(size) / MOST_SPOTS)), float(size.max()) / MOST_SPOTS)
    x, y = (
        np.linspace(start, end, int(np.ceil((end - start) / pitch)) + 1)
        for start, end in zip(low, high, strict=True)
    )
    spots = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    return np.clip(np.round(spots, 2), low, high), pitch


def inside(area: Area, room: Room, spots: FloatArray) -> BoolArray:
    """Which spots lie in the area, and in the room."""
    low, high = area.edges(room)
    return np.asarray(((spots >= low) & (spots <= high)).all(axis=-1))


def allowed(plan: Plan, room: Room, move: Move, spots: FloatArray) -> BoolArray:
    """Where a thing may be: no seat too near a stand, no stand in another, none off the wall it is set in.

    Seats keep clear of every candidate's stands; stands only have to do with who stands on the plan's.
    """
    seats, stands = _positions(plan.seats), _positions(plan.stands)
    if move.group == "seats":
        own = [_positions(one.stands) for one in plan.candidates if one.stands is not None]
        every = np.concatenate([stands, *own])
        return _apart(spots, seats[move.index, 2], every, LEAST_DISTANCE_M)
    indices = [move.index] if move.opposite is None else [move.index, move.opposite]
    others = np.delete(stands, indices, axis=0)
    free = _at_a_wall(plan, room, spots)
    for index, at in zip(indices, (spots, _opposite(room, spots)), strict=False):
        free &= _apart(at, stands[index, 2], seats, LEAST_DISTANCE_M)
        free &= _apart(at, stands[index, 2], others, _elbow_room(plan))
    if move.opposite is not None:
        free &= np.abs(room.width_m - 2.0 * spots[:, 1]) >= _elbow_room(plan)
    return free


def here(plan: Plan, move: Move) -> FloatArray:
    """Where the thing is, (2,)."""
    return np.array(_things(plan, move.group)[move.index].position_m[:2])


def moved_to(plan: Plan, room: Room, move: Move, spot: FloatArray) -> Plan:
    """The plan with the thing at a spot (2,)."""
    things = list(_things(plan, move.group))
    things[move.index] = _put(things[move.index], spot)
    if move.opposite is not None:
        things[move.opposite] = _put(things[move.opposite], _opposite(room, spot[None])[0])
    return changed(plan, **{move.group: tuple(things)})


def placements(plan: Plan, room: Room, move: Move, seat: int, spots: FloatArray) -> Placements:
    """All stands, and one seat, with the thing at each of the spots; what aims at a seat follows it."""
    count = len(spots)
    seats = np.tile(_positions(plan.seats), (count, 1, 1))
    stands = np.tile(_positions(plan.stands), (count, 1, 1))
    (seats if move.group == "seats" else stands)[:, move.index, :2] = spots
    if move.opposite is not None:
        stands[:, move.opposite, :2] = _opposite(room, spots)
    axes = np.tile(axes_of(plan), (count, 1, 1))
    names = [one.name for one in plan.seats]
    for index, stand in enumerate(plan.stands):
        if stand.aim.seat is not None:
            way = seats[:, names.index(stand.aim.seat)] - stands[:, index]
            axes[:, index] = way / np.linalg.norm(way, axis=-1, keepdims=True)
    return Placements(stands, axes, seats[:, seat])


def _things(plan: Plan, group: str) -> tuple[Seat | Stand, ...]:
    return plan.seats if group == "seats" else plan.stands


def _positions(things: tuple[Seat | Stand, ...]) -> FloatArray:
    return np.array([thing.position_m for thing in things])


def _put(thing: Seat | Stand, spot: FloatArray) -> Seat | Stand:
    x_m, y_m = spot.tolist()
    return changed(thing, x_m=x_m, y_m=y_m)


def _opposite(room: Room, spots: FloatArray) -> FloatArray:
    return np.stack([spots[:, 0], np.round(room.width_m - spots[:, 1], 6)], axis=-1)


def _apart(spots: FloatArray, height_m: float, others: FloatArray, least_m: float) -> BoolArray:
    """Which spots at a height keep a distance from all of the others (n, 3)."""
    flat = ((spots[:, None, :] - others[:, :2]) ** 2).sum(axis=-1)
    return np.asarray((flat + (height_m - others[:, 2]) ** 2 >= least_m**2).all(axis=-1))


def _elbow_room(plan: Plan) -> float:
    """Least distance between two stands: that of a seat, or the width of the widest loudspeaker [m]."""
    widths = (one.loudspeaker.baffle_width_m for one in plan.candidates if one.stands is None)
    return max(LEAST_DISTANCE_M, *(width for width in widths if not isinstance(width, str)), 0.0)


def _at_a_wall(plan: Plan, room: Room, spots: FloatArray) -> BoolArray:
    """Where loudspeakers flush in a wall may stand; everywhere if no candidate is of that kind."""
    if all(one.loudspeaker.baffle_width_m != "wall" or one.stands for one in plan.candidates):
        return np.ones(len(spots), dtype=bool)
    gap = np.minimum(spots, np.array([room.length_m, room.width_m]) - spots)
    return np.asarray(gap.min(axis=-1) <= WALL_GAP_M)
