"""A button that looks like a field: it shows what is chosen and opens what to choose from."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QEnterEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QMenu, QSizePolicy, QWidget

from planner.desktop.fields.box import field_height
from planner.desktop.fields.marks import paint_mark
from planner.desktop.theme import Colours, colours_of

__all__ = ["FieldButton", "MenuButton"]

LETTERS, FEWEST_LETTERS = 20, 12
LEFT_PX, RIGHT_PX = 8.0, 4.0


class FieldButton(QAbstractButton):
    """A framed text with a chevron; a long text ends in an ellipsis."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().averageCharWidth() * LETTERS, field_height(self))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.fontMetrics().averageCharWidth() * FEWEST_LETTERS, self.sizeHint().height())

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def paint_more(self, painter: QPainter, right: float, colours: Colours) -> float:
        """Paint what stands between text and chevron, left of *right*; give where the text must end."""
        return right

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        line = 2.0 if self.hasFocus() else 1.0
        inset = line / 2.0
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours.pick("accent" if self.hasFocus() else "edge"), line))
            painter.setBrush(colours.pick("grid" if self.underMouse() or self.isDown() else "surface"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(inset, inset, -inset, -inset), 4.0, 4.0)
            side = float(self.fontMetrics().height())
            chevron = QRectF(self.width() - side - RIGHT_PX, (self.height() - side) / 2.0, side, side)
            ink = QPen(colours.pick("muted"), 1.4)
            ink.setCapStyle(Qt.PenCapStyle.RoundCap)
            paint_mark(painter, chevron, "down", ink)
            end = self.paint_more(painter, chevron.left() - RIGHT_PX, colours)
            room = QRectF(LEFT_PX, 0.0, end - 2.0 * RIGHT_PX - LEFT_PX, self.height())
            painter.setPen(colours.pick("ink"))
            words = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, int(room.width()))
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, words)


class MenuButton(FieldButton):
    """A field button that opens a menu below itself."""

    def __init__(self, name: str, tip: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setToolTip(tip)
        self.menu = QMenu(self)
        self.clicked.connect(self._open)

    def _open(self) -> None:
        self.menu.popup(self.mapToGlobal(QPoint(0, self.height())))
