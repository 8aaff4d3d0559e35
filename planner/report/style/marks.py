"""The three verdicts as a shape in a colour, so that colour never stands alone."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from planner.report.style.colours import Colours

__all__ = ["VERDICTS", "paint_verdict"]

VERDICTS = ("clears", "tight", "short")


def paint_verdict(painter: QPainter, rect: QRectF, verdict: str, colours: Colours) -> None:
    """Paint a verdict's shape into the square within *rect*: a ticked disc, a half-filled ring, a cross."""
    if verdict not in VERDICTS:
        raise KeyError(verdict)
    side = min(rect.width(), rect.height())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center())
    painter.scale(side / 16.0, side / 16.0)
    {"clears": _ticked_disc, "tight": _half_ring, "short": _cross}[verdict](painter, verdict, colours)
    painter.restore()


def _stroke(colours: Colours, token: str, width: float) -> QPen:
    round_cap, round_join = Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
    return QPen(colours.pick(token), width, Qt.PenStyle.SolidLine, round_cap, round_join)


def _ticked_disc(painter: QPainter, token: str, colours: Colours) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.pick(token))
    painter.drawEllipse(QPointF(0.0, 0.0), 7.5, 7.5)
    painter.setPen(_stroke(colours, "surface", 2.0))
    painter.drawPolyline(QPolygonF([QPointF(-3.4, 0.3), QPointF(-1.0, 2.8), QPointF(3.5, -2.6)]))


def _half_ring(painter: QPainter, token: str, colours: Colours) -> None:
    painter.setPen(_stroke(colours, token, 1.8))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(QPointF(0.0, 0.0), 6.6, 6.6)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.pick(token))
    painter.drawChord(QRectF(-6.6, -6.6, 13.2, 13.2), 180 * 16, 180 * 16)


def _cross(painter: QPainter, token: str, colours: Colours) -> None:
    painter.setPen(_stroke(colours, token, 3.0))
    painter.drawLine(QPointF(-5.0, -5.0), QPointF(5.0, 5.0))
    painter.drawLine(QPointF(-5.0, 5.0), QPointF(5.0, -5.0))
