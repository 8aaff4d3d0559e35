"""The part of the drawing that stays while things are moved about, painted once and kept."""

from __future__ import annotations

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QFont, QPainter, QPixmap

from planner.desktop.theme import Colours
from planner.report.drawing.look import Look
from planner.report.drawing.painting import Frames, has_fans, paint_ground
from planner.report.drawing.words import any_outside

__all__ = ["Ground"]


class Ground:
    """Keeps the last ground, until room, size, colours, font or units are no longer the same."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        self._room: object = None
        self._pixmap = QPixmap()

    def pixmap(
        self,
        size: QSizeF,
        ratio: float,
        look: Look,
        frames: Frames,
        colours: Colours,
        font: QFont,
        kept_px: float,
    ) -> QPixmap:
        """The ground for a look, sharp at so many device pixels to a pixel, some room kept free below."""
        fans = has_fans(look), look.fan_hz, any_outside(look)
        key = (size, ratio, frames, colours, font, look.preference, fans, kept_px)
        # A room that is changed is another object, so it need not be compared value by value.
        if key != self._key or look.plan.room is not self._room or self._pixmap.isNull():
            self._key, self._room = key, look.plan.room
            self._pixmap = QPixmap((size * ratio).toSize())
            self._pixmap.setDevicePixelRatio(ratio)
            with QPainter(self._pixmap) as painter:
                paint_ground(painter, size, look, frames, colours, font, kept_px)
        return self._pixmap
