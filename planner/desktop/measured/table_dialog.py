"""A table from a file: what was understood of it, what it is, how it was measured; one step puts it in."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QCheckBox, QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from planner.desktop.care.caution import Caution, Paragraph
from planner.desktop.document import PlanDocument
from planner.desktop.fields import CurveSketch, NumberField, Place
from planner.desktop.measured.putting import (
    Reference,
    Use,
    likely_nominal_ohm,
    uses_of,
    with_impedance,
    with_noise,
    with_response,
)
from planner.desktop.measured.sketching import MARKS_HZ, sketch_curve, told
from planner.desktop.window.chooser import Chooser
from planner.measurements.curves import Curve, curve_of, read_table_text
from planner.measurements.errors import MeasurementError
from planner.measurements.room_noise import RoomNoise, room_noise_of
from planner.measurements.smoothing import smoothed_to_thirds
from planner.measurements.table import Table, parse_table
from planner.plan import Plan, PlanError, get
from planner.plan.edit import Path as PlanPath
from planner.plan.fields import Spec

__all__ = ["TableDialog"]

LETTERS = 76


class TableDialog(QDialog):
    """Previews a table; nothing reaches the plan before it is put there, in one undoable step."""

    def __init__(
        self,
        document: PlanDocument,
        path: str | os.PathLike[str],
        parent: QWidget | None = None,
        *,
        place: PlanPath | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._document, self._path = document, Path(path)
        self.setWindowTitle(self.tr("Table of {0}").format(self._path.name))
        self.table: Table | None = None
        self.curve: Curve | None = None
        self.noise: RoomNoise | None = None
        self.reference, self.nominal_ohm = Reference(), 8.0
        self._place = place
        self._uses = uses_of(document.plan, document.candidate if place is None else int(place[1]))
        self._make()
        self._lay_out()
        self._read()
        lines = self.layout()
        assert lines is not None
        lines.activate()
        self.resize(self.sizeHint())

    @property
    def use(self) -> Use:
        """What the table is taken for."""
        return self._uses[max(self.uses.currentIndex(), 0)]

    def _make(self) -> None:
        self.words, self.after, self.fault = Paragraph(), Paragraph(), Caution()
        self.uses = Chooser(
            self.tr("What this is"), self.tr("What the table is, and where in the plan it goes")
        )
        self.uses.offer([one.words for one in self._uses], 0)
        self.uses.setMinimumContentsLength(30)
        self.levels = Chooser(self.tr("Levels are"), self.tr("What 0 dB of the table means"))
        self.levels.offer(
            [self.tr("Relative to the stated sensitivity"), self.tr("Sound pressure, dB re 20 µPa")], 0
        )
        self.rated = Chooser(self.tr("Rated as"), self.tr("How the plan keeps the noise of the room"))
        self.rated.offer([self.tr("Noise criterion (NC)"), self.tr("A-weighted level, dB(A)")], 0)
        self.distance = self._field(
            "distance_m", Spec("Distance", "m", 0.01, 100.0, 0.1, "Of the microphone")
        )
        self.volts = self._field("volts", Spec("Drive", "V", 0.001, 1000.0, 0.1, "rms at the terminals"))
        self.nominal = self._field("nominal_ohm", Spec("Nominal", "ohm", 0.6, 1000.0, 1.0))
        self.smooth = QCheckBox(self.tr("&Smooth to third octaves"))
        self.sketch = CurveSketch(self.tr("The table as a curve"), MARKS_HZ)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.take = self.buttons.addButton(
            self.tr("&Put into the Plan"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.uses.activated.connect(self._reread)
        for chooser in (self.levels, self.rated):
            chooser.activated.connect(self._refresh)
        self.smooth.toggled.connect(self._refresh)
        self.buttons.accepted.connect(self._put)
        self.buttons.rejected.connect(self.reject)

    def _field(self, key: str, spec: Spec) -> NumberField:
        return NumberField(
            self._document,
            Place(key),
            spec=spec,
            name=spec.label,
            read=self._own,
            write=self._write,
            parent=self,
        )

    def _lay_out(self) -> None:
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for text, widget in (
            (self.tr("&What this is"), self.uses),
            (self.tr("&Levels are"), self.levels),
            (self.tr("Measured at a &distance of"), self.distance),
            (self.tr("Driven &by"), self.volts),
            (self.tr("&Nominal impedance"), self.nominal),
            (self.tr("&Rated as"), self.rated),
            ("", self.smooth),
        ):
            self.form.addRow(text, widget)
        lines = QVBoxLayout(self)
        lines.setSpacing(10)
        lines.addWidget(self.words)
        lines.addLayout(self.form)
        lines.addWidget(self.sketch)
        lines.addWidget(self.after)
        lines.addWidget(self.fault)
        lines.addStretch(1)
        lines.addWidget(self.buttons)

    def sizeHint(self) -> QSize:
        return QSize(LETTERS * self.fontMetrics().averageCharWidth(), super().sizeHint().height())

    # What the fields show is the dialog's own, not the plan's.

    def _own(self, plan: Plan, path: PlanPath) -> Any:
        key = str(path[0])
        return self.nominal_ohm if key == "nominal_ohm" else getattr(self.reference, key)

    def _write(self, plan: Plan, path: PlanPath, value: Any) -> Plan:
        key = str(path[0])
        if key == "nominal_ohm":
            self.nominal_ohm = float(value)
        elif key == "distance_m":
            self.reference = replace(self.reference, distance_m=float(value))
        else:
            self.reference = replace(self.reference, volts=float(value))
        self._refresh()
        return plan

    # Reading and showing.

    def _read(self) -> None:
        """Read the file once, and choose what its columns look like."""
        try:
            self.table = parse_table(read_table_text(self._path))
            kind = curve_of(self.table).kind
        except MeasurementError as error:
            if self.table is None:
                self._refuse(str(error))
                return
            kind = "response"
        kinds, paths = [one.kind for one in self._uses], [one.path for one in self._uses]
        likely = kinds.index("impedance") if kind == "impedance" else 0
        self.uses.setCurrentIndex(paths.index(self._place) if self._place in paths else likely)
        self._reread()

    def _reread(self) -> None:
        """Take the table for what it is said to be."""
        assert self.table is not None
        self.curve = self.noise = None
        try:
            if self.use.kind == "noise":
                self.noise = room_noise_of(self.table)
            else:
                self.curve = curve_of(self.table, "response" if self.use.kind == "response" else "impedance")
        except MeasurementError as error:
            self._refuse(str(error))
            return
        if self.curve is not None and self.use.kind == "impedance":
            known = get(self._document.plan, self.use.path)
            self.nominal_ohm = known.nominal_ohm if known is not None else likely_nominal_ohm(self.curve)
        self._refresh()

    def _refuse(self, fault: str) -> None:
        self.words.say("" if self.table else self.tr("This file holds no table that can be used."))
        self.fault.say(fault)
        self.take.setEnabled(False)
        self.sketch.hide()
        self.after.say("")
        self._show_rows(())

    def _refresh(self) -> None:
        kind = self.use.kind
        self.reference = replace(self.reference, relative=self.levels.currentIndex() == 0)
        measured = kind == "response" and not self.reference.relative
        self._show_rows(
            {
                "response": (self.levels, self.smooth, *((self.distance, self.volts) if measured else ())),
                "impedance": (self.nominal, self.smooth),
                "noise": (self.rated,),
            }[kind]
        )
        for field in (self.distance, self.volts, self.nominal):
            field.pull()
        self.fault.say("")
        found = self.noise or self.curve
        self.words.say(f"{found.understood}." if found else "")
        self.sketch.show()
        self.take.setEnabled(True)
        self._try()

    def _show_rows(self, shown: tuple[QWidget, ...]) -> None:
        for row in (self.levels, self.distance, self.volts, self.nominal, self.rated, self.smooth):
            self.form.setRowVisible(row, row in shown)

    def _try(self) -> None:
        """Sketch what would be in the plan, and say why it cannot be, if it cannot."""
        try:
            after = self._plan()
        except PlanError as error:
            self.fault.say("; ".join(f"{one.path}: expected {one.expected}" for one in error.findings))
            self.take.setEnabled(False)
            return
        sketch_curve(self.sketch, self.use, after, self.noise)
        self.after.say(told(self.use, self._shaped(), self.noise))

    def _shaped(self) -> Curve | None:
        if self.curve is None or not self.smooth.isChecked():
            return self.curve
        return smoothed_to_thirds(self.curve)

    def _plan(self) -> Plan:
        plan, curve = self._document.plan, self._shaped()
        if self.noise is not None:
            return with_noise(plan, self.noise, as_nc=self.rated.currentIndex() == 0)
        assert curve is not None
        if self.use.kind == "response":
            return with_response(plan, self.use.path, curve, self.reference)
        return with_impedance(plan, self.use.path, curve, self.nominal_ohm)

    def _put(self) -> None:
        if not all(
            [field.take() for field in (self.distance, self.volts, self.nominal) if field.isVisible()]
        ):
            return
        try:
            after = self._plan()
        except PlanError:
            self._try()
            return
        self._document.close_gesture()
        self._document.replace(after, self.tr("Put in the table {0}").format(self._path.name))
        self._document.close_gesture()
        self.accept()
