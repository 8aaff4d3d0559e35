"""What explains a chart's data: straight lines, shaded zones and words."""

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import (
    QGraphicsItem,
    QGraphicsLineItem,
    QGraphicsRectItem,
    QStyleOptionGraphicsItem,
    QWidget,
)

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales

__all__ = ["Label", "Rule", "Zone"]

ZONE_ALPHA = 0.10
PLATE_ALPHA = 0.82


class Rule(QGraphicsLineItem):
    """A straight line across the whole chart, upright or level."""

    def __init__(
        self,
        scales: Scales,
        name: str,
        token: str,
        *,
        level: bool,
        dash: tuple[float, ...] = (),
        width: float = 1.0,
    ) -> None:
        super().__init__()
        self._scales, self._level, self._style = scales, level, Key(name, token, dash, width)
        self.key = self._style if name else None
        self._value: float | None = None
        self.setVisible(False)

    def show_at(self, value: float | None) -> None:
        """Move the line to a value of the side that it crosses; None hides it."""
        self._value = value
        self.rescale()

    def rescale(self) -> None:
        own, other = (self._scales.y, self._scales.x) if self._level else (self._scales.x, self._scales.y)
        place = float("nan") if self._value is None else float(own.place(self._value))
        self.setVisible(bool(np.isfinite(place)))
        if self.isVisible():
            low, high = other.ends
            self.setLine(QLineF(low, place, high, place) if self._level else QLineF(place, low, place, high))

    def restyle(self, look: Look) -> None:
        self.setPen(look.pen(self._style.token, self._style.width, self._style.dash))

    def refont(self, font: QFont) -> None: ...


class Zone(QGraphicsRectItem):
    """A shaded band from edge to edge, between two values of one side."""

    def __init__(self, scales: Scales, name: str, token: str, *, level: bool) -> None:
        super().__init__()
        self._scales, self._level, self._token = scales, level, token
        self.key = Key(name, token, filled=True) if name else None
        self._span: tuple[float, float] | None = None
        self.setPen(Qt.PenStyle.NoPen)
        self.setVisible(False)

    def show_between(self, low: float, high: float) -> None:
        """Shade from one value to another; values beyond the side's ends stop there."""
        self._span = (low, high)
        self.rescale()

    def rescale(self) -> None:
        if self._span is None:
            return
        own, other = (self._scales.y, self._scales.x) if self._level else (self._scales.x, self._scales.y)
        low, high = np.clip(own.place(self._span), *own.ends)
        first, last = other.ends
        spans = (first, low, last, high) if self._level else (low, first, high, last)
        self.setRect(QRectF(QPointF(*spans[:2]), QPointF(*spans[2:])).normalized())
        self.setVisible(True)

    def restyle(self, look: Look) -> None:
        self.setBrush(QBrush(look.pick(self._token, ZONE_ALPHA)))

    def refont(self, font: QFont) -> None: ...


class Label(QGraphicsItem):
    """Words beside a point of the chart, on a plate of the ground so that curves do not run through them."""

    def __init__(self, scales: Scales, token: str = "ink", gap_px: float = 7.0) -> None:
        super().__init__()
        self._scales, self._token, self._gap_px = scales, token, gap_px
        self.key = None
        self.text = ""
        self._at = (0.0, 0.0)
        self._align = (1.0, 1.0)
        self._box = QRectF()
        self._font = QFont()
        self._pen = QPen()
        self._plate = QBrush()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)

    def show_text(self, x: float, y: float, text: str, align: tuple[float, float] = (1.0, 1.0)) -> None:
        """Write *text* at a point.

        `align` says where the text stands from the point: −1 left or below, 0 centred, 1 right or above.
        Where the chart has no room there it stands on the other side, and it never leaves the chart.
        """
        self._at, self.text, self._align = (x, y), text, align
        self.rescale()

    def rescale(self) -> None:
        places = (float(self._scales.x.place(self._at[0])), float(self._scales.y.place(self._at[1])))
        self.setVisible(bool(self.text) and bool(np.all(np.isfinite(places))))
        if not self.isVisible():
            return
        self.prepareGeometryChange()
        self.setPos(*places)
        across = self._scales.x.share(self._at[0]) * self._scales.width_px
        down = (1.0 - self._scales.y.share(self._at[1])) * self._scales.height_px
        metrics = QFontMetricsF(self._font)
        width, height = metrics.horizontalAdvance(self.text) + 6.0, metrics.height() + 2.0
        left = _beside(across, width, self._gap_px, self._align[0], self._scales.width_px)
        top = _beside(down, height, self._gap_px, -self._align[1], self._scales.height_px)
        self._box = QRectF(left, top, width, height)
        self.update()

    def restyle(self, look: Look) -> None:
        self._pen = QPen(look.pick(self._token))
        self._plate = QBrush(look.pick("surface", PLATE_ALPHA))
        self.update()

    def refont(self, font: QFont) -> None:
        self._font = font
        self.rescale()

    def boundingRect(self) -> QRectF:
        return self._box

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.fillRect(self._box, self._plate)
        painter.setFont(self._font)
        painter.setPen(self._pen)
        painter.drawText(self._box, Qt.AlignmentFlag.AlignCenter, self.text)


def _beside(point_px: float, length_px: float, gap_px: float, side: float, room_px: float) -> float:
    """Where a text begins, counted from its point: on its side if it fits, else on the other, and inside."""
    starts = [(turn - 1.0) / 2.0 * length_px + turn * gap_px for turn in (side, -side)]
    fits = [start for start in starts if 0.0 <= point_px + start <= room_px - length_px]
    start = fits[0] if fits else starts[0]
    return min(max(start, -point_px), max(room_px - length_px, 0.0) - point_px)
