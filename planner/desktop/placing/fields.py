"""The area by four numbers, in the units preferred; the same rectangle that is drawn on the plan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields import AccessKeys, Note, NumberField, Place, label_for
from planner.headroom.placing import Area
from planner.plan import Plan
from planner.plan.edit import Path
from planner.plan.fields import Spec

__all__ = ["LABEL_LETTERS", "AreaFields"]

FARTHEST_M = 100.0
LABEL_LETTERS = 10
"""Width of the labels in the dialog, so that all its fields stand in line."""


class AreaFields(QWidget):
    """Two rows: from where to where along the length, and across the width.

    The fields are those of the plan's numbers, with units, steps and faults; but the area is the dialog's
    own, so what they write goes there and leaves the plan as it is.
    """

    changed = Signal()

    def __init__(self, document: PlanDocument, area: Area, keys: AccessKeys, parent: QWidget) -> None:
        super().__init__(parent)
        self._area = area
        self._document = document
        self.fields = {key: self._made_field(key, name) for key, name in self._names().items()}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnMinimumWidth(0, LABEL_LETTERS * self.fontMetrics().averageCharWidth())
        self._grid.setColumnStretch(1, 1)
        self._grid.setColumnStretch(3, 1)
        self._add_row(0, keys.mark(self.tr("Along, x")), "x0_m", "x1_m")
        self._add_row(1, keys.mark(self.tr("Across, y")), "y0_m", "y1_m")
        note = Note()
        note.watch(*self.fields.values())
        self._grid.addWidget(note, 2, 0, 1, 4)

    @property
    def area(self) -> Area:
        """The rectangle."""
        return self._area

    def show_area(self, area: Area) -> None:
        """Show another rectangle; nothing is announced."""
        self._area = area
        for field in self.fields.values():
            field.pull()

    def take(self) -> bool:
        """Take what is still being typed; say whether all fields hold numbers."""
        return all([field.take() for field in self.fields.values()])

    def _names(self) -> dict[str, str]:
        return {
            "x0_m": self.tr("Area from x"),
            "x1_m": self.tr("Area to x"),
            "y0_m": self.tr("Area from y"),
            "y1_m": self.tr("Area to y"),
        }

    def _made_field(self, key: str, name: str) -> NumberField:
        tip = self.tr("One edge of the area that is searched; what lies outside the room is left out")
        return NumberField(
            self._document,
            Place(key),
            spec=Spec(name, "m", 0.0, FARTHEST_M, 0.05, tip),
            name=name,
            read=self._read,
            write=self._write,
            plain=True,
            parent=self,
        )

    def _add_row(self, row: int, text: str, low: str, high: str) -> None:
        for column, widget in enumerate(
            (label_for(self.fields[low], text), self.fields[low], QLabel("–", self), self.fields[high])
        ):
            self._grid.addWidget(widget, row, column)

    def _read(self, plan: Plan, path: Path) -> Any:
        return getattr(self._area, str(path[0]))

    def _write(self, plan: Plan, path: Path, value: Any) -> Plan:
        self._area = replace(self._area, **{str(path[0]): float(value)})
        self.changed.emit()
        return plan
