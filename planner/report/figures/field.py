"""The inner rectangle of a chart on paper, its type, and where values stand in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF

from planner.report.figures.chart import Axis, Chart, Curve, FloatArray
from planner.report.pages.typeface import Style, lines_of, width_of

__all__ = ["GAP_PT", "HEADLINE", "TICK", "TICK_STRONG", "Field", "field_of", "headline_pt"]

TICK = Style(6.6, leading=1.25)
TICK_STRONG = Style(6.8, strong=True, leading=1.25)
HEADLINE = Style(8.0, strong=True, leading=1.3)
GAP_PT = 4.0
MOST_FOR_ROWS = 0.42
MOST_FOR_NAMES = 0.3


@dataclass(frozen=True, slots=True)
class Field:
    """The inner rectangle of a chart with its axes: where a pair of values stands on paper [pt]."""

    rect: QRectF
    x: Axis
    y: Axis

    def across(self, values: float | FloatArray) -> FloatArray:
        """Where values of the x axis stand."""
        return np.asarray(self.rect.left() + self.rect.width() * self.x.share(values))

    def up(self, values: float | FloatArray) -> FloatArray:
        """Where values of the y axis stand; the low end is at the bottom."""
        return np.asarray(self.rect.bottom() - self.rect.height() * self.y.share(values))

    def point(self, x: float, y: float) -> QPointF:
        """Where a pair of values stands."""
        return QPointF(float(self.across(x)), float(self.up(y)))


def headline_pt(chart: Chart, width_pt: float) -> float:
    """Height of the sentence above a chart, with its gap."""
    return len(lines_of(chart.headline, HEADLINE, width_pt)) * HEADLINE.line_pt + 3.0


def field_of(chart: Chart, rect: QRectF) -> Field:
    """The field of a chart within a rectangle, beside headline, figures and names."""
    most = MOST_FOR_ROWS * rect.width() if chart.rows else rect.width()
    left = min(max((width_of(tick.text, TICK) for tick in chart.y.ticks), default=0.0), most) + GAP_PT
    names = [width_of(mark.name, TICK) for mark in chart.marks if isinstance(mark, Curve)]
    right = min(max(names, default=0.0), MOST_FOR_NAMES * rect.width()) + GAP_PT + 2.0
    top = headline_pt(chart, rect.width()) + (0.0 if not chart.y.title else TICK.line_pt + 1.0)
    bottom = 2.0 * TICK.line_pt + 3.0
    return Field(rect.adjusted(left, top, -right, -bottom), chart.x, chart.y)
