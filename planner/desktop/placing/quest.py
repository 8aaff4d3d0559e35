"""What is sought: who may move, for whose ears, and where."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations

from PySide6.QtCore import QCoreApplication

from planner.headroom.placed import in_its_places
from planner.headroom.placing import Area, Placing, best_seat, best_stands
from planner.plan import Plan, PlanError
from planner.report.drawing.places import Place

__all__ = ["Mover", "Quest", "Sought", "area_about", "movers"]

Sought = Placing | PlanError | None
"""A place and what it brings, why there is none, or nothing where the search was stopped."""

AROUND_SEAT_M, AROUND_STAND_M = 0.75, 0.6


@dataclass(frozen=True, slots=True)
class Mover:
    """One seat, one stand, or two stands."""

    places: tuple[Place, ...]

    @property
    def is_seat(self) -> bool:
        """Whether it is a seat that moves."""
        return self.places[0].kind == "seats"

    @property
    def is_pair(self) -> bool:
        """Whether two stands move."""
        return len(self.places) == 2

    def name(self, plan: Plan) -> str:
        """What moves, by name."""
        names = [place.of(plan).name for place in self.places]
        if not self.is_pair:
            return names[0]
        return QCoreApplication.translate("Placing", "{0} and {1}").format(*names)


@dataclass(frozen=True, slots=True)
class Quest:
    """One search, as a function that works beside the window."""

    plan: Plan
    candidate: int
    mover: Mover
    seat: int
    area: Area
    mirrored: bool

    def __call__(self, progress: Callable[[float], bool]) -> Sought:
        """Search; a place where nothing may be is an answer and no fault."""
        stands = tuple(place.index for place in self.mover.places)
        try:
            if self.mover.is_seat:
                return best_seat(self.plan, self.candidate, stands[0], self.area, progress=progress)
            return best_stands(
                self.plan,
                self.candidate,
                stands,
                self.area,
                seat=self.seat,
                mirrored=self.mirrored,
                progress=progress,
            )
        except PlanError as error:
            return error


def movers(plan: Plan, candidate: int) -> list[Mover]:
    """All that may move for a candidate: each seat, each stand, and pairs of stands that carry the same."""
    stands = in_its_places(plan, candidate).stands
    pairs = [
        (first, second)
        for first, second in combinations(range(len(stands)), 2)
        if stands[first].carries == stands[second].carries
    ]
    return [
        *(Mover((Place("seats", index),)) for index in range(len(plan.seats))),
        *(Mover((Place("stands", first), Place("stands", second))) for first, second in pairs),
        *(Mover((Place("stands", index),)) for index in range(len(stands))),
    ]


def area_about(plan: Plan, candidate: int, mover: Mover) -> Area:
    """A rectangle about what moves to begin with, in the room; of a pair about the first."""
    drawn = in_its_places(plan, candidate)
    x, y, _ = mover.places[0].of(drawn).position_m
    around = AROUND_SEAT_M if mover.is_seat else AROUND_STAND_M
    low, high = (x - around, y - around), (x + around, y + around)
    ends = (float("inf"), float("inf")) if plan.room is None else (plan.room.length_m, plan.room.width_m)
    left, near = (round(max(value, 0.0), 2) for value in low)
    right, far = (round(min(value, end), 2) for value, end in zip(high, ends, strict=True))
    return Area(left, near, right, far)
