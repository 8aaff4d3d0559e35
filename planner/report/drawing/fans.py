"""Where horns reach: a fan from each stand, strong at the mouth and fading beyond the farthest seat."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QBrush, QPainterPath, QRadialGradient

from planner.plan.model import Stand
from planner.report.drawing.frames import Frame
from planner.report.drawing.places import aim_of
from planner.report.drawing.sheet import Sheet
from planner.report.drawing.symbols import fan_angles, fan_path
from planner.report.drawing.words import distance_m

__all__ = ["paint_fans"]

_GROUND_ALPHA = (0.20, 0.02)
_EDGE_ALPHA = (0.75, 0.05)
_BEYOND = 1.15
_EVEN = 0.6


def paint_fans(sheet: Sheet, frame: Frame) -> None:
    """The fan of every stand with a horn that plays the frequency chosen, cut off by the walls."""
    room = sheet.look.plan.room
    inside = frame.rect if room is None else frame.room_px(room.dimensions_m)
    for stand in sheet.look.plan.stands:
        _paint_fan(sheet, frame, stand, inside)


def _paint_fan(sheet: Sheet, frame: Frame, stand: Stand, inside: QRectF) -> None:
    plan = sheet.look.plan
    reach = _BEYOND * max(distance_m(seat, stand) for seat in plan.seats) * frame.px_per_m
    angles = fan_angles(sheet.look.loudspeaker, stand, sheet.look.fan_hz)
    fan = None if angles is None else fan_path(frame, aim_of(plan, stand), angles, reach)
    if fan is None:
        return
    at = frame.to_px(stand.position_m)
    # Cut as shapes: a painter's clip is lost in an SVG.
    walls = QPainterPath()
    walls.addRect(inside.translated(-at))
    sheet.painter.save()
    sheet.painter.translate(at)
    sheet.painter.fillPath(fan.intersected(walls), _fading(sheet, reach, _GROUND_ALPHA))
    sheet.painter.fillPath(_edges(fan).intersected(walls), _fading(sheet, reach, _EDGE_ALPHA))
    sheet.painter.restore()


def _edges(fan: QPainterPath) -> QPainterPath:
    """The two straight sides of a fan as strips 1 px wide, which can fade as no line can in an SVG."""
    path = QPainterPath()
    for index in (1, fan.elementCount() - 2):
        end = fan.elementAt(index)
        length = math.hypot(end.x, end.y) or 1.0
        half = QPointF(-0.5 * end.y / length, 0.5 * end.x / length)
        tip = QPointF(end.x, end.y)
        strip = QPainterPath(half)
        for corner in (tip + half, tip - half, -half):
            strip.lineTo(corner)
        strip.closeSubpath()
        path.addPath(strip)
    return path


def _fading(sheet: Sheet, reach: float, alphas: tuple[float, float]) -> QBrush:
    if not sheet.fades:
        return QBrush(sheet.colours.pick("series 4", _EVEN * alphas[0]))
    gradient = QRadialGradient(QPointF(0.0, 0.0), max(reach, 1.0))
    for at, alpha in zip((0.0, 1.0), alphas, strict=True):
        gradient.setColorAt(at, sheet.colours.pick("series 4", alpha))
    return QBrush(gradient)
