"""The room itself on both views: floor and grid, walls by their materials, the ground outdoors, measures."""

from __future__ import annotations

import math

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from planner.plan.room import Room
from planner.plan.units import Preference, display_unit, from_display, show
from planner.report.drawing.frames import ABOVE, SIDE, WALL_PX, Frame
from planner.report.drawing.sheet import Sheet, stroke
from planner.report.drawing.walls import strips
from planner.report.drawing.words import length_text, tr

__all__ = ["MEASURE_GAP_PX", "paint_measures", "paint_room", "paint_scale_bar", "wall_names"]

MEASURE_GAP_PX = 6.0
_TICK_PX = 3.5
_FOOT_M = 0.3048
_BAR_LEAST_PX = 60.0
_BAR_CHOICES = {
    Preference.METRIC: (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0),
    Preference.US: (2.0, 4.0, 10.0, 20.0, 50.0, 100.0, 200.0),
}
_GRID_LEAST_PX = 14.0
_NAMED_FROM_PX = 110.0


def paint_room(sheet: Sheet, frame: Frame, room: Room | None) -> None:
    """Ground, grid and walls of one view; outdoors the ground line takes their place."""
    inside = frame.rect if room is None else frame.room_px(room.dimensions_m)
    sheet.painter.fillRect(inside, sheet.colours.pick("raised"))
    _paint_grid(sheet, frame, inside)
    if room is not None:
        _paint_walls(sheet, frame, room, inside)
        if frame.view == ABOVE:
            _name_walls(sheet, inside)
    elif frame.view == SIDE:
        _paint_ground(sheet, inside)


def _paint_grid(sheet: Sheet, frame: Frame, inside: QRectF) -> None:
    step_m = _grid_step_m(sheet.look.preference, frame.px_per_m)
    (left, low), (right, high) = frame.to_m(inside.bottomLeft()), frame.to_m(inside.topRight())
    lines = [
        QLineF(frame.at(number * step_m, low), frame.at(number * step_m, high))
        for number in range(math.ceil(left / step_m + 1e-9), math.ceil(right / step_m - 1e-9))
    ] + [
        QLineF(frame.at(left, number * step_m), frame.at(right, number * step_m))
        for number in range(math.ceil(low / step_m + 1e-9), math.ceil(high / step_m - 1e-9))
    ]
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    sheet.painter.setPen(stroke(sheet.colours, "grid"))
    sheet.painter.drawLines(lines)
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)


def _grid_step_m(preference: Preference, px_per_m: float) -> float:
    """A line each metre (each 2 ft), and each 5 or 10 of them where they would stand too close [m]."""
    unit_m = 1.0 if preference is Preference.METRIC else 2.0 * _FOOT_M
    return next(
        unit_m * times
        for times in (1, 5, 10, 50, 1000)
        if unit_m * times * px_per_m >= _GRID_LEAST_PX or times == 1000
    )


def _paint_walls(sheet: Sheet, frame: Frame, room: Room, inside: QRectF) -> None:
    painter, colours = sheet.painter, sheet.colours
    outside = inside.adjusted(-WALL_PX, -WALL_PX, WALL_PX, WALL_PX)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.pick("rule", 0.55))
    for band in _bands(outside, inside):
        painter.drawRect(band)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(stroke(colours, "muted", 0.9, alpha=0.75))
    for strip in strips(frame, room):
        if not strip.hatch.isEmpty():  # an empty path makes a faulty PDF
            painter.drawPath(strip.hatch)
    painter.setPen(stroke(colours, "edge"))
    painter.drawRect(outside)
    painter.setPen(stroke(colours, "ink", 1.6))
    painter.drawRect(inside)


def wall_names(sheet: Sheet, inside: QRectF) -> list[tuple[str, QRectF]]:
    """The four walls by name, and where that is written; none where the room is too small on paper."""
    if min(inside.width(), inside.height()) < _NAMED_FROM_PX:
        return []
    middle, half = inside.center(), 0.5 * sheet.line_px() + 2.0
    centres = {
        tr("front"): QPointF(inside.left() + half, middle.y()),
        tr("right"): QPointF(middle.x(), inside.top() + half),
        tr("back"): QPointF(inside.right() - half, middle.y()),
        tr("left"): QPointF(middle.x(), inside.bottom() - half),
    }
    boxes = []
    for name, centre in centres.items():
        reach = 0.5 * sheet.metrics.horizontalAdvance(name) + 2.0
        across, up = (half, reach) if centre.y() == middle.y() else (reach, half)
        boxes.append((name, QRectF(centre.x() - across, centre.y() - up, 2.0 * across, 2.0 * up)))
    return boxes


def _name_walls(sheet: Sheet, inside: QRectF) -> None:
    for name, box in wall_names(sheet, inside):
        if box.height() > box.width():
            sheet.write_upward(box.center(), name)
        else:
            sheet.write(box, name)


def _bands(outside: QRectF, inside: QRectF) -> tuple[QRectF, QRectF, QRectF, QRectF]:
    """The ring between two rectangles, as four pieces that do not overlap."""
    top = QRectF(outside.topLeft(), QPointF(outside.right(), inside.top()))
    bottom = QRectF(QPointF(outside.left(), inside.bottom()), outside.bottomRight())
    left = QRectF(QPointF(outside.left(), inside.top()), inside.bottomLeft())
    right = QRectF(inside.topRight(), QPointF(outside.right(), inside.bottom()))
    return top, bottom, left, right


