"""The coloured floor, and the line on it along which the target is just met."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QImage, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales
from planner.desktop.floor_map.contour import contour
from planner.desktop.floor_map.grid import finer
from planner.desktop.floor_map.overlay import Overlay
from planner.desktop.floor_map.ramp import ramp
from planner.desktop.floor_map.steps import Steps

__all__ = ["Heat", "Line"]

FloatArray = NDArray[np.float64]
FINER, FINEST = 1.5, 16
CASING_PX, LINE_PX = 4.0, 1.8
CASING_ALPHA = 0.75


class Heat(Overlay):
    """Values of even cells as areas of one colour each step."""

    def __init__(self, scales: Scales) -> None:
        super().__init__(scales)
        self._values: FloatArray = np.empty((0, 0))
        self._steps = Steps(0.0, 1.0, 1)
        self._pixels: NDArray[np.uint32] = np.empty((0, 0), np.uint32)
        self._image = QImage()

    def show_values(self, values: FloatArray, steps: Steps) -> None:
        """Show other values (X, Y), which have no gaps."""
        self._values, self._steps = values, steps
        self._mix()
        self.update()

    def rescale(self) -> None:
        before = self.field
        super().rescale()
        if self.field != before:
            self._mix()

    def restyle(self, look: Look) -> None:
        before = self._look.lines
        super().restyle(look)
        if look.lines != before:
            self._mix()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        if not self._image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(self.field, self._image)

    def _mix(self) -> None:
        """Make the picture a little finer than the screen, or the paper; the painter smooths it."""
        if not self._values.size or self.field.isEmpty():
            return
        columns, rows = (
            min(max(round(side_px * self._look.lines * FINER), cells), FINEST * cells)
            for side_px, cells in zip(
                (self.field.width(), self.field.height()), self._values.shape, strict=True
            )
        )
        numbers = self._steps.numbers(finer(self._values, columns, rows))
        # Pictures run row by row from the top; the image keeps no copy, so this must live as long.
        self._pixels = np.ascontiguousarray(ramp(self._steps.count)[numbers].T[::-1])
        image_format = QImage.Format.Format_RGB32
        self._image = QImage(self._pixels.data, columns, rows, 4 * columns, image_format)


class Line(Overlay):
    """A line at one level of the values, cased so that it stands out on every colour."""

    def __init__(self, scales: Scales) -> None:
        super().__init__(scales)
        self.pieces: FloatArray = np.empty((0, 2, 2))
        self._lines: list[QLineF] = []

    def show_level(self, values: FloatArray, level: float) -> None:
        """Show the line at a level of other values (X, Y), which have no gaps."""
        self.pieces = contour(values, level)
        self._lay()

    def rescale(self) -> None:
        super().rescale()
        self._lay()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for token, alpha, width in (("surface", CASING_ALPHA, CASING_PX), ("ink", 1.0, LINE_PX)):
            pen = QPen(self._look.pick(token, alpha), width)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            painter.setPen(pen)
            painter.drawLines(self._lines)

    def _lay(self) -> None:
        width, height = self.field.width(), self.field.height()
        ends = self.pieces * (width, -height) + (0.0, height)
        self._lines = [QLineF(QPointF(*start), QPointF(*end)) for start, end in ends.tolist()]
        self.update()
