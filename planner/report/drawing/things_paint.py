"""Seats and stands on both views: heads, loudspeakers, the lines between them, and rings."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath, QPen

from planner.report.drawing.fans import paint_fans
from planner.report.drawing.frames import ABOVE, SIDE, Frame
from planner.report.drawing.names import paint_distances, paint_names
from planner.report.drawing.places import Place, places
from planner.report.drawing.room_paint import wall_names
from planner.report.drawing.sheet import Sheet, stroke
from planner.report.drawing.symbols import Shape, shape_of

__all__ = ["paint_outside", "paint_symbol", "paint_things"]

_RING_PX = 5.0
_MARK_PX = 4.5


def paint_things(sheet: Sheet, frame: Frame) -> None:
    """All that stands and sits in one view, from the ground up."""
    look = sheet.look
    shapes = {place: shape_of(look, frame, place) for place in _back_to_front(sheet, frame)}
    paint_fans(sheet, frame)
    lines = _paint_ways(sheet, frame)
    if frame.view == SIDE:
        _paint_stems(sheet, frame)
    boxes = {place: shape.box for place, shape in shapes.items()}
    marks = _outside_marks(sheet, boxes)
    sheet.taken += [*boxes.values(), *(_box_round(mark, 1.25 * _MARK_PX) for mark in marks)]
    if frame.view == ABOVE and look.plan.room is not None:
        inside = frame.room_px(look.plan.room.dimensions_m)
        sheet.taken += [box for _, box in wall_names(sheet, inside)]
    paint_names(sheet, frame, boxes)
    if frame.view == ABOVE:
        paint_distances(sheet, frame, lines)
    for place, shape in shapes.items():
        paint_symbol(sheet, place, shape)
    _paint_rings(sheet, frame, boxes)
    for mark in marks:
        paint_outside(sheet, mark)


def _outside_marks(sheet: Sheet, boxes: dict[Place, QRectF]) -> list[QPointF]:
    """Where the signs stand of seats that a horn does not reach."""
    look = sheet.look
    return [
        box.topRight() + QPointF(2.0, -2.0)
        for place, box in boxes.items()
        if place.kind == "seats" and look.reach.beyond(place.index, look.fan_hz)
    ]


def _box_round(middle: QPointF, reach: float) -> QRectF:
    return QRectF(middle.x() - reach, middle.y() - reach, 2.0 * reach, 2.0 * reach)


def _back_to_front(sheet: Sheet, frame: Frame) -> list[Place]:
    """Stands before seats, and from the side the farthest first, so that what is near lies on top."""
    plan = sheet.look.plan
    order = sorted(places(plan), key=lambda place: place.kind == "seats")
    if frame.view == SIDE:
        order.sort(key=lambda place: -place.of(plan).y_m)
    return order


def _paint_ways(sheet: Sheet, frame: Frame) -> list[QLineF]:
    """A thin line from the chosen seat to each stand."""
    look = sheet.look
    seat = frame.to_px(look.listener.position_m)
    lines = [QLineF(seat, frame.to_px(stand.position_m)) for stand in look.plan.stands]
    sheet.painter.setPen(stroke(sheet.colours, "accent", 1.0, alpha=0.7, dash=(4.0, 3.0)))
    sheet.painter.drawLines(lines)
    return lines


def _paint_stems(sheet: Sheet, frame: Frame) -> None:
    """From the side: a thin line from everything down to the floor it stands on."""
    plan = sheet.look.plan
    lines = []
    for thing in (*plan.seats, *plan.stands):
        foot = frame.at(thing.x_m, 0.0)
        lines.append(QLineF(frame.to_px(thing.position_m), foot))
        lines.append(QLineF(foot.x() - 4.0, foot.y() - 0.5, foot.x() + 4.0, foot.y() - 0.5))
    sheet.painter.setPen(stroke(sheet.colours, "edge"))
    sheet.painter.drawLines(lines)


def paint_symbol(sheet: Sheet, place: Place, shape: Shape) -> None:
    """A seat or stand itself, where its shape has it."""
    sheet.painter.save()
    sheet.painter.translate(shape.at)
    if place.kind == "stands":
        _paint_loudspeaker(sheet, shape)
    else:
        _paint_head(sheet, shape, chosen=place.of(sheet.look.plan) == sheet.look.listener)
    sheet.painter.restore()


def _paint_head(sheet: Sheet, shape: Shape, *, chosen: bool) -> None:
    painter, colours = sheet.painter, sheet.colours
    painter.setPen(stroke(colours, "accent" if chosen else "muted", 1.4))
    painter.setBrush(colours.pick("surface"))
    if not shape.lower.isEmpty():
        painter.drawPath(shape.lower)
    painter.setBrush(colours.pick("accent" if chosen else "surface"))
    painter.drawPath(shape.upper)


def _paint_loudspeaker(sheet: Sheet, shape: Shape) -> None:
    painter, colours = sheet.painter, sheet.colours
    painter.setPen(stroke(colours, "ink", 1.3))
    painter.setBrush(colours.pick("surface"))
    painter.drawPath(shape.lower)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(stroke(colours, "series 1", 3.0))
    painter.drawPath(shape.upper)


def _paint_rings(sheet: Sheet, frame: Frame, boxes: dict[Place, QRectF]) -> None:
    """A ring round what is selected, a thin one under the pointer, a dashed one round a fault."""
    look, colours = sheet.look, sheet.colours
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    for place, box in boxes.items():
        if place in look.at_fault:
            _ring(sheet, box, _RING_PX + 3.0, stroke(colours, "short", 1.6, dash=(3.0, 2.0)))
        if place == look.selected:
            _ring(sheet, box, _RING_PX, stroke(colours, "accent", 2.0 if frame.view == look.active else 1.0))
        elif place == look.hovered:
            _ring(sheet, box, _RING_PX, stroke(colours, "edge", 1.0))


def paint_outside(sheet: Sheet, middle: QPointF) -> None:
    """The sign of a seat that a horn does not reach: an open ring, struck through."""
    painter, slant = sheet.painter, _MARK_PX * 1.25
    painter.setPen(stroke(sheet.colours, "short", 1.6))
    painter.setBrush(sheet.colours.pick("surface"))
    painter.drawEllipse(middle, _MARK_PX, _MARK_PX)
    painter.drawLine(middle + QPointF(-slant, slant), middle + QPointF(slant, -slant))


def _ring(sheet: Sheet, box: QRectF, gap: float, pen: QPen) -> None:
    path = QPainterPath()
    path.addRoundedRect(box.adjusted(-gap, -gap, gap, gap), gap, gap)
    sheet.painter.setPen(pen)
    sheet.painter.drawPath(path)
