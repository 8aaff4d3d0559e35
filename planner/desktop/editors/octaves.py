"""Values by octave, each in a box of its own that may be empty."""

from __future__ import annotations

from functools import partial

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel
from PySide6.QtWidgets import QGridLayout, QWidget

from planner.acoustics.bands import OCTAVE_KEYS
from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Note, NumberField, Place, label_for
from planner.desktop.fields.specs import inner_spec
from planner.plan import Plan, get
from planner.plan.edit import Path
from planner.plan.fields import Spec
from planner.plan.reshape import set_octave
from planner.plan.units import show

__all__ = ["OctaveGrid"]

COLUMNS = 2


class OctaveGrid(Editor):
    """A box for each octave from 31.5 Hz to 16 kHz; an empty one is not given."""

    def __init__(self, document: PlanDocument, place: Place, model: type[BaseModel], key: str) -> None:
        super().__init__(document)
        spec = inner_spec(model, key)
        self.fields: dict[str, NumberField] = {}
        inside = QWidget()
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        note = Note(place)
        down = -(-len(OCTAVE_KEYS) // COLUMNS)
        for number, octave in enumerate(OCTAVE_KEYS):
            field = self.keep(_octave_field(document, place, spec, octave))
            self.fields[octave] = field
            note.watch(field)
            across, row = divmod(number, down)
            grid.addWidget(label_for(field, _hertz(octave)), row, 2 * across)
            grid.addWidget(field, row, 2 * across + 1)
            grid.setColumnStretch(2 * across + 1, 1)
        self.box.addWidget(inside)
        self.box.addWidget(note)

    def show_in_use(self, hertz: NDArray[np.float64], values: NDArray[np.float64]) -> None:
        """Show in empty boxes, in grey, the values (n,) that are in use there."""
        for octave, field in self.fields.items():
            near = int(np.argmin(np.abs(np.log(hertz / OCTAVE_KEYS[octave]))))
            field.start = float(f"{values[near]:.3g}")
            field.placeholder = show(float(values[near]), field.spec.unit)


def _octave_field(document: PlanDocument, place: Place, spec: Spec, octave: str) -> NumberField:
    return NumberField(
        document,
        place,
        spec=spec,
        name=f"{spec.label}, {_hertz(octave)}",
        read=partial(_read, octave),
        write=partial(_write, octave),
        optional=True,
        plain=True,
    )


def _read(octave: str, plan: Plan, path: Path) -> float | None:
    table = get(plan, path)
    return None if table is None else table.get(octave)


def _write(octave: str, plan: Plan, path: Path, value: float | None) -> Plan:
    return set_octave(plan, path, octave, value)


def _hertz(octave: str) -> str:
    hertz = float(octave)
    return f"{hertz:g} Hz" if hertz < 1000.0 else f"{hertz / 1000.0:g} kHz"
