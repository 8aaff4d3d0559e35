"""Type and colours of a presentation: every size follows the window, none falls below the reader's own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPalette

from planner.desktop.theme import Colours, colours_of

__all__ = ["Look", "is_free", "look_for"]

# Height of each kind of text in a window of 1280 × 800 [px], and the least against the reader's own text.
SIZES = {
    "small": (14.0, 1.0),
    "body": (17.0, 1.05),
    "answer": (24.0, 1.2),
    "figure": (38.0, 1.4),
    "question": (42.0, 1.5),
}
STRONG = ("figure", "question")
FULL = QSizeF(1280.0, 800.0)
LEAST_SCALE = 0.6


@dataclass(frozen=True, slots=True)
class Look:
    """How everything is drawn in a window of one size."""

    colours: Colours
    scale: float
    base: QFont
    dots_per_inch: float

    def px(self, at_800: float) -> float:
        """A length that is so long in a window of 1280 × 800 [px]."""
        return at_800 * self.scale

    def font(self, kind: str, *, strong: bool = False) -> QFont:
        """One of the kinds of text, in points."""
        height_px, least = SIZES[kind]
        points = self.px(height_px) * 72.0 / self.dots_per_inch
        font = QFont(self.base)
        font.setPointSizeF(max(points, least * self.base.pointSizeF()))
        font.setWeight(QFont.Weight.DemiBold if strong or kind in STRONG else QFont.Weight.Normal)
        return font

    def metrics(self, kind: str, *, strong: bool = False) -> QFontMetricsF:
        """How large that kind of text is."""
        return QFontMetricsF(self.font(kind, strong=strong))

    def line(self, kind: str) -> float:
        """Height of one line [px]."""
        return self.metrics(kind).height()

    def box(self, at: QPointF, text: str, kind: str, h: float, v: float, *, strong: bool = False) -> QRectF:
        """Where :meth:`write` would put a text."""
        metrics = self.metrics(kind, strong=strong)
        width, height = metrics.horizontalAdvance(text) + 1.0, metrics.height()
        return QRectF(at.x() - h * width, at.y() - v * height, width, height)

    def write(
        self,
        painter: QPainter,
        at: QPointF,
        text: str,
        kind: str = "body",
        token: str = "ink",
        h: float = 0.5,
        v: float = 0.5,
        *,
        strong: bool = False,
    ) -> QRectF:
        """Write one line whose box has *at* so far from its left (*h*) and its top (*v*); return the box."""
        box = self.box(at, text, kind, h, v, strong=strong)
        painter.setFont(self.font(kind, strong=strong))
        painter.setPen(self.colours.pick(token))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextSingleLine, text)
        return box

    def write_in(
        self, painter: QPainter, rect: QRectF, text: str, kind: str, token: str, flags: Qt.AlignmentFlag
    ) -> QRectF:
        """Write a text within a rectangle, in as many lines as it takes; return what it covers."""
        painter.setFont(self.font(kind))
        painter.setPen(self.colours.pick(token))
        return painter.drawText(rect, int(flags | Qt.TextFlag.TextWordWrap), text)


def is_free(box: QRectF, taken: Iterable[QRectF], gap: float) -> bool:
    """Whether a box stays so far left and right of all that is taken, and a little above or below it."""
    apart = box.adjusted(-gap, -0.1 * gap, gap, 0.1 * gap)
    return not any(apart.intersects(other) for other in taken)


def look_for(width: float, height: float, palette: QPalette, base: QFont, dots_per_inch: float) -> Look:
    """The look of a window of so many pixels, for a reader whose text is *base*."""
    scale = max(LEAST_SCALE, min(width / FULL.width(), height / FULL.height()))
    return Look(colours_of(palette), scale, base, dots_per_inch)
