"""A material or an item that the plan describes itself: its name, and one figure or one for each octave."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtWidgets import QPushButton

from planner.acoustics.bands import OCTAVE_KEYS
from planner.desktop.document import PlanDocument
from planner.desktop.editors.octaves import OctaveGrid
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.fields import Form, NumberField, Place, TextField
from planner.desktop.fields.specs import inner_spec
from planner.plan import get
from planner.plan.fields import Octaves
from planner.plan.reshape import describe_own
from planner.plan.room import OwnItem, OwnMaterial

__all__ = ["OwnEditor"]

INSET_PX = 12


class OwnEditor(Editor):
    """Shown below what it describes."""

    def __init__(self, document: PlanDocument, place: Place, model: type[OwnMaterial | OwnItem]) -> None:
        super().__init__(document)
        self._place, self._model = place, model
        self._key = "absorption" if model is OwnMaterial else "area_m2"
        self.setContentsMargins(INSET_PX, 0, 0, 4)
        form = Form(inset_px=INSET_PX)
        form.add(self.keep(TextField(document, place.to("name"), self.tr("Name"))))
        self.box.addWidget(form)
        self._grid: OctaveGrid | None = None
        self.box.addWidget(self.keep(Variant(document, self._by_octave, self._make)))
        self._show_in_use()

    def _by_octave(self) -> bool:
        own = get(self._document.plan, self._place.path)
        return isinstance(getattr(own, self._key, None), Octaves)

    def _make(self, by_octave: Any) -> Editor:
        place = self._place.to(self._key)
        if by_octave:
            self._grid = OctaveGrid(self._document, place, self._model, self._key)
            return self._grid
        self._grid = None
        editor = Editor(self._document)
        form = Form(inset_px=INSET_PX)
        form.add(editor.keep(NumberField(self._document, place, spec=inner_spec(self._model, self._key))))
        editor.box.addWidget(form)
        spread = QPushButton(self.tr("Give it by &octave"))
        spread.clicked.connect(self._spread)
        editor.box.addWidget(spread)
        return editor

    def pull(self) -> None:
        super().pull()
        self._show_in_use()

    def _show_in_use(self) -> None:
        values = getattr(get(self._document.plan, self._place.path), self._key, None)
        if self._grid is not None and isinstance(values, Octaves):
            hertz = np.array(list(OCTAVE_KEYS.values()))
            self._grid.show_in_use(hertz, values.at(hertz))

    def _spread(self) -> None:
        after = describe_own(self._document.plan, self._place.path)
        self.change(after, self.tr("Give it by octave"))