def _paint_ground(sheet: Sheet, inside: QRectF) -> None:
    """The ground outdoors: a line with earth below it."""
    painter = sheet.painter
    left, right, level = inside.left() - WALL_PX, inside.right() + WALL_PX, inside.bottom()
    painter.setPen(stroke(sheet.colours, "muted", 0.9, alpha=0.75))
    count = int((right - left) // 9.0)
    starts = [left + 9.0 * number for number in range(count + 1)]
    painter.drawLines([QLineF(x, level + 7.0, x + 7.0, level) for x in starts if x + 7.0 <= right])
    painter.setPen(stroke(sheet.colours, "ink", 1.6))
    painter.drawLine(QLineF(left, level, right, level))


def paint_measures(sheet: Sheet, frame: Frame, room: Room | None) -> None:
    """The title of one view, and the lengths of the room along its edges."""
    titles = {ABOVE: tr("From above"), SIDE: tr("From the left side")}
    inside = frame.rect if room is None else frame.room_px(room.dimensions_m)
    around = inside.adjusted(-WALL_PX, -WALL_PX, WALL_PX, WALL_PX)
    top = around.top() - sheet.line_px() - 3.0
    title = titles[frame.view] if room is not None else tr("{view}, open air").format(view=titles[frame.view])
    sheet.write(
        QRectF(around.left(), top, around.width(), sheet.line_px()),
        title,
        "muted",
        Qt.AlignmentFlag.AlignLeft,
    )
    if room is None:
        return
    length, up = room.dimensions_m[0], room.dimensions_m[frame.up]
    if frame.view == ABOVE:
        _paint_across(
            sheet, inside, around.bottom() + MEASURE_GAP_PX, length_text(length, sheet.look.preference)
        )
    _paint_up(sheet, inside, around.left() - MEASURE_GAP_PX, length_text(up, sheet.look.preference))


def _paint_across(sheet: Sheet, inside: QRectF, level: float, text: str) -> None:
    middle, half = inside.center().x(), 0.5 * sheet.metrics.horizontalAdvance(text) + 6.0
    level += 0.5 * sheet.line_px()
    sheet.painter.setPen(stroke(sheet.colours, "edge"))
    ends = (inside.left(), inside.right())
    sheet.painter.drawLines([QLineF(x, level - _TICK_PX, x, level + _TICK_PX) for x in ends])
    if inside.width() > 2.0 * half + 8.0:
        sheet.painter.drawLines(
            [QLineF(ends[0], level, middle - half, level), QLineF(middle + half, level, ends[1], level)]
        )
    box = QRectF(middle - half, level - 0.5 * sheet.line_px(), 2.0 * half, sheet.line_px())
    sheet.write(box, text, "ink")


def _paint_up(sheet: Sheet, inside: QRectF, column: float, text: str) -> None:
    middle, half = inside.center().y(), 0.5 * sheet.metrics.horizontalAdvance(text) + 6.0
    column -= 0.5 * sheet.line_px()
    sheet.painter.setPen(stroke(sheet.colours, "edge"))
    ends = (inside.top(), inside.bottom())
    sheet.painter.drawLines([QLineF(column - _TICK_PX, y, column + _TICK_PX, y) for y in ends])
    if inside.height() > 2.0 * half + 8.0:
        sheet.painter.drawLines(
            [QLineF(column, ends[0], column, middle - half), QLineF(column, middle + half, column, ends[1])]
        )
    sheet.write_upward(QPointF(column, middle), text, "ink")


def paint_scale_bar(sheet: Sheet, corner: QPointF, px_per_m: float, most_px: float) -> float:
    """A bar of a round length from a corner, with its figure behind; returns the width it took [px]."""
    preference = sheet.look.preference
    lengths_m = [float(from_display(choice, "m", preference)) for choice in _BAR_CHOICES[preference]]
    fitting = [length for length in lengths_m if length * px_per_m <= most_px] or lengths_m[:1]
    length_m = next((length for length in fitting if length * px_per_m >= _BAR_LEAST_PX), fitting[-1])
    half = 0.5 * length_m * px_per_m
    bar = QRectF(corner.x(), corner.y() + 0.5 * sheet.line_px() - 2.5, 2.0 * half, 5.0)
    sheet.painter.fillRect(QRectF(bar.left(), bar.top(), half, bar.height()), sheet.colours.pick("muted"))
    sheet.painter.setPen(stroke(sheet.colours, "muted"))
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.drawRect(bar)
    text = _bar_text(length_m, preference)
    width = sheet.metrics.horizontalAdvance(text) + 4.0
    sheet.write(
        QRectF(bar.right() + 6.0, corner.y(), width, sheet.line_px()),
        text,
        "muted",
        Qt.AlignmentFlag.AlignLeft,
    )
    return bar.width() + 6.0 + width


def _bar_text(length_m: float, preference: Preference) -> str:
    if preference is Preference.US:
        return f"{length_m / _FOOT_M:.0f} {display_unit('m', preference)}"
    return show(length_m, "m", preference, decimals=0 if length_m >= 1.0 else 1)
