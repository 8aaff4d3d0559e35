"""The shapes of things: a head, a loudspeaker turned to its aim, and the fan of a horn."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF, QTransform

from planner.acoustics.directivity import horn_coverage, pattern_control
from planner.plan.loudspeaker import Diaphragm, Dipole, Horn, Loudspeaker, Section
from planner.plan.model import Seat, Stand
from planner.report.drawing.frames import ABOVE, Frame
from planner.report.drawing.look import Look
from planner.report.drawing.places import Place, Position, aim_of, facing_of

__all__ = [
    "Body",
    "Shape",
    "body_of",
    "fan_angles",
    "fan_path",
    "head_path",
    "loudspeaker_paths",
    "shape_of",
    "turn_of",
]

HEAD_M = 0.2
HEAD_LEAST_PX = 7.0
BODY_LEAST_PX = 13.0
_WALL_BODY_M = 0.6
_OPEN_DEPTH_M = 0.08
_FACING_US = 0.35
_WINDING = Qt.FillRule.WindingFill


@dataclass(frozen=True, slots=True)
class Shape:
    """The symbol of a seat or stand on a view, round its own place there [px].

    Of a seat: shoulders and head. Of a stand: body and radiating edge. ``box`` is what both fill.
    """

    at: QPointF
    lower: QPainterPath
    upper: QPainterPath
    box: QRectF


def shape_of(look: Look, frame: Frame, place: Place) -> Shape:
    """The symbol of a seat or stand on a view."""
    thing = place.of(look.plan)
    at = frame.to_px(thing.position_m)
    if isinstance(thing, Seat):
        lower, upper = head_path(frame, facing_of(look.plan, thing))
        box = upper.boundingRect() if lower.isEmpty() else upper.boundingRect() | lower.boundingRect()
    else:
        body = body_of(look.loudspeaker, thing)
        lower, upper = loudspeaker_paths(frame, body, aim_of(look.plan, thing), thing.z_m)
        box = lower.boundingRect()
    return Shape(at, lower, upper, box.translated(at))


@dataclass(frozen=True, slots=True)
class Body:
    """Rough size of a loudspeaker's symbol [m], from its baffle and from what radiates."""

    width_m: float
    height_m: float
    depth_m: float


def body_of(loudspeaker: Loudspeaker, stand: Stand) -> Body:
    """Width of the baffle, height of the radiators on top of one another, and a depth that goes with them."""
    sections = _carried(loudspeaker, stand)
    sizes = [_radiator_m(section) for section in sections]
    baffle = _WALL_BODY_M if loudspeaker.baffle_width_m == "wall" else loudspeaker.baffle_width_m
    width = max(baffle, *(wide for wide, _ in sizes))
    height = min(max(1.25 * sum(tall for _, tall in sizes), 1.2 * width, 0.25), 2.2)
    open_back = any(isinstance(section.radiator, Dipole) for section in sections)
    return Body(width, height, _OPEN_DEPTH_M if open_back else min(max(0.6 * width, 0.2), 0.5))


def _carried(loudspeaker: Loudspeaker, stand: Stand) -> tuple[Section, ...]:
    """The sections on a stand; all of them where the stand names none of this loudspeaker's."""
    carried = tuple(one for one in loudspeaker.sections if stand.carries is None or one.name in stand.carries)
    return carried or loudspeaker.sections


def _radiator_m(section: Section) -> tuple[float, float]:
    """Width and height of what a section radiates with; drivers stand on top of one another [m]."""
    radiator = section.radiator
    if isinstance(radiator, Horn):
        return radiator.mouth_width_m, radiator.mouth_height_m
    if isinstance(radiator, Diaphragm):
        return radiator.diameter_m, radiator.diameter_m * min(radiator.count, 4)
    return 0.3, 0.3


def turn_of(frame: Frame, direction: Position) -> tuple[float, float]:
    """How a direction lies on a view: its angle, clockwise from the right [deg], and its share 0 to 1."""
    across, up = direction[0], direction[frame.up]
    return -math.degrees(math.atan2(up, across)), min(math.hypot(across, up), 1.0)


