"""Bars against guide values: one row a thing, the guides as lines through all of them."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.theme import Colours, colours_of, small_font

__all__ = ["Bar", "Guide", "GuideBars"]

ROW_LINES, BAR_SHARE = 1.45, 0.5
NAME_SHARE, GAP_PX = 0.34, 8.0
BAND_ALPHA = 0.16
NARROWEST_LETTERS = 36


@dataclass(frozen=True, slots=True)
class Bar:
    """A thing: its name, its value, the value in words, and whether it is the one looked at."""

    name: str
    value: float
    words: str
    token: str = "series 0"
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Guide:
    """A value to compare with, its words left (−1) or right (1) of the line, and the band up to ``end``."""

    value: float
    words: str
    side: int = 1
    end: float | None = None


class GuideBars(QWidget):
    """A small drawing between texts; its words are what a screen reader tells."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bars: tuple[Bar, ...] = ()
        self.guides: tuple[Guide, ...] = ()
        self._span = (0.0, 1.0)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_bars(self, bars: tuple[Bar, ...], guides: tuple[Guide, ...], span: tuple[float, float]) -> None:
        """Show other bars between two ends; nothing hides the drawing."""
        self.bars, self.guides, self._span = bars, guides, span
        told = [f"{one.name} {one.words}" for one in bars] + [one.words for one in guides if one.words]
        self.setAccessibleDescription("; ".join(told))
        self.setToolTip("")
        self.setVisible(bool(bars))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(self._small())
        lines = 1.2 + ROW_LINES * max(len(self.bars), 1)
        return QSize(
            round(NARROWEST_LETTERS * metrics.averageCharWidth()), round(lines * metrics.height() + 2.0)
        )

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def _small(self) -> QFont:
        return small_font(self.font())

    def _strong(self) -> QFont:
        font = self._small()
        font.setWeight(QFont.Weight.DemiBold)
        return font

    def _field(self) -> QRectF:
        """Where the bars lie: between the names and the figures, below the words of the guides."""
        metrics = QFontMetricsF(self._strong())
        names = max((metrics.horizontalAdvance(one.name) for one in self.bars), default=0.0)
        words = max((metrics.horizontalAdvance(one.words) for one in self.bars), default=0.0)
        left = min(names, NAME_SHARE * self.width()) + GAP_PX
        top = 1.2 * metrics.height()
        width = self.width() - left - words - 1.5 * GAP_PX
        return QRectF(left, top, max(width, 1.0), max(self.height() - top - 1.0, 1.0))

    def _x(self, field: QRectF, value: float) -> float:
        low, high = self._span
        share = (min(max(value, low), high) - low) / (high - low)
        return field.left() + share * field.width()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours, field = colours_of(self.palette()), self._field()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for guide in self.guides:
                self._paint_guide(painter, guide, field, colours)
            height = field.height() / max(len(self.bars), 1)
            for row, bar in enumerate(self.bars):
                room = QRectF(0.0, field.top() + row * height, self.width(), height)
                self._paint_bar(painter, bar, room, field, colours)

    def _paint_guide(self, painter: QPainter, guide: Guide, field: QRectF, colours: Colours) -> None:
        x = self._x(field, guide.value)
        if guide.end is not None:
            band = QRectF(QPointF(x, field.top()), QPointF(self._x(field, guide.end), field.bottom()))
            painter.fillRect(band, colours.pick("tight", BAND_ALPHA))
        painter.setPen(QPen(colours.pick("tight"), 1.2))
        painter.drawLine(QPointF(x, field.top() - 2.0), QPointF(x, field.bottom()))
        painter.setFont(self._small())
        painter.setPen(colours.pick("muted"))
        words = QFontMetricsF(painter.font()).horizontalAdvance(guide.words)
        left = x + 3.0 if guide.side > 0 else x - words - 3.0
        left = min(max(left, 0.0), self.width() - words)
        painter.drawText(
            QPointF(left, field.top() - 0.35 * QFontMetricsF(painter.font()).height()), guide.words
        )

    def _paint_bar(self, painter: QPainter, bar: Bar, room: QRectF, field: QRectF, colours: Colours) -> None:
        painter.setFont(self._strong() if bar.strong else self._small())
        metrics = QFontMetricsF(painter.font())
        painter.setPen(colours.pick("ink"))
        left = QRectF(0.0, room.top(), field.left() - GAP_PX, room.height())
        name = metrics.elidedText(bar.name, Qt.TextElideMode.ElideRight, left.width() + 1.0)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        painter.drawText(left, flags | Qt.AlignmentFlag.AlignRight, name)
        end = self._x(field, bar.value)
        thick = BAR_SHARE * room.height()
        rect = QRectF(field.left(), room.center().y() - thick / 2.0, max(end - field.left(), 2.0), thick)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colours.pick(bar.token))
        painter.drawRoundedRect(rect, 2.0, 2.0)
        painter.setPen(colours.pick("ink"))
        painter.drawText(room, flags | Qt.AlignmentFlag.AlignRight, bar.words)
