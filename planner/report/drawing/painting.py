"""The whole drawing painted once: on the screen, into a picture, or on paper."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter

from planner.report.drawing.frames import WALL_PX, Extents, Frame, Margins, arranged
from planner.report.drawing.look import Look
from planner.report.drawing.room_paint import MEASURE_GAP_PX, paint_measures, paint_room, paint_scale_bar
from planner.report.drawing.sheet import Sheet, stroke
from planner.report.drawing.symbols import fan_angles
from planner.report.drawing.things_paint import paint_outside, paint_things
from planner.report.drawing.words import any_outside, fault_text, frequency_text, status_text, tr
from planner.report.style import Colours, paint_verdict, small_font

__all__ = [
    "Frames",
    "footer",
    "frames_for",
    "has_fans",
    "paint",
    "paint_ground",
    "paint_over",
    "paint_plain",
    "plain_frames",
]

Frames = tuple[Frame, Frame]
_EDGE_PX = 6.0


def frames_for(size: QSizeF, whole: Extents, font: QFont) -> Frames:
    """Where the two views lie on a picture of a size, with room for words in a font."""
    line = _line_px(font)
    return arranged(size, whole, _margins(line, _EDGE_PX, 2.0 * line + 3.0 * _EDGE_PX))


def plain_frames(size: QSizeF, whole: Extents, font: QFont) -> Frames:
    """Where the two views lie in a picture that is part of a page: no edge round it, no line of status."""
    line = _line_px(font)
    return arranged(size, whole, _margins(line, 0.0, line + _EDGE_PX))


def _line_px(font: QFont) -> float:
    return QFontMetricsF(small_font(font)).height()


def _margins(line: float, edge: float, footer: float) -> Margins:
    return Margins(
        left=edge + line + MEASURE_GAP_PX + WALL_PX,
        top=edge + line + 3.0 + WALL_PX,
        right=edge + WALL_PX,
        bottom=WALL_PX + MEASURE_GAP_PX + line,
        footer=footer,
    )


def paint(painter: QPainter, size: QSizeF, look: Look, frames: Frames, colours: Colours, font: QFont) -> None:
    """Paint a look of the drawing in the colours of a theme."""
    paint_ground(painter, size, look, frames, colours, font)
    paint_over(painter, size, look, frames, colours, font)


def paint_plain(
    painter: QPainter, size: QSizeF, look: Look, frames: Frames, colours: Colours, font: QFont
) -> None:
    """Paint a look as part of a page, in the frames of :func:`plain_frames`."""
    sheet = _sheet(painter, look, colours, font)
    for frame in frames:
        paint_room(sheet, frame, look.plan.room)
        paint_measures(sheet, frame, look.plan.room)
        paint_things(replace(sheet, fades=False, taken=[]), frame)
    line = sheet.line_px()
    _paint_scale(sheet, QRectF(0.0, size.height() - line, size.width(), line), frames[0].px_per_m)


def paint_ground(
    painter: QPainter,
    size: QSizeF,
    look: Look,
    frames: Frames,
    colours: Colours,
    font: QFont,
    kept_px: float = 0.0,
) -> None:
    """Paint what stays while things are moved about: paper, room and measures.

    At the right end of the first line below the views `kept_px` are left free.
    """
    sheet = _sheet(painter, look, colours, font)
    painter.fillRect(QRectF(QPointF(0.0, 0.0), size), colours.pick("surface"))
    for frame in frames:
        paint_room(sheet, frame, look.plan.room)
        paint_measures(sheet, frame, look.plan.room)
    _paint_scale(sheet, footer(size, font).adjusted(0.0, 0.0, -kept_px, 0.0), frames[0].px_per_m)


def footer(size: QSizeF, font: QFont) -> QRectF:
    """The first line below the views."""
    line = _line_px(font)
    top = size.height() - 2.0 * (_EDGE_PX + line)
    return QRectF(2.0 * _EDGE_PX, top, size.width() - 4.0 * _EDGE_PX, line)


def paint_over(
    painter: QPainter, size: QSizeF, look: Look, frames: Frames, colours: Colours, font: QFont
) -> None:
    """Paint on top of the ground what moves: seats, stands, and the line that tells of them."""
    for frame in frames:
        paint_things(_sheet(painter, look, colours, font), frame)
    _paint_status(_sheet(painter, look, colours, font), size)


def _sheet(painter: QPainter, look: Look, colours: Colours, font: QFont) -> Sheet:
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    return Sheet(painter, look, colours, font)


def _paint_scale(sheet: Sheet, box: QRectF, px_per_m: float) -> None:
    """The first line below the views: the scale, and what the fans mean."""
    taken = paint_scale_bar(sheet, box.topLeft(), px_per_m, 0.4 * box.width()) + 3.0 * _EDGE_PX
    _paint_fan_key(sheet, box.adjusted(taken, 0.0, 0.0, 0.0))


def has_fans(look: Look, frequency_hz: float | None = None) -> bool:
    """Whether some stand has a horn that plays a frequency, or that of which the coverage is drawn."""
    hz = look.fan_hz if frequency_hz is None else frequency_hz
    return any(fan_angles(look.loudspeaker, stand, hz) for stand in look.plan.stands)


def _paint_fan_key(sheet: Sheet, box: QRectF) -> None:
    look = sheet.look
    if not has_fans(look) or box.width() < 60.0:
        return
    text = tr("horn, −6 dB at {frequency}").format(frequency=frequency_text(look.fan_hz))
    swatch = QRectF(box.left(), box.center().y() - 5.0, 16.0, 10.0)
    sheet.painter.setPen(stroke(sheet.colours, "series 4", 1.0, alpha=0.6))
    sheet.painter.setBrush(sheet.colours.pick("series 4", 0.18))
    sheet.painter.drawRect(swatch)
    words = box.adjusted(swatch.width() + 6.0, 0.0, 0.0, 0.0)
    sheet.write(words, text, "muted", Qt.AlignmentFlag.AlignLeft)
    outside = words.adjusted(sheet.metrics.horizontalAdvance(text) + 3.0 * _EDGE_PX, 0.0, 0.0, 0.0)
    text = tr("seat outside")
    if any_outside(look) and outside.width() > sheet.metrics.horizontalAdvance(text) + 20.0:
        paint_outside(sheet, QPointF(outside.left() + 5.0, outside.center().y()))
        sheet.write(outside.adjusted(15.0, 0.0, 0.0, 0.0), text, "muted", Qt.AlignmentFlag.AlignLeft)


def _paint_status(sheet: Sheet, size: QSizeF) -> None:
    """The second line below the views: what is selected or at fault."""
    line = sheet.line_px()
    left, width = 2.0 * _EDGE_PX, size.width() - 4.0 * _EDGE_PX
    box = QRectF(left, size.height() - _EDGE_PX - line, width, line)
    text, fault = status_text(sheet.look), bool(fault_text(sheet.look))
    if fault:
        mark = QRectF(box.left(), box.center().y() - 6.0, 12.0, 12.0)
        paint_verdict(sheet.painter, mark, "short", sheet.colours)
        box = box.adjusted(18.0, 0.0, 0.0, 0.0)
    sheet.write(box, text, "short" if fault else "muted", Qt.AlignmentFlag.AlignLeft)
