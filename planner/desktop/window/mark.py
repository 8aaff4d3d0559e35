"""The program's own mark: steps that rise to a line they must reach."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPen, QPixmap

from planner.desktop.theme import LIGHT

__all__ = ["program_icon"]

SIZES_PX = (16, 24, 32, 48, 64, 128, 256)
STEPS = (5.0, 9.0, 13.0, 18.0)
"""How high each step rises, in 32nds of the mark."""


def program_icon() -> QIcon:
    """The mark at the sizes that title bars and docks ask for; the same on light and dark grounds."""
    icon = QIcon()
    for size in SIZES_PX:
        pixmap = QPixmap(size, size)
        pixmap.fill(Qt.GlobalColor.transparent)
        with QPainter(pixmap) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.scale(size / 32.0, size / 32.0)
            _paint(painter)
        icon.addPixmap(pixmap)
    return icon


def _paint(painter: QPainter) -> None:
    """Paint on a square of 32."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(LIGHT.pick("accent"))
    painter.drawRoundedRect(QRectF(1.0, 1.0, 30.0, 30.0), 6.0, 6.0)
    painter.setBrush(LIGHT.pick("on_accent"))
    for number, height in enumerate(STEPS):
        painter.drawRect(QRectF(6.0 + 5.0 * number, 26.0 - height, 4.0, height))
    painter.setPen(QPen(LIGHT.pick("on_accent"), 1.6))
    painter.drawLine(QLineF(5.0, 6.0, 27.0, 6.0))
