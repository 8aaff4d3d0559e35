"""A small drawing of curves over frequency, for editors: absorption, response, impedance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.theme import Colours, colours_of, small_font

__all__ = ["CurveSketch", "Scale", "Trace"]

FloatArray = NDArray[np.float64]
HEIGHT_LINES = 8.0
DASHES = (4.0, 3.0)


@dataclass(frozen=True, slots=True)
class Scale:
    """What a vertical scale spans, where its marks are, and its unit."""

    low: float
    high: float
    marks: tuple[float, ...]
    unit: str = ""

    def words(self, mark: float) -> str:
        """A mark with its unit."""
        return f"{mark:g}{'' if self.unit == '°' else ' '}{self.unit}".strip()


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """A curve: frequencies [Hz] and values (n,); ``right`` puts it, dashed, on the second scale."""

    hertz: FloatArray
    values: FloatArray
    right: bool = False
    dots: bool = False


class CurveSketch(QWidget):
    """Curves over a log frequency axis with one scale on the left and perhaps one on the right."""

    def __init__(
        self,
        name: str,
        marks_hz: Sequence[float],
        words: Sequence[str] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._marks_hz = tuple(marks_hz)
        self._words = tuple(words) if words else tuple(_hertz(hertz) for hertz in marks_hz)
        self._traces: tuple[Trace, ...] = ()
        self._left, self._right = Scale(0.0, 1.0, (0.0, 0.5, 1.0)), Scale(0.0, 1.0, ())
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def traces(self) -> tuple[Trace, ...]:
        """What is drawn."""
        return self._traces

    def draw(self, traces: Sequence[Trace], left: Scale, right: Scale | None = None, words: str = "") -> None:
        """Draw these curves; *words* tell a screen reader what they show."""
        self._traces, self._left = tuple(traces), left
        self._right = right or Scale(0.0, 1.0, ())
        self.setAccessibleDescription(words)
        self.update()

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(small_font(self.font()))
        return QSize(round(metrics.averageCharWidth() * 30), round(metrics.lineSpacing() * HEIGHT_LINES))

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(small_font(self.font()))
            area = self._area(painter)
            painter.fillRect(area, colours.pick("surface"))
            self._paint_grid(painter, area, colours)
            painter.setClipRect(area.adjusted(-3.0, -3.0, 3.0, 3.0))
            for trace in self._traces:
                self._paint_trace(painter, area, trace, colours)

    def _area(self, painter: QPainter) -> QRectF:
        metrics = QFontMetricsF(painter.font(), self)
        left = max(
            (metrics.horizontalAdvance(self._left.words(mark)) for mark in self._left.marks), default=0.0
        )
        right = max(
            (metrics.horizontalAdvance(self._right.words(mark)) for mark in self._right.marks), default=0.0
        )
        half = metrics.height() / 2.0
        return QRectF(self.rect()).adjusted(
            left + 6.0, half, -(right + 6.0 if right else 10.0), -metrics.height() - 5.0
        )

    def _x(self, area: QRectF, hertz: float | FloatArray) -> float | FloatArray:
        low, high = np.log(self._marks_hz[0]), np.log(self._marks_hz[-1])
        return area.left() + (np.log(hertz) - low) / (high - low) * area.width()

    @staticmethod
    def _y(area: QRectF, scale: Scale, value: float | FloatArray) -> float | FloatArray:
        return area.bottom() - (value - scale.low) / (scale.high - scale.low) * area.height()

    def _paint_grid(self, painter: QPainter, area: QRectF, colours: Colours) -> None:
        metrics = QFontMetricsF(painter.font(), self)
        height, rule = metrics.height(), QPen(colours.pick("rule"), 1.0)
        ink = QPen(colours.pick("muted"))
        last = -1e9
        for hertz, words in zip(self._marks_hz, self._words, strict=True):
            x = float(self._x(area, hertz))
            painter.setPen(rule)
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
            width = metrics.horizontalAdvance(words)
            left = min(x - width / 2.0, self.width() - width)
            if left > last + 6.0:
                painter.setPen(ink)
                painter.drawText(QPointF(left, area.bottom() + metrics.ascent() + 4.0), words)
                last = left + width
        for scale, near, flag in (
            (self._left, QRectF(0.0, 0.0, area.left() - 5.0, height), Qt.AlignmentFlag.AlignRight),
            (self._right, QRectF(area.right() + 5.0, 0.0, self.width(), height), Qt.AlignmentFlag.AlignLeft),
        ):
            for mark in scale.marks:
                y = float(self._y(area, scale, mark))
                if scale is self._left:
                    painter.setPen(rule)
                    painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
                painter.setPen(ink)
                painter.drawText(
                    near.translated(0.0, y - height / 2.0),
                    flag | Qt.AlignmentFlag.AlignVCenter,
                    scale.words(mark),
                )

    def _paint_trace(self, painter: QPainter, area: QRectF, trace: Trace, colours: Colours) -> None:
        scale = self._right if trace.right else self._left
        x, y = np.atleast_1d(self._x(area, trace.hertz)), np.atleast_1d(self._y(area, scale, trace.values))
        points = QPolygonF([QPointF(*pair) for pair in zip(x.tolist(), y.tolist(), strict=True)])
        pen = QPen(colours.pick("series 1" if trace.right else "series 0"), 1.6)
        if trace.right:
            pen.setDashPattern(list(DASHES))
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(points)
        if trace.dots:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colours.pick("series 0"))
            for point in points:
                painter.drawEllipse(point, 2.4, 2.4)


def _hertz(hertz: float) -> str:
    return f"{hertz:g}" if hertz < 1000.0 else f"{hertz / 1000.0:g}k"
