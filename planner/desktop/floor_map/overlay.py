"""A part of a chart that paints over the whole field in pixels, counted from its upper left."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QGraphicsItem

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales
from planner.desktop.theme import LIGHT

__all__ = ["Overlay"]


class Overlay(QGraphicsItem):
    """Knows the field's size and the theme; a subclass paints.

    What lies under it may be any colour, so it takes its own from the theme and its lines bring their ground.
    """

    def __init__(self, scales: Scales) -> None:
        super().__init__()
        self.key: Key | None = None
        self.field = QRectF()
        self._scales = scales
        self._look = Look(LIGHT)
        self._font = QFont()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)

    def at(self, x_share: float, y_share: float) -> QPointF:
        """A point by its shares of both sides, counted from the lower left, in pixels."""
        return QPointF(x_share * self.field.width(), (1.0 - y_share) * self.field.height())

    def rescale(self) -> None:
        self.prepareGeometryChange()
        self.setPos(self._scales.x.ends[0], self._scales.y.ends[1])
        self.field = QRectF(0.0, 0.0, self._scales.width_px, self._scales.height_px)
        self.update()

    def restyle(self, look: Look) -> None:
        self._look = look
        self.update()

    def refont(self, font: QFont) -> None:
        self._font = font

    def boundingRect(self) -> QRectF:
        return self.field
