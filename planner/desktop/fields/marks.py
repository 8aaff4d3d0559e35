"""Small buttons with painted marks: add, double, move, take away."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QEnterEvent, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from planner.desktop.theme import colours_of

__all__ = ["MARKS", "MarkButton", "paint_mark"]


def _lines(painter: QPainter, *strokes: tuple[tuple[float, float], ...]) -> None:
    for stroke in strokes:
        painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in stroke]))


def _add(painter: QPainter) -> None:
    _lines(painter, ((-5, 0), (5, 0)), ((0, -5), (0, 5)))


def _remove(painter: QPainter) -> None:
    _lines(painter, ((-4, -4), (4, 4)), ((-4, 4), (4, -4)))


def _double(painter: QPainter) -> None:
    painter.drawRoundedRect(QRectF(-5, -5, 7, 7), 1.0, 1.0)
    _lines(painter, ((4.5, -1.5), (5, -1), (5, 5), (-1, 5), (-1.5, 4.5)))


def _up(painter: QPainter) -> None:
    _lines(painter, ((-4, 1.5), (0, -3), (4, 1.5)))


def _down(painter: QPainter) -> None:
    _lines(painter, ((-4, -1.5), (0, 3), (4, -1.5)))


def _right(painter: QPainter) -> None:
    _lines(painter, ((-1.5, -4), (3, 0), (-1.5, 4)))


def _split(painter: QPainter) -> None:
    _lines(painter, ((-6, 3), (-2, 3), (0, -3), (2, 3), (6, 3)), ((0, -6), (0, -4)), ((0, 4.5), (0, 6)))


def _held(painter: QPainter) -> None:
    painter.drawArc(QRectF(-2.8, -6, 5.6, 7), 0, 180 * 16)
    _lines(painter, ((-2.8, -2.5), (-2.8, -0.5)), ((2.8, -2.5), (2.8, -0.5)))
    painter.setBrush(painter.pen().color())
    painter.drawRoundedRect(QRectF(-4.5, -0.5, 9, 6), 1.0, 1.0)


def _free(painter: QPainter) -> None:
    painter.drawArc(QRectF(0.2, -6, 5.6, 7), 0, 180 * 16)
    _lines(painter, ((0.2, -2.5), (0.2, -0.5)))
    painter.drawRoundedRect(QRectF(-6.0, -0.5, 9, 6), 1.0, 1.0)


def _paste(painter: QPainter) -> None:
    painter.drawRoundedRect(QRectF(-4.5, -4.5, 9, 10), 1.0, 1.0)
    _lines(painter, ((-2, -6), (2, -6)), ((-2, -1), (2, -1)), ((-2, 2), (2, 2)))


MARKS: dict[str, Callable[[QPainter], None]] = {
    "add": _add,
    "remove": _remove,
    "double": _double,
    "up": _up,
    "down": _down,
    "right": _right,
    "split": _split,
    "held": _held,
    "free": _free,
    "paste": _paste,
}


def paint_mark(painter: QPainter, rect: QRectF, mark: str, pen: QPen) -> None:
    """Paint a mark into the middle of *rect*, sixteen units across the shorter side."""
    side = min(rect.width(), rect.height())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center())
    painter.scale(side / 16.0, side / 16.0)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    MARKS[mark](painter)
    painter.restore()


class MarkButton(QAbstractButton):
    """A small flat button with a mark, quiet until the pointer or the focus is on it."""

    def __init__(self, mark: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._mark = mark
        self.setAccessibleName(name)
        self.setToolTip(name)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @property
    def mark(self) -> str:
        """The mark that is shown."""
        return self._mark

    @mark.setter
    def mark(self, mark: str) -> None:
        self._mark = mark
        self.update()

    def sizeHint(self) -> QSize:
        side = round(QFontMetricsF(self.font()).height() * 1.45)
        return QSize(side, side)

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        live = self.isEnabled() and (self.underMouse() or self.hasFocus() or self.isDown())
        token = "ink" if live or self.isChecked() else "muted" if self.isEnabled() else "rule"
        box = QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.isEnabled() and (self.underMouse() or self.isDown()):
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(colours.pick("rule" if self.isDown() else "grid"))
                painter.drawRoundedRect(box, 4.0, 4.0)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(colours.pick("accent"), 2.0))
                painter.drawRoundedRect(box, 4.0, 4.0)
            inner = box.adjusted(2.0, 2.0, -2.0, -2.0)
            paint_mark(painter, inner, self._mark, QPen(colours.pick(token), 1.4, c=Qt.PenCapStyle.RoundCap))
