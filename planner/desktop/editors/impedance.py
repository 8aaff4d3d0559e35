"""An impedance: its nominal value, and perhaps a table or a driver's parameters, with the curve drawn."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import Qt

from planner.desktop.document import PlanDocument
from planner.desktop.editors.curves import CurveTable
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.table_file import TableButton
from planner.desktop.fields import (
    Choice,
    ChoiceField,
    CurveSketch,
    Form,
    Hint,
    NumberField,
    Place,
    Scale,
    Trace,
)
from planner.headroom.drive import impedance_at
from planner.plan import Plan, get
from planner.plan.edit import Path
from planner.plan.loudspeaker import Impedance
from planner.plan.reshape import impedance_kind
from planner.plan.units import show

__all__ = ["ImpedanceEditor", "impedance_words"]

MARKS_HZ = (20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0)
CURVE_HZ = np.geomspace(MARKS_HZ[0], MARKS_HZ[-1], 160)
PHASE = Scale(-90.0, 90.0, (-90.0, 0.0, 90.0), "°")
DRIVER = ("dc_ohm", "resonance_hz", "mechanical_q", "electrical_q", "inductance_h")
READ_IN = {"inductance_h": "mH"}


class ImpedanceEditor(Editor):
    """The way it is given, what belongs to that, and |Z| with its phase."""

    def __init__(self, document: PlanDocument, place: Place, *, needed: bool = False) -> None:
        super().__init__(document)
        self._place = place
        kinds: list[Choice] = [
            ("nominal", self.tr("Nominal value")),
            ("table", self.tr("Table")),
            ("driver", self.tr("Driver parameters")),
        ]
        if not needed:
            kinds.insert(0, (None, self.tr("Not given")))
        form = Form()
        self.kind = self.keep(
            ChoiceField(
                document,
                place,
                self.tr("Given as"),
                kinds,
                tip=self.tr(
                    "A curve shows where the amplifier runs out of current, and how it bends the response"
                ),
                read=_kind,
                write=impedance_kind,
            )
        )
        form.add(self.kind)
        self.box.addWidget(form)
        self.box.addWidget(TableButton(document, place), 0, Qt.AlignmentFlag.AlignLeft)
        self.box.addWidget(self.keep(Variant(document, self._now, self._make)))

    def _now(self) -> str | None:
        return _kind(self._document.plan, self._place.path)

    def _make(self, kind: Any) -> Editor | None:
        return None if kind is None else _Given(self._document, self._place, str(kind))


class _Given(Editor):
    """An impedance that is given in one of the ways."""

    def __init__(self, document: PlanDocument, place: Place, kind: str) -> None:
        super().__init__(document)
        self._place = place
        self._drawn: Impedance | None = None
        form = Form()
        form.add(self.keep(NumberField(document, place.to("nominal_ohm"), name=self.tr("Nominal"))))
        if kind == "driver":
            for key in DRIVER:
                form.add(self.keep(NumberField(document, place.to("driver", key), unit=READ_IN.get(key))))
        self.box.addWidget(form)
        if kind == "table":
            self.box.addWidget(self.keep(CurveTable(document, place.to("table"), self.tr("Impedance table"))))
        self.sketch = CurveSketch(self.tr("Impedance and phase"), MARKS_HZ)
        self.sketch.setToolTip(
            self.tr("Magnitude, unbroken, on the left scale; phase, dashed, on the right one")
        )
        self.box.addWidget(self.sketch)
        self.hint = Hint()
        self.box.addWidget(self.hint)
        self._draw()

    def pull(self) -> None:
        super().pull()
        self._draw()

    def _draw(self) -> None:
        impedance = get(self._document.plan, self._place.path)
        if impedance is None or impedance is self._drawn:
            return
        self._drawn = impedance
        curve = impedance_at(impedance, CURVE_HZ)
        ohm, degrees = np.abs(curve), np.degrees(np.angle(curve))
        low, high = float(ohm.min()), float(ohm.max())
        words = self.tr("Lowest {0} at {1}, highest {2}. Dashed: phase.").format(
            show(low, "ohm"), show(float(CURVE_HZ[ohm.argmin()]), "Hz"), show(high, "ohm")
        )
        self.hint.say(words)
        traces = [Trace(CURVE_HZ, degrees, right=True), Trace(CURVE_HZ, ohm)]
        self.sketch.draw(traces, _scale(high), PHASE, words)


def impedance_words(impedance: Impedance | None) -> str:
    """An impedance in short: its nominal value, and in which way its curve is given."""
    return "" if impedance is None else f"{impedance.nominal_ohm:g} Ω"


def _kind(plan: Plan, path: Path) -> str | None:
    impedance = get(plan, path)
    if impedance is None:
        return None
    if impedance.table is not None:
        return "table"
    return "driver" if impedance.driver is not None else "nominal"


def _scale(high: float) -> Scale:
    """From nothing to a round value above the highest."""
    decade = 10.0 ** np.floor(np.log10(high))
    top = next(float(step * decade) for step in (1.0, 2.0, 4.0, 6.0, 8.0, 10.0) if step * decade >= high)
    return Scale(0.0, top, (0.0, top / 2.0, top), "Ω")
