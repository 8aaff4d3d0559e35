"""What lies under the pointer: a seat or stand in one of the views, a wall, or a point of the room."""

from __future__ import annotations

from PySide6.QtCore import QPointF

from planner.report.drawing.frames import SIDE, Frame
from planner.report.drawing.look import Look
from planner.report.drawing.painting import Frames
from planner.report.drawing.places import Place, Position, places
from planner.report.drawing.symbols import shape_of
from planner.report.drawing.walls import wall_at
from planner.report.drawing.words import (
    coordinates_text,
    fault_text,
    reach_text,
    thing_text,
    wall_text,
)

__all__ = ["frame_at", "point_in_room", "thing_at", "tip_at"]

_NEAR_PX = 4.0
_AROUND_PX = 12.0


def thing_at(look: Look, frames: Frames, point: QPointF) -> tuple[Place, Frame] | None:
    """The seat or stand under a point, with the view it was found in.

    Of several, the selected one; else a seat before a stand, and from the side the nearest.
    """
    for frame in frames:
        found = [place for place in places(look.plan) if _touches(look, frame, place, point)]
        if look.selected in found:
            return look.selected, frame
        if found:
            return min(found, key=lambda place: _order(look, frame, place)), frame
    return None


def _touches(look: Look, frame: Frame, place: Place, point: QPointF) -> bool:
    around = shape_of(look, frame, place).box.adjusted(-_NEAR_PX, -_NEAR_PX, _NEAR_PX, _NEAR_PX)
    return around.contains(point)


def _order(look: Look, frame: Frame, place: Place) -> tuple[bool, float]:
    return place.kind == "stands", place.of(look.plan).y_m if frame.view == SIDE else 0.0


def frame_at(frames: Frames, point: QPointF) -> Frame | None:
    """The view under a point, walls and a little more included."""
    around = _AROUND_PX
    return next(
        (one for one in frames if one.rect.adjusted(-around, -around, around, around).contains(point)), None
    )


def point_in_room(look: Look, frames: Frames, point: QPointF) -> Position | None:
    """The position that a point of a view means; what the view does not show is the listener's."""
    frame = frame_at(frames, point)
    if frame is None:
        return None
    across, up = frame.to_m(point)
    _, y, z = look.listener.position_m
    return (across, up, z) if frame.up == 1 else (across, y, up)


def tip_at(look: Look, frames: Frames, point: QPointF) -> str:
    """What the tooltip says at a point; empty outside the views."""
    found = thing_at(look, frames, point)
    if found is not None:
        return thing_text(look, found[0])
    return (
        _wall_tip(look, frames, point) or _floor_tip(look, frames, point) or _status_tip(look, frames, point)
    )


def _status_tip(look: Look, frames: Frames, point: QPointF) -> str:
    """Below the views the whole of a line of a fault or a seat, which may not have room there."""
    below = point.y() > max(frame.rect.bottom() for frame in frames) + _AROUND_PX
    return fault_text(look) or reach_text(look) if below else ""


def _wall_tip(look: Look, frames: Frames, point: QPointF) -> str:
    room = look.plan.room
    found = [strip for frame in frames if room is not None and (strip := wall_at(frame, room, point))]
    return wall_text(found[0], look.preference) if found else ""


def _floor_tip(look: Look, frames: Frames, point: QPointF) -> str:
    frame, here = frame_at(frames, point), point_in_room(look, frames, point)
    if frame is None or here is None or not frame.rect.contains(point):
        return ""
    return coordinates_text(here, look.preference, axes=(0, frame.up))
