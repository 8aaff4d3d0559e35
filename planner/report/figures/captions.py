"""Words beside the marks of a chart: names of curves at their ends, and notes beside points."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QRectF

from planner.report.figures.chart import Curve, Dot, Mark, Note
from planner.report.figures.field import GAP_PT, TICK, TICK_STRONG, Field
from planner.report.pages.canvas import Canvas
from planner.report.pages.typeface import elided, width_of

__all__ = ["apart", "paint_names", "paint_notes"]

MOST_FOR_NOTE = 0.6


def paint_names(canvas: Canvas, field: Field, whole: QRectF, curves: list[Curve]) -> None:
    """The names of curves beside their right ends, moved apart where they would touch."""
    known = [
        (float(field.up(curve.y[np.isfinite(curve.y)][-1])), curve)
        for curve in curves
        if np.isfinite(curve.y).any()
    ]
    if not known:
        return
    known.sort(key=lambda pair: pair[0])
    places = apart([y for y, _ in known], TICK.line_pt, field.rect.top(), field.rect.bottom())
    left = field.rect.right() + GAP_PT
    for (_, curve), y in zip(known, places, strict=True):
        name = elided(curve.name, TICK, whole.right() - left)
        canvas.text(left, y + TICK.size_pt * 0.36, name, TICK, curve.token)


def apart(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Rising places moved as little as may be, so that each is a gap from the next and all lie within.

    Examples
    --------
    >>> apart([1.0, 2.0, 9.0], 3.0, 0.0, 10.0)
    [1.0, 4.0, 9.0]
    """
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + gap if moved else low))
    over = max(moved[-1] - high, 0.0)
    moved[-1] -= over
    for index in range(len(moved) - 2, -1, -1):
        moved[index] = min(moved[index], moved[index + 1] - gap)
    return moved


def paint_notes(canvas: Canvas, field: Field, marks: Sequence[Mark]) -> None:
    """The dots, then the words beside points."""
    for mark in marks:
        if isinstance(mark, Dot):
            at = field.point(mark.x, mark.y)
            canvas.dot(at.x(), at.y(), mark.token)
    for mark in marks:
        if isinstance(mark, Note):
            _paint_note(canvas, field, mark)


def _paint_note(canvas: Canvas, field: Field, mark: Note) -> None:
    """A word beside its point, turned to the other side where it would leave the field."""
    style = TICK_STRONG if mark.strong else TICK
    text = elided(mark.text, style, MOST_FOR_NOTE * field.rect.width())
    at, width = field.point(mark.x, mark.y), width_of(text, style)
    middle = at.y() + style.size_pt * 0.36
    if mark.side in ("above", "below"):
        half = width / 2.0
        x = min(max(at.x(), field.rect.left() + half), field.rect.right() - half)
        y = at.y() - 5.0 if mark.side == "above" else at.y() + 4.0 + style.size_pt
        canvas.text(x, y, text, style, mark.token, "centre")
        return
    right = mark.side not in ("left", "lower left")
    if mark.side in ("upper right", "lower left"):
        middle += (0.62 if mark.side == "lower left" else -0.62) * style.size_pt
    if right and at.x() + 4.0 + width > field.rect.right():
        right = False
    elif not right and at.x() - 4.0 - width < field.rect.left():
        right = True
    x = at.x() + (4.0 if right else -4.0)
    if mark.plate:
        left = x if right else x - width
        plate = QRectF(left - 1.0, at.y() - 0.5 * style.size_pt, width + 2.0, style.size_pt)
        canvas.box(plate, "surface", 0.85)
    canvas.text(x, middle, text, style, mark.token, "left" if right else "right")
