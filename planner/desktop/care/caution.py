"""Words of caution, told by a sign at their left as well as by their colour."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from planner.desktop.theme import colours_of

__all__ = ["Caution", "Paragraph", "SectionTitle"]

SELECTABLE = Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
SIGN_LINES, GAP_PX = 1.15, 8


class Paragraph(QLabel):
    """Plain words in as many lines as they need; they can be selected and copied."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setTextInteractionFlags(SELECTABLE)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    def say(self, text: str) -> None:
        """Show a text, or nothing at all."""
        self.setText(text)
        self.setVisible(bool(text))


class Caution(Paragraph):
    """A paragraph behind a warning sign."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inset()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._inset()

    def _side(self) -> float:
        return SIGN_LINES * QFontMetricsF(self.font()).height()

    def _inset(self) -> None:
        self.setContentsMargins(round(self._side()) + GAP_PX, 0, 0, 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        colours, side = colours_of(self.palette()), self._side()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours.pick("tight"), 1.4, j=Qt.PenJoinStyle.RoundJoin))
            painter.setBrush(colours.pick("tight", 0.12))
            box = QRectF(1.0, 1.0, side - 2.0, side - 3.0)
            top = QPointF(box.center().x(), box.top())
            painter.drawPolygon(QPolygonF([top, box.bottomRight(), box.bottomLeft()]))
            painter.setBrush(colours.pick("tight"))
            painter.setPen(Qt.PenStyle.NoPen)
            middle, high = box.center().x(), box.height()
            painter.drawRoundedRect(QRectF(middle - 0.9, box.top() + 0.36 * high, 1.8, 0.32 * high), 0.9, 0.9)
            painter.drawEllipse(QPointF(middle, box.top() + 0.82 * high), 1.1, 1.1)


class SectionTitle(QLabel):
    """The heading of a part of the panel."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        font = self.font()
        font.setWeight(font.Weight.DemiBold)
        self.setFont(font)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()
