"""The scale drawing of the room on a page."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QFont

from planner.report.content.blocks import RoomView
from planner.report.drawing.frames import extents
from planner.report.drawing.look import Look
from planner.report.drawing.painting import paint_plain, plain_frames
from planner.report.pages.canvas import Canvas
from planner.report.pages.typeface import Style

__all__ = ["paint_room_view"]

PX_PER_POINT = 1.6
"""The drawing is made for screens; so many of its pixels fill a point."""
WORDS_PX = 10.6


def paint_room_view(canvas: Canvas, rect: QRectF, view: RoomView) -> None:
    """Paint the room from above and from the side into a rectangle of the page."""
    look = Look(view.plan, view.candidate, view.seat, preference=view.preference, on_paper=True)
    font = QFont(Style(6.6).font)
    font.setPixelSize(round(WORDS_PX))
    size = QSizeF(rect.width(), rect.height()) * PX_PER_POINT
    painter = canvas.painter
    painter.save()
    painter.translate(rect.topLeft())
    painter.scale(1.0 / PX_PER_POINT, 1.0 / PX_PER_POINT)
    paint_plain(painter, size, look, plain_frames(size, extents(look.plan), font), canvas.colours, font)
    painter.restore()
