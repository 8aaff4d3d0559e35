"""Clocks of 24 hours, filled as far as a guide allows: 3 dB more halve the time."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from planner.desktop.presentation.look import Look
from planner.desktop.presentation.words import DAY_H, change_words, hours_words
from planner.report.language import tr

__all__ = ["Clocks", "paint_clocks"]


@dataclass(frozen=True, slots=True)
class Clocks:
    """Hours a day at the chosen level and beside it: what is changed [dB], and the hours."""

    hours: tuple[tuple[float, float], ...]

    @property
    def words(self) -> str:
        """The picture in words."""
        said = (f"{_change_text(change)}: {_hours_text(hours)}" for change, hours in self.hours)
        return tr("Clocks of 24 hours, filled as far as the guide allows. {clocks}.", clocks="; ".join(said))


def _change_text(change_db: float) -> str:
    return change_words(change_db) if change_db else tr("as loud as chosen")


def _hours_text(hours: float) -> str:
    return tr("all day") if hours >= DAY_H else hours_words(hours)


def paint_clocks(clocks: Clocks, painter: QPainter, rect: QRectF, look: Look) -> None:
    """Paint the clock of the chosen level large in the middle, those beside it small."""
    small_words = look.line("body") + look.line("small")
    big = min(0.5 * rect.height(), 0.2 * rect.width())
    step = (0.5 * rect.width() - big) / 2.0
    small = min(0.36 * step, 0.5 * rect.height() - small_words)
    centre = rect.center()
    for place, (change_db, hours) in enumerate(clocks.hours):
        if change_db == 0.0:
            _paint_clock(painter, centre, big, hours, look, "accent")
            _write_middle(painter, centre, 1.55 * big, hours, look)
            continue
        side = place - len(clocks.hours) // 2
        out = big + step * (abs(side) - 0.5)
        at = QPointF(centre.x() + out * (1 if side > 0 else -1), centre.y() - 0.5 * small_words)
        _paint_clock(painter, at, small, hours, look, "edge")
        top = QPointF(at.x(), at.y() + small + look.px(8.0))
        below = look.write(painter, top, _hours_text(hours), "body", "ink", 0.5, 0.0).bottom()
        look.write(painter, QPointF(at.x(), below), change_words(change_db), "small", "muted", 0.5, 0.0)


def _paint_clock(
    painter: QPainter, centre: QPointF, outer: float, hours: float, look: Look, token: str
) -> None:
    """A ring, filled from the top as the hours pass, with a mark at every sixth hour."""
    band = 0.17 * outer
    radius = QPointF(outer - 0.5 * band, outer - 0.5 * band)
    ring = QRectF(centre - radius, centre + radius)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(look.colours.pick("rule"), band, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawEllipse(ring)
    painter.setPen(QPen(look.colours.pick(token), band, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawArc(ring, 90 * 16, -round(360.0 * 16.0 * min(hours, DAY_H) / DAY_H))
    painter.setPen(QPen(look.colours.pick("surface"), look.px(2.0)))
    for turn in ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)):
        out = QPointF(*turn)
        painter.drawLine(centre + out * (outer - band), centre + out * outer)


def _write_middle(painter: QPainter, centre: QPointF, width: float, hours: float, look: Look) -> None:
    """The hours of the chosen level: the number large, its unit under it."""
    text = _hours_text(hours)
    number, _, unit = text.partition(" ")
    top = QPointF(centre.x(), centre.y() + look.px(8.0))
    look.write(painter, top, number, "figure", "accent", 0.5, 1.0)
    below = tr("{unit} a day", unit=unit) if hours < DAY_H else unit
    if look.metrics("body").horizontalAdvance(below) > width:
        below = unit
    look.write(painter, top, below, "body", "muted", 0.5, 0.0)
