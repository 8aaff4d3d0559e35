"""The mark on a field that undo has changed."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, QTimer
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from planner.desktop.theme import colours_of

__all__ = ["Flash"]

FLASH_MS = 1200


class Flash(QWidget):
    """A frame that marks a field for a moment."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._over = parent
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._timer = QTimer(self, singleShot=True, interval=FLASH_MS)
        self._timer.timeout.connect(self.hide)
        self.hide()

    def show_over(self, widget: QWidget) -> None:
        corner = widget.mapTo(self._over, widget.rect().topLeft())
        self.setGeometry(corner.x() - 3, corner.y() - 3, widget.width() + 6, widget.height() + 6)
        self.show()
        self.raise_()
        self._timer.start()

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours_of(self.palette()).pick("accent"), 2.0, Qt.PenStyle.DashLine))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0), 5.0, 5.0)
