"""Seats and stands: added, doubled, moved, renamed and taken away, with the aims that name them.

Stands are those of the plan, or with ``candidate`` the own ones of one of the candidates.
"""

from __future__ import annotations

from math import atan2, degrees, dist, hypot
from typing import Any

from planner.plan.checks import LEAST_DISTANCE_M
from planner.plan.model import Aim, Plan, Seat, Stand
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.own_places import stands_at, with_stands
from planner.plan.reshape.parts import changed, inserted, moved, swapped, without

__all__ = [
    "add_seat",
    "add_stand",
    "aim_along",
    "aim_at",
    "carry",
    "duplicate_seat",
    "duplicate_stand",
    "move_seat",
    "move_stand",
    "remove_seat",
    "remove_stand",
    "rename_seat",
]

BESIDE_M = 0.6
"""How far beside the first one a second place is put: the width of a chair."""


def add_seat(plan: Plan) -> Plan:
    """Another seat at the end of the list, beside the last one."""
    return duplicate_seat(plan, len(plan.seats) - 1)


def duplicate_seat(plan: Plan, index: int) -> Plan:
    """A second seat right after one, beside it, under a name of its own."""
    seat = plan.seats[index]
    name = unique_name(seat.name, (one.name for one in plan.seats))
    twin = changed(seat, name=name, y_m=_beside(plan, seat, plan.seats))
    return changed(plan, seats=inserted(plan.seats, index + 1, twin))


def remove_seat(plan: Plan, index: int) -> Plan:
    """The plan without a seat; stands that aimed at it aim at the nearest seat that remains."""
    gone = plan.seats[index]
    seats = without(plan.seats, index)
    if not seats or gone.name in (seat.name for seat in seats):
        return changed(plan, seats=seats)
    nearest = min(seats, key=lambda seat: dist(seat.position_m, gone.position_m))
    return changed(_aimed_anew(plan, gone.name, nearest.name), seats=seats)


def move_seat(plan: Plan, index: int, to: int) -> Plan:
    """The plan with a seat at another place of the list."""
    return changed(plan, seats=moved(plan.seats, index, to))


def rename_seat(plan: Plan, index: int, name: str) -> Plan:
    """The plan with a seat renamed; stands that aim at it go on doing so."""
    old = plan.seats[index].name
    seats = swapped(plan.seats, index, changed(plan.seats[index], name=name))
    if old in (seat.name for seat in seats):
        return changed(plan, seats=seats)
    return changed(_aimed_anew(plan, old, name), seats=seats)


def add_stand(plan: Plan, candidate: int | None = None) -> Plan:
    """Another stand at the end of the list: the mirror image of the last, or beside it."""
    return duplicate_stand(plan, len(stands_at(plan, candidate)) - 1, candidate)


def duplicate_stand(plan: Plan, index: int, candidate: int | None = None) -> Plan:
    """A second stand right after one: its mirror image across the room if there is space, else beside it."""
    stands = stands_at(plan, candidate)
    stand = stands[index]
    mirrored_m = 2.0 * _middle_m(plan) - stand.y_m
    there = (stand.x_m, mirrored_m, stand.z_m)
    mirrored = all(dist(there, one.position_m) > LEAST_DISTANCE_M for one in stands)
    twin = changed(
        stand,
        name=unique_name(stand.name, (one.name for one in stands)),
        y_m=round(mirrored_m, 3) if mirrored else _beside(plan, stand, stands),
        aim=_mirrored(stand.aim) if mirrored else stand.aim,
    )
    return with_stands(plan, candidate, inserted(stands, index + 1, twin))


def remove_stand(plan: Plan, index: int, candidate: int | None = None) -> Plan:
    """The plan without a stand."""
    return with_stands(plan, candidate, without(stands_at(plan, candidate), index))


def move_stand(plan: Plan, index: int, to: int, candidate: int | None = None) -> Plan:
    """The plan with a stand at another place of the list."""
    return with_stands(plan, candidate, moved(stands_at(plan, candidate), index, to))


def aim_at(plan: Plan, index: int, seat: str, candidate: int | None = None) -> Plan:
    """The plan with a stand aimed at a seat."""
    return _with_stand(plan, index, candidate, aim=Aim(seat=seat))


def aim_along(plan: Plan, index: int, candidate: int | None = None) -> Plan:
    """The plan with a stand aimed by angles: those along which it points already, to a tenth of a degree."""
    stand = stands_at(plan, candidate)[index]
    at = next((seat for seat in plan.seats if seat.name == stand.aim.seat), None)
    if at is None:
        angles = stand.aim.azimuth_deg or 0.0, stand.aim.elevation_deg or 0.0
    else:
        x, y, z = (there - here for there, here in zip(at.position_m, stand.position_m, strict=True))
        angles = round(degrees(atan2(y, x)), 1), round(degrees(atan2(z, hypot(x, y))), 1)
    return _with_stand(plan, index, candidate, aim=Aim(azimuth_deg=angles[0], elevation_deg=angles[1]))


def carry(plan: Plan, index: int, names: tuple[str, ...] | None, candidate: int | None = None) -> Plan:
    """The plan with a stand that carries the named sections, or all of them for None."""
    return _with_stand(plan, index, candidate, carries=names)


def _with_stand(plan: Plan, index: int, candidate: int | None, **changes: Any) -> Plan:
    stands = stands_at(plan, candidate)
    return with_stands(plan, candidate, swapped(stands, index, changed(stands[index], **changes)))


def _aimed_anew(plan: Plan, old: str, new: str) -> Plan:
    """The plan with every stand that aimed at one seat aimed at another, whoever stands there."""
    candidates = tuple(
        one if one.stands is None else changed(one, stands=_aimed(one.stands, old, new))
        for one in plan.candidates
    )
    return changed(plan, stands=_aimed(plan.stands, old, new), candidates=candidates)


def _aimed(stands: tuple[Stand, ...], old: str, new: str) -> tuple[Stand, ...]:
    return tuple(changed(stand, aim=Aim(seat=new)) if stand.aim.seat == old else stand for stand in stands)


def _mirrored(aim: Aim) -> Aim:
    if aim.azimuth_deg is None:
        return aim
    return Aim(azimuth_deg=-aim.azimuth_deg + 0.0, elevation_deg=aim.elevation_deg)


def _middle_m(plan: Plan) -> float:
    """y of the line that halves the room, or the audience in the open [m]."""
    if plan.room is not None:
        return plan.room.width_m / 2.0
    return sum(seat.y_m for seat in plan.seats) / len(plan.seats)


def _beside(plan: Plan, place: Seat | Stand, taken: tuple[Seat, ...] | tuple[Stand, ...]) -> float:
    """y of the nearest free place beside one, toward the right wall and else toward the left [m]."""
    most_m = plan.room.width_m if plan.room is not None else float("inf")
    ways = [sign * step * BESIDE_M for step in range(1, 40) for sign in (1.0, -1.0)]
    for way in ways:
        y_m = round(place.y_m + way, 3)
        there = (place.x_m, y_m, place.z_m)
        free = all(dist(there, one.position_m) > LEAST_DISTANCE_M for one in taken)
        if free and (0.0 <= y_m <= most_m or plan.room is None):
            return y_m
    return place.y_m
