"""The chart's grid: one item that draws straight lines, because pyqtgraph's own costs more than all else."""

import pyqtgraph as pg
from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.look import Look

__all__ = ["Grid"]


class Grid(pg.GraphicsObject):
    """Lines across the view at given places; they change with the ticks and never with the data."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: list[QLineF] = []
        self._bounds = QRectF()
        self._pen = QPen()

    def set_lines(self, across: list[float], along: list[float], bounds: QRectF) -> None:
        """Lay upright lines at the places `across` and level ones at `along`, over the whole of `bounds`."""
        self.prepareGeometryChange()
        self._bounds = bounds
        upright = [QLineF(place, bounds.top(), place, bounds.bottom()) for place in across]
        level = [QLineF(bounds.left(), place, bounds.right(), place) for place in along]
        self.lines = upright + level
        self.update()

    def restyle(self, look: Look) -> None:
        """Take colour and line width."""
        self._pen = look.pen("grid")
        self.update()

    def boundingRect(self) -> QRectF:
        return self._bounds

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(self._pen)
        painter.drawLines(self.lines)
