"""The signs of the links in a gain chain, each within a square."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

__all__ = ["paint_symbol"]

KNOB_LOW_DB, KNOB_TURN_DEG = -60.0, 270.0


def paint_symbol(painter: QPainter, rect: QRectF, key: str, pen: QPen, turned_db: float = 0.0) -> None:
    """Paint a link's sign into a square of 24 units; a control points to where it is turned [dB]."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center())
    painter.scale(rect.width() / 24.0, rect.height() / 24.0)
    line = QPen(pen.color(), 1.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    painter.setPen(line)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if key in ("volume", "level"):
        _knob(painter, turned_db)
    else:
        SIGNS[key](painter)
    painter.restore()


def _cartridge(painter: QPainter) -> None:
    painter.drawRoundedRect(QRectF(-9.0, -7.0, 13.0, 8.0), 1.5, 1.5)
    painter.drawPolyline(QPolygonF([QPointF(0.0, 1.0), QPointF(6.0, 5.5), QPointF(6.0, 8.0)]))
    painter.drawLine(QPointF(-10.0, 9.0), QPointF(10.0, 9.0))


def _line(painter: QPainter) -> None:
    painter.drawEllipse(QPointF(0.0, 0.0), 9.0, 9.0)
    path = QPainterPath(QPointF(-6.0, 0.0))
    path.cubicTo(QPointF(-3.5, -8.0), QPointF(-2.0, -5.0), QPointF(0.0, 0.0))
    path.cubicTo(QPointF(2.0, 5.0), QPointF(3.5, 8.0), QPointF(6.0, 0.0))
    painter.drawPath(path)


def _triangle(painter: QPainter) -> None:
    painter.drawPolygon(QPolygonF([QPointF(-7.0, -9.0), QPointF(9.0, 0.0), QPointF(-7.0, 9.0)]))


def _knob(painter: QPainter, turned_db: float) -> None:
    """An arc from −60 dB to fully up, even in dB, and a pointer."""
    painter.drawArc(QRectF(-9.5, -9.5, 19.0, 19.0), -45 * 16, round(KNOB_TURN_DEG * 16))
    share = min(max(1.0 - turned_db / KNOB_LOW_DB, 0.0), 1.0)
    painter.save()
    painter.rotate(-225.0 + share * KNOB_TURN_DEG)
    painter.drawLine(QPointF(1.0, 0.0), QPointF(6.5, 0.0))
    painter.restore()
    painter.setBrush(painter.pen().color())
    painter.drawEllipse(QPointF(0.0, 0.0), 1.2, 1.2)


def _crossover(painter: QPainter) -> None:
    painter.drawPolyline(QPolygonF([QPointF(-10.0, -4.0), QPointF(-2.0, -4.0), QPointF(6.0, 8.0)]))
    painter.drawPolyline(QPolygonF([QPointF(10.0, -4.0), QPointF(2.0, -4.0), QPointF(-6.0, 8.0)]))


def _ceiling(painter: QPainter) -> None:
    """A sine that touches the line above and the line below."""
    painter.drawLine(QPointF(-10.0, -8.0), QPointF(10.0, -8.0))
    painter.drawLine(QPointF(-10.0, 8.0), QPointF(10.0, 8.0))
    path = QPainterPath(QPointF(-8.0, 0.0))
    path.cubicTo(QPointF(-5.0, -10.5), QPointF(-3.0, -10.5), QPointF(0.0, 0.0))
    path.cubicTo(QPointF(3.0, 10.5), QPointF(5.0, 10.5), QPointF(8.0, 0.0))
    painter.drawPath(path)


SIGNS = {
    "cartridge": _cartridge,
    "line": _line,
    "source": _line,
    "phono": _triangle,
    "amplifier": _triangle,
    "crossover": _crossover,
    "full": _ceiling,
}
