"""The walls of both views: each face a strip along the room's edge, its materials in turn by their areas."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath, QTransform

from planner.plan.room import Room, Surface
from planner.report.drawing.frames import ABOVE, WALL_PX, Frame
from planner.report.drawing.hints import HINTS, hint_of

__all__ = ["FACES_SHOWN", "Strip", "strips", "wall_at"]

FACES_SHOWN = {ABOVE: ("front", "right", "back", "left"), "side": ("front", "ceiling", "back", "floor")}
"""Faces that a view cuts through: at its left, top, right and bottom edge."""


@dataclass(frozen=True, slots=True)
class Strip:
    """One material on one face of a view: the ground it covers and its hatch [px]."""

    face: str
    patch: Surface
    ground: QRectF
    hatch: QPainterPath


def strips(frame: Frame, room: Room) -> Iterator[Strip]:
    """Every strip of the four faces that a view cuts through."""
    inside = frame.room_px(room.dimensions_m)
    for face, edge in zip(FACES_SHOWN[frame.view], _edges(inside), strict=True):
        origin, turn_deg, length_px = edge
        place = QTransform.fromTranslate(origin.x(), origin.y()).rotate(turn_deg)
        start = 0.0
        for patch, share in _shares(room, face):
            piece = QTransform(place).translate(start, 0.0)
            run = share * length_px
            ground = piece.mapRect(QRectF(0.0, 0.0, run, WALL_PX))
            yield Strip(face, patch, ground, piece.map(HINTS[hint_of(patch)](run, WALL_PX)))
            start += run


def wall_at(frame: Frame, room: Room, point: QPointF) -> Strip | None:
    """The strip under a point of the picture."""
    return next((strip for strip in strips(frame, room) if strip.ground.contains(point)), None)


def _edges(inside: QRectF) -> tuple[tuple[QPointF, float, float], ...]:
    """Where each strip begins, how it is turned so that its y points out of the room, and its length."""
    return (
        (inside.topLeft(), 90.0, inside.height()),
        (inside.topRight(), 180.0, inside.width()),
        (inside.bottomRight(), 270.0, inside.height()),
        (inside.bottomLeft(), 0.0, inside.width()),
    )


def _shares(room: Room, face: str) -> list[tuple[Surface, float]]:
    """The patches of a face with their shares of its area; what has no area takes what remains."""
    whole = room.face_area_m2(face)
    patches: tuple[Surface, ...] = getattr(room.surfaces, face)
    given = sum(patch.area_m2 or 0.0 for patch in patches)
    rest = max(whole - given, 0.0)
    areas = [rest if patch.area_m2 is None else patch.area_m2 for patch in patches]
    total = max(sum(areas), whole)
    return [(patch, area / total) for patch, area in zip(patches, areas, strict=True)]
