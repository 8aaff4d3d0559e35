"""A painter whose unit is the point, with the colours of a printed page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPen

from planner.report.pages.typeface import UNITS, Style, width_of
from planner.report.style import LIGHT, Colours

__all__ = ["PAPER", "Anchor", "Canvas"]

PAPER = replace(LIGHT, window="#FFFFFF", surface="#FFFFFF", raised="#FAF8F4")
"""The light theme on white."""

Anchor = Literal["left", "right", "centre"]


@dataclass(frozen=True, slots=True)
class Canvas:
    """Where a page is painted; all lengths are points, y runs down."""

    painter: QPainter
    colours: Colours = PAPER

    def text(
        self, x: float, baseline: float, text: str, style: Style, token: str = "ink", anchor: Anchor = "left"
    ) -> None:
        """Write a line of text that begins, ends or centres at x."""
        if not text:
            return
        painter = self.painter
        x -= {"left": 0.0, "right": 1.0, "centre": 0.5}[anchor] * width_of(text, style)
        painter.save()
        painter.translate(x, baseline)
        painter.scale(1.0 / UNITS, 1.0 / UNITS)
        painter.setFont(style.font)
        painter.setPen(self.colours.pick(token))
        painter.drawText(QPointF(0.0, 0.0), text)
        painter.restore()

    def line(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        token: str,
        width: float = 0.5,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw a straight line; dashes are counted in points."""
        self.painter.setPen(self.pen(token, width, dash))
        self.painter.drawLine(QLineF(*start, *end))

    def polyline(
        self, points: Sequence[QPointF], token: str, width: float, dash: Sequence[float] = ()
    ) -> None:
        """Draw a line through points."""
        self.painter.setPen(self.pen(token, width, dash, round_joins=True))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawPolyline(list(points))

    def box(self, rect: QRectF, token: str, alpha: float = 1.0, radius: float = 0.0) -> None:
        """Fill a box."""
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(QBrush(self.colours.pick(token, alpha)))
        if radius:
            self.painter.drawRoundedRect(rect, radius, radius)
        else:
            self.painter.drawRect(rect)

    def dot(self, x: float, y: float, token: str, radius: float = 2.4) -> None:
        """Draw a disc with a rim of the paper's colour, which parts it from lines below it."""
        self.painter.setPen(self.pen("surface", 1.0))
        self.painter.setBrush(QBrush(self.colours.pick(token)))
        self.painter.drawEllipse(QPointF(x, y), radius, radius)

    def pen(self, token: str, width: float, dash: Sequence[float] = (), *, round_joins: bool = False) -> QPen:
        """A pen of a colour of the page [pt]."""
        pen = QPen(self.colours.pick(token), width)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin if round_joins else Qt.PenJoinStyle.MiterJoin)
        if dash:
            pen.setDashPattern([length / width for length in dash])
        return pen
