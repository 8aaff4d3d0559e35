"""What all painting of the drawing shares: painter, colours, fonts, and labels that keep clear."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen

from planner.report.drawing.look import Look
from planner.report.style import Colours, small_font

__all__ = ["Sheet", "stroke"]

_PLATE_ALPHA = 0.78
_LONGEST_LABEL_PX = 170.0
_MOST_COVERED = 0.12


def stroke(
    colours: Colours, token: str, width: float = 1.0, *, alpha: float = 1.0, dash: tuple[float, ...] = ()
) -> QPen:
    """A pen of a colour of the theme."""
    pen = QPen(colours.pick(token, alpha), width)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dash:
        pen.setDashPattern(list(dash))
    return pen


@dataclass
class Sheet:
    """A painter with the look it paints; `taken` are the places where labels must not go [px].

    Where nothing `fades`, tints are even: a PDF has no gradients that one can see through.
    """

    painter: QPainter
    look: Look
    colours: Colours
    font: QFont
    fades: bool = True
    taken: list[QRectF] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Take the fonts once."""
        self.small = small_font(self.font)
        self.metrics = QFontMetricsF(self.small)

    def line_px(self) -> float:
        """Height of a line of the small font."""
        return self.metrics.height()

    def write(
        self,
        box: QRectF,
        text: str,
        token: str = "muted",
        align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignCenter,
    ) -> None:
        """Write small text into a box, cut with an ellipsis where it is too long."""
        shown = self.metrics.elidedText(text, Qt.TextElideMode.ElideRight, box.width() + 1.0)
        self.painter.setFont(self.small)
        self.painter.setPen(self.colours.pick(token))
        self.painter.drawText(box, align | Qt.TextFlag.TextSingleLine, shown)

    def write_upward(self, middle: QPointF, text: str, token: str = "muted") -> None:
        """Write small text from bottom to top, centred on a point."""
        self.painter.save()
        self.painter.translate(middle)
        self.painter.rotate(-90.0)
        half, tall = 0.5 * self.metrics.horizontalAdvance(text) + 2.0, 0.5 * self.line_px()
        self.write(QRectF(-half, -tall, 2.0 * half, 2.0 * tall), text, token)
        self.painter.restore()

    def label(
        self,
        text: str,
        spots: Iterable[tuple[QPointF, Qt.AlignmentFlag]],
        within: QRectF,
        token: str = "ink",
        *,
        must: bool = False,
    ) -> None:
        """Write text on a plate of the ground at the first spot that is free, else at the freest.

        Where even that covers too much else the text is left out, unless it `must` be seen.
        """
        text = self.metrics.elidedText(text, Qt.TextElideMode.ElideRight, _LONGEST_LABEL_PX)
        size = QSizeF(self.metrics.horizontalAdvance(text) + 6.0, self.line_px())
        best, least = QRectF(), float("inf")
        for point, side in spots:
            box = _slid(_beside(point, side, size), side, within)
            crowd = self._crowd(box, within)
            if crowd < least - 0.5:
                best, least = box, crowd
            if least <= 0.5:
                break
        if must or least <= _MOST_COVERED * size.width() * size.height():
            self._write_on_plate(best, text, token)

    def _crowd(self, box: QRectF, within: QRectF) -> float:
        """How much of a box lies on what is taken, or outside [px²]."""
        outside = box.width() * box.height() - _overlap(box, within)
        return sum(_overlap(box, other) for other in self.taken) + outside

    def _write_on_plate(self, box: QRectF, text: str, token: str) -> None:
        self.taken.append(box)
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(self.colours.pick("raised", _PLATE_ALPHA))
        self.painter.drawRoundedRect(box, 3.0, 3.0)
        self.write(box, text, token)


def _beside(point: QPointF, side: Qt.AlignmentFlag, size: QSizeF) -> QRectF:
    """The box of a text that stands to the left, right, top or bottom of a point, or centred on it."""
    flag = Qt.AlignmentFlag
    across = -1.0 if side & flag.AlignLeft else 0.0 if side & flag.AlignRight else -0.5
    down = -1.0 if side & flag.AlignTop else 0.0 if side & flag.AlignBottom else -0.5
    return QRectF(point + QPointF(across * size.width(), down * size.height()), size)


def _slid(box: QRectF, side: Qt.AlignmentFlag, within: QRectF) -> QRectF:
    """A box above or below its point, moved along until it lies within as far as it can."""
    if side not in (Qt.AlignmentFlag.AlignTop, Qt.AlignmentFlag.AlignBottom):
        return box
    left = max(min(box.left(), within.right() - box.width()), within.left())
    return QRectF(QPointF(left, box.top()), box.size())


def _overlap(first: QRectF, second: QRectF) -> float:
    shared = first.intersected(second)
    return shared.width() * shared.height()