def head_path(frame: Frame, facing: Position) -> tuple[QPainterPath, QPainterPath]:
    """A listener round the origin: shoulders (only from above) and head with its nose [px]."""
    radius = max(0.5 * HEAD_M * frame.px_per_m, HEAD_LEAST_PX)
    turn_deg, share = turn_of(frame, facing)
    head = QPainterPath()
    head.setFillRule(_WINDING)
    head.addEllipse(QPointF(0.0, 0.0), radius, radius)
    if share > _FACING_US:
        nose = QPolygonF(
            [
                QPointF(0.85 * radius, -0.4 * radius),
                QPointF(1.4 * radius, 0.0),
                QPointF(0.85 * radius, 0.4 * radius),
            ]
        )
        head.addPolygon(nose)
        head.closeSubpath()
    shoulders = QPainterPath()
    if frame.view == ABOVE:
        shoulders.addRoundedRect(
            QRectF(-1.25 * radius, -2.1 * radius, 1.9 * radius, 4.2 * radius), radius, 1.3 * radius
        )
    turn = QTransform().rotate(turn_deg)
    return turn.map(shoulders), turn.map(head.simplified())


def loudspeaker_paths(
    frame: Frame, body: Body, aim: Position, above_floor_m: float
) -> tuple[QPainterPath, QPainterPath]:
    """A loudspeaker round the origin, which is its acoustic centre: its body, and its radiating edge [px].

    From the side it reaches down to the floor at most; pointing at the beholder it is seen from the front.
    """
    turn_deg, share = turn_of(frame, aim)
    half = 0.5 * (body.width_m if frame.view == ABOVE else min(body.height_m, 2.0 * above_floor_m))
    front = max(half * frame.px_per_m, 0.5 * BODY_LEAST_PX)
    depth = max(body.depth_m * frame.px_per_m, 0.5 * BODY_LEAST_PX if body.depth_m > _OPEN_DEPTH_M else 3.0)
    outline, edge = QPainterPath(), QPainterPath()
    if share <= _FACING_US:
        wide = max(0.5 * body.width_m * frame.px_per_m, 0.5 * BODY_LEAST_PX)
        outline.addRect(QRectF(-wide, -front, 2.0 * wide, 2.0 * front))
        edge.addEllipse(QPointF(0.0, 0.0), 0.5 * wide, 0.5 * wide)
        return outline, edge
    back = 0.72 * front if frame.view == ABOVE else front
    corners = [QPointF(0.0, -front), QPointF(-depth, -back), QPointF(-depth, back), QPointF(0.0, front)]
    outline.addPolygon(QPolygonF(corners))
    outline.closeSubpath()
    edge.moveTo(0.0, -front)
    edge.lineTo(0.0, front)
    turn = QTransform().rotate(turn_deg)
    return turn.map(outline), turn.map(edge)


def fan_angles(
    loudspeaker: Loudspeaker, stand: Stand, frequency_hz: float = 2000.0
) -> tuple[float, float] | None:
    """Coverage of the upper horn that plays a frequency, across and up [deg]; None if no horn does."""
    for section in reversed(_carried(loudspeaker, stand)):
        radiator = section.radiator
        if section.low_hz <= frequency_hz <= section.high_hz and isinstance(radiator, Horn):
            return (
                _covered(frequency_hz, radiator.horizontal_deg, radiator.mouth_width_m),
                _covered(frequency_hz, radiator.vertical_deg, radiator.mouth_height_m),
            )
    return None


@lru_cache(maxsize=64)
def _covered(frequency_hz: float, angle_deg: float, mouth_m: float) -> float:
    return min(float(horn_coverage(frequency_hz, angle_deg, pattern_control(mouth_m, angle_deg))), 360.0)


def fan_path(
    frame: Frame, aim: Position, angles_deg: tuple[float, float], reach_px: float
) -> QPainterPath | None:
    """The fan round the origin within which a horn is less than 6 dB down; None where the view hides it."""
    turn_deg, share = turn_of(frame, aim)
    if share <= _FACING_US:
        return None
    spread = angles_deg[0 if frame.view == ABOVE else 1]
    path = QPainterPath()
    circle = QRectF(-reach_px, -reach_px, 2.0 * reach_px, 2.0 * reach_px)
    # Qt counts the angles of arcs against the clock.
    path.arcTo(circle, -turn_deg - spread / 2.0, spread)
    path.closeSubpath()
    return path
