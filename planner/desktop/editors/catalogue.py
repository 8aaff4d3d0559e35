"""Materials and furnishings of the program's tables as entries to pick, and a button that shows one."""

from __future__ import annotations

from functools import cache

import numpy as np
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.editors.picker import OCTAVES_HZ, Entry
from planner.desktop.fields.button import FieldButton
from planner.desktop.theme import Colours
from planner.plan.fields import Octaves
from planner.plan.room import OwnItem, OwnMaterial
from planner.report.language import tr
from planner.resources import MATERIALS_SOURCE, furnishings, materials

__all__ = ["EntryButton", "entry_of", "item_entries", "material_entries"]

BARS_LETTERS = 7.0


@cache
def material_entries() -> tuple[Entry, ...]:
    """All materials: absorption by octave."""
    return tuple(
        Entry(one.key, one.group, one.description, one.absorption, "", MATERIALS_SOURCE)
        for one in materials().values()
    )


@cache
def item_entries() -> tuple[Entry, ...]:
    """All furnishings: absorption area of one piece by octave [m²]."""
    return tuple(
        Entry(one.key, one.group, one.description, one.area_m2, "m²", one.source)
        for one in furnishings().values()
    )


def entry_of(thing: str | OwnMaterial | OwnItem) -> Entry:
    """The entry of what the plan names or describes."""
    if isinstance(thing, str):
        return _named()[thing]
    given = thing.absorption if isinstance(thing, OwnMaterial) else thing.area_m2
    values = given.at(OCTAVES_HZ) if isinstance(given, Octaves) else np.full(OCTAVES_HZ.shape, given)
    unit = "" if isinstance(thing, OwnMaterial) else "m²"
    return Entry("", "", thing.name, tuple(values.tolist()), unit, tr("described in this plan"))


@cache
def _named() -> dict[str, Entry]:
    return {entry.key: entry for entry in (*material_entries(), *item_entries())}


class EntryButton(FieldButton):
    """Shows an entry: its words, and its values by octave as small bars; opens the list it is picked from."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._entry: Entry | None = None
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_entry(self, name: str, entry: Entry) -> None:
        """Show *entry* as the thing called *name*."""
        if (name, entry) == (self._name, self._entry):
            return
        self._name, self._entry = name, entry
        self.setText(entry.words)
        self.setAccessibleName(f"{name}: {entry.words}")
        self.setToolTip(f"{entry.words}\n{tr('Press to choose another from the list')}")
        self.update()

    def paint_more(self, painter: QPainter, right: float, colours: Colours) -> float:
        if self._entry is None:
            return right
        wide = self.fontMetrics().averageCharWidth() * BARS_LETTERS
        area = QRectF(right - wide, 5.0, wide, self.height() - 10.0)
        values = self._entry.values
        most, step = max(1.0, *values), area.width() / len(values)
        painter.fillRect(QRectF(area.left(), area.bottom(), area.width() - 1.0, 1.0), colours.pick("edge"))
        for number, value in enumerate(values):
            tall = value / most * area.height()
            bar = QRectF(area.left() + number * step, area.bottom() - tall, step - 1.0, tall)
            painter.fillRect(bar, colours.pick("series 0"))
        return area.left()
