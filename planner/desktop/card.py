"""A panel on the window's ground: a headline above, everything else below."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from planner.desktop.theme import colours_of, headline_font

__all__ = ["Card"]

CORNER_PX = 7.0


class Card(QFrame):
    """A rounded card; ``top`` holds the headline and what stands beside it, ``body`` all below."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.headline = QLabel(name)
        self.headline.setWordWrap(True)
        # A headline may hold names that other people gave: they are words and no markup.
        self.headline.setTextFormat(Qt.TextFormat.PlainText)
        self.top = QHBoxLayout()
        self.top.setSpacing(6)
        self.top.addWidget(self.headline, 1)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(12, 8, 10, 8)
        self.body.setSpacing(6)
        self.body.addLayout(self.top)
        self._refont()

    def _refont(self) -> None:
        self.headline.setFont(headline_font(self.font()))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours.pick("rule"), 1.0))
            painter.setBrush(colours.pick("surface"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), CORNER_PX, CORNER_PX)
