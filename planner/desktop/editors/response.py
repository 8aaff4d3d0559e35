"""The response of a section: flat, or a table that adds to its sensitivity, with the curve drawn."""

from __future__ import annotations

from math import ceil, floor
from typing import Any

import numpy as np
from PySide6.QtCore import Qt

from planner.acoustics.bands import interpolate
from planner.desktop.document import PlanDocument
from planner.desktop.editors.curves import CurveTable
from planner.desktop.editors.impedance import CURVE_HZ, MARKS_HZ
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.table_file import TableButton
from planner.desktop.fields import ChoiceField, CurveSketch, Form, Place, Scale, Trace
from planner.plan import Plan, get, put
from planner.plan.edit import Path
from planner.plan.units import show

__all__ = ["ResponseEditor"]

MARK_DB = 3.0


class ResponseEditor(Editor):
    """Flat, or a table."""

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(document)
        self._place = place
        form = Form()
        kinds = [(False, self.tr("Flat")), (True, self.tr("A table"))]
        tip = self.tr("Adds to the sensitivity, over frequency")
        form.add(
            self.keep(
                ChoiceField(
                    document, place, self.tr("Given as"), kinds, tip=tip, read=_tabled, write=_with_table
                )
            )
        )
        self.box.addWidget(form)
        self.box.addWidget(TableButton(document, place), 0, Qt.AlignmentFlag.AlignLeft)
        self.box.addWidget(self.keep(Variant(document, self._now, self._make)))

    def _now(self) -> bool:
        return _tabled(self._document.plan, self._place.path)

    def _make(self, tabled: Any) -> Editor | None:
        return _Table(self._document, self._place) if tabled else None


class _Table(Editor):
    """The table, and the curve that it makes."""

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(document)
        self._place = place
        self._drawn: object = None
        self.table = self.keep(CurveTable(document, place, self.tr("Response table")))
        self.sketch = CurveSketch(self.tr("Response"), MARKS_HZ)
        for widget in (self.table, self.sketch):
            self.box.addWidget(widget)
        self._draw()

    def pull(self) -> None:
        super().pull()
        self._draw()

    def _draw(self) -> None:
        rows = get(self._document.plan, self._place.path)
        if rows is None or rows is self._drawn:
            return
        self._drawn = rows
        hertz, level = np.array(rows).T
        curve = np.asarray(interpolate(CURVE_HZ, hertz, level))
        low, high = float(curve.min()), float(curve.max())
        words = self.tr("From {0} to {1}").format(show(low, "dB"), show(high, "dB"))
        self.sketch.draw([Trace(CURVE_HZ, curve)], _scale(low, high), words=words)


def _tabled(plan: Plan, path: Path) -> bool:
    return get(plan, path) is not None


def _with_table(plan: Plan, path: Path, wanted: bool) -> Plan:
    section = get(plan, path[:-1])
    rows = ((section.low_hz, 0.0), (section.high_hz, 0.0)) if wanted else None
    after = put(plan, path, rows)
    assert isinstance(after, Plan)
    return after


def _scale(low_db: float, high_db: float) -> Scale:
    """A scale in steps of 3 dB, or of more where it spans much, round the values and nothing."""
    span = max(high_db, 0.0) - min(low_db, 0.0)
    step = MARK_DB * max(1, ceil(span / (4.0 * MARK_DB)))
    bottom, top = floor(min(low_db, -step) / step), ceil(max(high_db, step) / step)
    marks = tuple(float(step * number) for number in range(bottom, top + 1))
    return Scale(marks[0], marks[-1], marks, "dB")
