"""An axis that draws its figures straight onto the device, so that screen, PDF and SVG place them alike."""

import pyqtgraph as pg
from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import NameScale, Scale, Tick, fitting

__all__ = ["TickAxis"]

TICK_PX = 4.0
PAD_PX = 4.0
OVERHANG_PX = 60.0
LEVEL_GAP_PX = 12.0
UPRIGHT_GAP_PX = 10.0
LONGEST_NAME_SHARE = 0.42
CLOSEST_NAMES = 0.85
"""How close lines of names may come, in heights of a line: letters still keep clear of one another."""


class TickAxis(pg.AxisItem):
    """The left or bottom side of a chart: `arrange` chooses the ticks, `paint` draws them.

    Charts that stand one above the other line up by a `sample` that is as wide as the widest figure of all;
    a `bare` bottom leaves its figures to the chart below it.
    """

    sample = ""
    bare = False

    def __init__(self, side: str, scale: Scale) -> None:
        super().__init__(side)
        self.enableAutoSIPrefix(False)
        self.scale_shown = scale
        self.ticks: list[Tick] = []
        self._upright = side == "left"
        self._places: list[float] = []
        self._figures: list[tuple[QRectF, str]] = []
        self._length_px = self._breadth = 0.0
        across = Qt.AlignmentFlag.AlignRight if self._upright else Qt.AlignmentFlag.AlignHCenter
        self._align = across | Qt.AlignmentFlag.AlignVCenter
        self._font = QFont()
        self._ink = QPen()
        self._line = QPen()

    def refont(self, font: QFont) -> None:
        """Take the font of the figures."""
        self._font = font

    def restyle(self, look: Look) -> None:
        """Take colours and line widths."""
        self._ink = QPen(look.pick("muted"))
        self._line = look.pen("edge")
        self.update()

    def arrange(self, length_px: float) -> None:
        """Choose the ticks that fit a side of this length."""
        metrics = QFontMetricsF(self._font)
        if self._upright:
            names = isinstance(self.scale_shown, NameScale)
            line_px = metrics.height() * (CLOSEST_NAMES if names else 1.0)
            gap_px = 0.0 if names else UPRIGHT_GAP_PX
            self.ticks = fitting(self.scale_shown, length_px, lambda text: line_px, gap_px)
        else:
            self.ticks = fitting(self.scale_shown, length_px, metrics.horizontalAdvance, LEVEL_GAP_PX)
        low, high = self.scale_shown.ends
        shares = [(tick.place - low) / (high - low) for tick in self.ticks]
        self._places = [length_px * (1.0 - share if self._upright else share) for share in shares]
        self._length_px = length_px
        self.update()

    def take_room(self, room_px: float) -> None:
        """Ask for the room that the figures need, names beside a chart never more than their share of it."""
        metrics = QFontMetricsF(self._font)
        texts = [self.sample, *(tick.text for tick in self.ticks)]
        widest = max(metrics.horizontalAdvance(text) for text in texts)
        if self._upright:
            self._breadth = max(min(widest, LONGEST_NAME_SHARE * room_px) + 3.0 * PAD_PX, 2.0 * PAD_PX)
            self.setWidth(self._breadth)
        else:
            self.setHeight(room_px)
        self._figures = [
            self._figure(tick, place) for tick, place in zip(self.ticks, self._places, strict=True)
        ]

    @property
    def line_px(self) -> float:
        """Height of the figures below a chart, with their ticks [px]."""
        return TICK_PX if self.bare else QFontMetricsF(self._font).height() + TICK_PX + PAD_PX

    @property
    def overhang_px(self) -> float:
        """How far the last figure of the bottom axis reaches beyond its end [px]."""
        metrics = QFontMetricsF(self._font)
        halves = [metrics.horizontalAdvance(tick.text) / 2.0 for tick in self.ticks]
        edges = (place + half for place, half in zip(self._places, halves, strict=True))
        return max((edge - self._length_px for edge in edges), default=0.0)

    def boundingRect(self) -> QRectF:
        beside, above = (0.0, OVERHANG_PX) if self._upright else (OVERHANG_PX, 0.0)
        rect = QRectF(self.mapRectFromParent(self.geometry()))
        return rect.adjusted(-beside, -above, beside, above)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        if not self._upright:
            painter.setPen(self._line)
            painter.drawLine(QLineF(0.0, 0.5, self._length_px, 0.5))
            painter.drawLines([QLineF(place, 0.5, place, TICK_PX) for place in self._places])
        if self.bare:
            return
        painter.setFont(self._font)
        painter.setPen(self._ink)
        for box, text in self._figures:
            painter.drawText(box, self._align, text)

    def _figure(self, tick: Tick, place: float) -> tuple[QRectF, str]:
        metrics = QFontMetricsF(self._font)
        height = metrics.height()
        if not self._upright:
            return (QRectF(place - OVERHANG_PX, TICK_PX + 2.0, 2.0 * OVERHANG_PX, height), tick.text)
        room = self._breadth - 2.0 * PAD_PX
        text = metrics.elidedText(tick.text, Qt.TextElideMode.ElideRight, room)
        return (QRectF(0.0, place - height, room, 2.0 * height), text)
