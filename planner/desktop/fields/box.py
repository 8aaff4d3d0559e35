"""The spin box that number fields are made from: its size, where its text stands, when the wheel turns it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QResizeEvent, QShowEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractSpinBox, QWidget

from planner.desktop.theme import colours_of

__all__ = ["Box", "field_height", "paint_fault"]

FEWEST_SIGNS = "00.0 m"
MARGIN_PX, BUTTONS_PX, SLACK_PX = 6, 22, 6
ABOVE_BELOW_PX = 10


def field_height(widget: QWidget) -> int:
    """The height that all fields of one line have, by their font."""
    return widget.fontMetrics().height() + ABOVE_BELOW_PX


def paint_fault(widget: QWidget) -> None:
    """Frame a field whose text could not be taken."""
    colours = colours_of(widget.palette())
    with QPainter(widget) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colours.pick("short"), 2.0))
        painter.drawRoundedRect(QRectF(widget.rect()).adjusted(1.0, 1.0, -1.0, -1.0), 4.0, 4.0)


class Box(QAbstractSpinBox):
    """A spin box as wide as its text needs, that the wheel turns only while it has the focus."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def sample(self) -> str:
        """A text that must find room."""
        return self.text()

    def sizeHint(self) -> QSize:
        sample = max(self.sample(), FEWEST_SIGNS, key=len)
        sides = 2 * MARGIN_PX if self._bare() else MARGIN_PX + BUTTONS_PX
        width = self.fontMetrics().horizontalAdvance(sample) + sides + SLACK_PX
        return QSize(width, field_height(self))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def _bare(self) -> bool:
        return self.buttonSymbols() == QAbstractSpinBox.ButtonSymbols.NoButtons

    def _place_text(self) -> None:
        # Qt gives the text of a styled spin box no margin, and without buttons no room at all.
        right = MARGIN_PX if self._bare() else BUTTONS_PX
        self.lineEdit().setGeometry(self.rect().adjusted(MARGIN_PX, 2, -right, -2))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_text()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._place_text()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self.updateGeometry()
            self._place_text()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
