"""Short upright lines hanging near the top of a chart, longer where what they mark is stronger."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales

__all__ = ["Ticks"]

SHORTEST_PX, LONGEST_PX = 4.0, 14.0


class Ticks(QGraphicsItem):
    """Marks of many places along the bottom side; of those within one pixel the strongest is drawn."""

    def __init__(self, scales: Scales, token: str) -> None:
        super().__init__()
        self.key: Key | None = None
        self.lines: list[QLineF] = []
        self._scales, self._token = scales, token
        self._x: NDArray[np.float64] = np.empty(0)
        self._strength: NDArray[np.float64] = np.empty(0)
        self._top_px = 0.0
        self._pen = QPen()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)

    def show_ticks(self, x: ArrayLike, strength: ArrayLike) -> None:
        """Show other places, each with a strength from 0 to 1."""
        self._x, self._strength = np.asarray(x, dtype=float), np.asarray(strength, dtype=float)
        self.rescale()

    def rescale(self) -> None:
        self.prepareGeometryChange()
        low, high = self._scales.x.ends
        self.setPos(low, self._scales.y.ends[1])
        pixels = np.rint((self._scales.x.place(self._x) - low) / (high - low) * self._scales.width_px)
        seen = np.flatnonzero((pixels >= 0.0) & (pixels <= self._scales.width_px))
        strongest_first = seen[np.argsort(-self._strength[seen], kind="stable")]
        places, first = np.unique(pixels[strongest_first], return_index=True)
        lengths = SHORTEST_PX + (LONGEST_PX - SHORTEST_PX) * self._strength[strongest_first[first]]
        top = self._top_px
        self.lines = [
            QLineF(place + 0.5, top, place + 0.5, top + length)
            for place, length in zip(places.tolist(), lengths.tolist(), strict=True)
        ]
        self.update()

    def restyle(self, look: Look) -> None:
        self._pen = look.pen(self._token)
        self.update()

    def refont(self, font: QFont) -> None:
        """Hang below one line of words."""
        self._top_px = QFontMetricsF(font).height() + 3.0
        self.rescale()

    @property
    def bottom_px(self) -> float:
        """How far the longest mark may reach below the top of the field [px]."""
        return self._top_px + LONGEST_PX

    def boundingRect(self) -> QRectF:
        return QRectF(0.0, 0.0, self._scales.width_px, self.bottom_px)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(self._pen)
        painter.drawLines(self.lines)
