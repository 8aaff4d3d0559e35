"""What the drawing does to the plan, each an undoable step of the document."""

from __future__ import annotations

from planner.desktop.document import PlanDocument
from planner.desktop.drawing.steps import moved, snapped
from planner.headroom.placed import in_its_places
from planner.plan import Plan
from planner.plan.reshape import (
    add_seat,
    duplicate_seat,
    duplicate_stand,
    remove_seat,
    remove_stand,
    whose_stands,
)
from planner.report.drawing.places import Place, Position
from planner.report.drawing.words import tr

__all__ = ["delete", "drawn", "duplicate", "may_delete", "move", "put_back", "seat_at"]


def drawn(document: PlanDocument) -> Plan:
    """The plan as it is drawn: with the stands of the candidate that is looked at, if it has its own."""
    return in_its_places(document.plan, document.candidate)


def move(document: PlanDocument, place: Place, position_m: Position) -> None:
    """Move a thing; moves within a gesture are one step."""
    after = moved(document.plan, place, position_m, _whose(document))
    document.replace(after, _moving(document, place), ("move", place))


def put_back(document: PlanDocument, place: Place, before: Plan) -> None:
    """Undo the moves of this gesture, leaving no step behind."""
    document.replace(before, _moving(document, place), ("move", place))
    document.close_gesture()


def _moving(document: PlanDocument, place: Place) -> str:
    return tr("Move {name}").format(name=place.of(drawn(document)).name)


def _whose(document: PlanDocument) -> int | None:
    return whose_stands(document.plan, document.candidate)


def seat_at(document: PlanDocument, position_m: Position | None) -> Place:
    """Add a seat at a position, or beside the last one; returns it."""
    after = add_seat(document.plan)
    place = Place("seats", len(after.seats) - 1)
    if position_m is not None:
        x, y, z = (snapped(value, 0.05) for value in position_m)
        after = moved(after, place, (x, y, z))
    document.replace(after, tr("Add {name}").format(name=place.of(after).name))
    return place


def duplicate(document: PlanDocument, place: Place) -> Place:
    """Add a second thing like this one; returns it."""
    name = place.of(drawn(document)).name
    if place.kind == "seats":
        after = duplicate_seat(document.plan, place.index)
    else:
        after = duplicate_stand(document.plan, place.index, _whose(document))
    document.replace(after, tr("Duplicate {name}").format(name=name))
    return Place(place.kind, place.index + 1)


def may_delete(plan: Plan, place: Place) -> bool:
    """Whether something of its kind would remain in a plan as it is drawn."""
    return len(getattr(plan, place.kind)) > 1


def delete(document: PlanDocument, place: Place) -> None:
    """Take a thing away; what aimed at a seat aims at the nearest one that remains."""
    listener, name = document.seat, place.of(drawn(document)).name
    if place.kind == "seats":
        after = remove_seat(document.plan, place.index)
    else:
        after = remove_stand(document.plan, place.index, _whose(document))
    document.replace(after, tr("Delete {name}").format(name=name))
    if place.kind == "seats" and place.index < listener:
        document.choose(seat=listener - 1)
