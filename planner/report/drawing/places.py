"""What stands and sits in the drawing, seats and stands alike: where it is, and where it faces."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from planner.plan import Plan, get
from planner.plan.model import Seat, Stand

__all__ = ["Place", "Position", "aim_of", "facing_of", "places"]

Position = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Place:
    """One seat or stand of a plan, by its list and its number there."""

    kind: Literal["seats", "stands"]
    index: int

    def of(self, plan: Plan) -> Seat | Stand:
        """The seat or stand itself."""
        thing: Seat | Stand = get(plan, (self.kind, self.index))
        return thing


def places(plan: Plan) -> tuple[Place, ...]:
    """Everything that has a place: the seats, then the stands, each in the order of the plan."""
    return tuple(_places(plan))


def _places(plan: Plan) -> Iterator[Place]:
    yield from (Place("seats", index) for index in range(len(plan.seats)))
    yield from (Place("stands", index) for index in range(len(plan.stands)))


def aim_of(plan: Plan, stand: Stand) -> Position:
    """Unit vector along which a loudspeaker points; along the length while its aim is not known."""
    aim = stand.aim
    if aim.azimuth_deg is not None and aim.elevation_deg is not None:
        azimuth, elevation = math.radians(aim.azimuth_deg), math.radians(aim.elevation_deg)
        level = math.cos(elevation)
        return level * math.cos(azimuth), level * math.sin(azimuth), math.sin(elevation)
    seat = next((seat for seat in plan.seats if seat.name == aim.seat), None)
    return (1.0, 0.0, 0.0) if seat is None else _towards(stand.position_m, seat.position_m)


def facing_of(plan: Plan, seat: Seat) -> Position:
    """Unit vector along which a listener looks: level, toward the middle of the stands."""
    count = len(plan.stands)
    middle = [sum(stand.position_m[axis] for stand in plan.stands) / count for axis in (0, 1)]
    return _towards(seat.position_m, (middle[0], middle[1], seat.z_m), otherwise=(-1.0, 0.0, 0.0))


def _towards(start_m: Position, end_m: Position, otherwise: Position = (1.0, 0.0, 0.0)) -> Position:
    x, y, z = (end - start for start, end in zip(start_m, end_m, strict=True))
    length = math.hypot(x, y, z)
    return (x / length, y / length, z / length) if length > 0.0 else otherwise
