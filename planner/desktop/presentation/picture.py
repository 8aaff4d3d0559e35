"""The card on which the picture of a page is painted."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.presentation.look import Look
from planner.desktop.presentation.page import Paint

__all__ = ["Picture"]

CORNER_PX, MARGIN_PX = 14.0, 22.0


class Picture(QWidget):
    """Paints what the page hands it; the same in words is its accessible description."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.look = look
        self._paint: Paint | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_picture(self, paint: Paint | None, name: str, words: str) -> None:
        """Show another picture, with what it is called and what it says."""
        self._paint = paint
        self.setAccessibleName(name)
        self.setAccessibleDescription(words)
        self.update()

    def show_look(self, look: Look) -> None:
        """Take other sizes and colours."""
        self.look = look
        self.updateGeometry()
        self.update()

    def minimumSizeHint(self) -> QSize:
        return QSize(round(self.look.px(480.0)), round(self.look.px(180.0)))

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            corner, margin = self.look.px(CORNER_PX), self.look.px(MARGIN_PX)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.look.colours.pick("surface"))
            painter.drawRoundedRect(self.rect(), corner, corner)
            if self._paint is not None:
                inner = QRectF(self.rect()).adjusted(margin, 0.7 * margin, -margin, -0.7 * margin)
                self._paint(painter, inner, self.look)
