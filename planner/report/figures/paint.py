"""The painter of all charts on paper: axes, grid, marks, and words that keep clear of one another."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF

from planner.report.figures.captions import paint_names, paint_notes
from planner.report.figures.chart import Bars, Chart, Curve, Mark, Rule, Tick, Zone
from planner.report.figures.field import GAP_PT, HEADLINE, TICK, Field, field_of
from planner.report.pages.canvas import Canvas
from planner.report.pages.typeface import elided, lines_of, width_of

__all__ = ["paint_chart"]


def paint_chart(canvas: Canvas, rect: QRectF, chart: Chart) -> None:
    """Paint a chart into a rectangle of the page."""
    field = field_of(chart, rect)
    for row, line in enumerate(lines_of(chart.headline, HEADLINE, rect.width())):
        canvas.text(rect.left(), rect.top() + HEADLINE.ascent_pt + row * HEADLINE.line_pt, line, HEADLINE)
    _paint_zones(canvas, field, chart.marks)
    _paint_x_axis(canvas, field)
    _paint_y_axis(canvas, field, rect, chart)
    for mark in chart.marks:
        _paint_mark(canvas, field, mark)
    paint_names(canvas, field, rect, [mark for mark in chart.marks if isinstance(mark, Curve) and mark.name])
    paint_notes(canvas, field, chart.marks)


def _paint_x_axis(canvas: Canvas, field: Field) -> None:
    rect, shown = field.rect, fitting(field)
    for tick in field.x.ticks:
        x = float(field.across(tick.value))
        canvas.line((x, rect.top()), (x, rect.bottom()), "grid", 0.4)
    for tick in shown:
        x = float(field.across(tick.value))
        canvas.text(x, rect.bottom() + 2.5 + TICK.ascent_pt, tick.text, TICK, "muted", "centre")
    canvas.line((rect.left(), rect.bottom()), (rect.right(), rect.bottom()), "edge", 0.6)
    below = rect.bottom() + 2.5 + TICK.line_pt + TICK.ascent_pt
    canvas.text(rect.right(), below, field.x.title, TICK, "muted", "right")


def fitting(field: Field) -> list[Tick]:
    """The figures of the x axis that have room, from the left."""
    shown: list[Tick] = []
    end = -np.inf
    for tick in field.x.ticks:
        half = width_of(tick.text, TICK) / 2.0
        x = float(field.across(tick.value))
        if x - half >= end + 3.0:
            shown.append(tick)
            end = x + half
    return shown


def _paint_y_axis(canvas: Canvas, field: Field, whole: QRectF, chart: Chart) -> None:
    rect = field.rect
    room = rect.left() - whole.left() - GAP_PT
    for tick in chart.y.ticks:
        y = float(field.up(tick.value))
        if not chart.rows:
            canvas.line((rect.left(), y), (rect.right(), y), "grid", 0.4)
        token = "ink" if chart.rows else "muted"
        pitch = rect.height() / len(chart.y.ticks)
        lines = _row_name(tick.text, room, pitch) if chart.rows else [tick.text]
        top = y - 0.5 * len(lines) * TICK.line_pt
        for number, line in enumerate(lines):
            baseline = top + number * TICK.line_pt + TICK.ascent_pt
            canvas.text(rect.left() - GAP_PT, baseline, line, TICK, token, "right")
    if chart.y.title:
        above = rect.top() - TICK.line_pt - 1.0 + TICK.ascent_pt - 2.0
        canvas.text(whole.left(), above, chart.y.title, TICK, "muted")


def _row_name(text: str, room: float, pitch: float) -> list[str]:
    """The name of a row on as many lines as there is room for."""
    lines = list(lines_of(text, TICK, room))
    most = max(1, int(pitch // TICK.line_pt))
    return (
        lines if len(lines) <= most else [*lines[: most - 1], elided(" ".join(lines[most - 1 :]), TICK, room)]
    )


def _paint_zones(canvas: Canvas, field: Field, marks: Sequence[Mark]) -> None:
    for mark in marks:
        if not isinstance(mark, Zone):
            continue
        rect = QRectF(field.rect)
        if mark.axis == "x":
            rect.setLeft(float(field.across(mark.low)))
            rect.setRight(float(field.across(mark.high)))
            text_at = QPointF(rect.left() + 2.5, field.rect.top() + TICK.line_pt)
        else:
            rect.setTop(float(field.up(mark.high)))
            rect.setBottom(float(field.up(mark.low)))
            text_at = QPointF(rect.right() - 2.5 - width_of(mark.text, TICK), rect.bottom() - 2.0)
        canvas.box(rect, mark.token, mark.alpha)
        if width_of(mark.text, TICK) < rect.width() - 4.0:
            canvas.text(text_at.x(), text_at.y(), mark.text, TICK, "muted")


def _paint_mark(canvas: Canvas, field: Field, mark: Mark) -> None:
    match mark:
        case Bars():
            _paint_bars(canvas, field, mark)
        case Curve():
            for run in _runs(np.isfinite(mark.y)):
                x, y = field.across(mark.x[run]), field.up(mark.y[run])
                points = [QPointF(float(a), float(b)) for a, b in zip(x, y, strict=True)]
                canvas.polyline(points, mark.token, mark.width_pt, mark.dash)
        case Rule():
            _paint_rule(canvas, field, mark)


def _runs(known: NDArray[np.bool_]) -> list[slice]:
    """The stretches of at least two points without a gap."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], known, [False]]).astype(int)))
    return [slice(start, end) for start, end in zip(edges[::2], edges[1::2], strict=True) if end - start > 1]


def _paint_bars(canvas: Canvas, field: Field, mark: Bars) -> None:
    left, right = (field.across(values) for values in mark.x)
    low, high = (field.up(values) for values in mark.y)
    for index in range(left.size):
        corner = QPointF(float(left[index]), float(low[index]))
        box = QRectF(corner, QPointF(float(right[index]), float(high[index]))).normalized()
        canvas.box(box, mark.tokens[index % len(mark.tokens)], mark.alpha)


def _paint_rule(canvas: Canvas, field: Field, mark: Rule) -> None:
    rect = field.rect
    if mark.axis == "x":
        x = float(field.across(mark.at))
        canvas.line((x, rect.top()), (x, rect.bottom()), mark.token, 0.7, mark.dash)
        right = x + 2.5 + width_of(mark.text, TICK) <= rect.right()
        canvas.text(
            x + (2.5 if right else -2.5),
            rect.bottom() - 3.0,
            mark.text,
            TICK,
            mark.token,
            "left" if right else "right",
        )
        return
    y = float(field.up(mark.at))
    canvas.line((rect.left(), y), (rect.right(), y), mark.token, 0.7, mark.dash)
    baseline = y + 2.0 + TICK.ascent_pt if mark.below else y - 2.5
    if mark.at_end:
        canvas.text(rect.right(), baseline, mark.text, TICK, mark.token, "right")
    else:
        canvas.text(rect.left() + 2.5, baseline, mark.text, TICK, mark.token)
