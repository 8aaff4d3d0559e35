"""The loudspeaker of a candidate: name, note, baffle, impedance of the whole, sections."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.bulk import BulkEditor, bulk_words
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.impedance import ImpedanceEditor, impedance_words
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.sections import SectionsEditor
from planner.desktop.editors.taking import TakeEditor
from planner.desktop.fields import ChoiceField, Form, NumberField, Place, RemarkField, TextField
from planner.plan import Plan, get
from planner.plan.edit import Path
from planner.plan.reshape import baffle_kind

__all__ = ["LoudspeakerEditor"]


class LoudspeakerEditor(Editor):
    """What its data sheet says of it as a whole, then section by section."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._candidate, self._place = candidate, candidate.to("loudspeaker")
        place = self._place
        self.box.addWidget(self.keep(TakeEditor(document, "loudspeaker", place)))
        form = Form()
        form.add(self.keep(TextField(document, place.to("name"), self.tr("Name"))))
        form.add(self.keep(RemarkField(document, place.to("note"), self.tr("Note"))))
        spaces = [("half_space", self.tr("Half space")), ("free_field", self.tr("Free field"))]
        tip = self.tr(
            "What the sensitivity is stated for. Half space: on a wide baffle; the baffle step is taken off. "
            "Free field: the figures hold the step already"
        )
        form.add(
            self.keep(
                ChoiceField(document, place.to("radiates_into"), self.tr("Stated into"), spaces, tip=tip)
            )
        )
        baffles = [(False, self.tr("Of its own")), (True, self.tr("Flush in a wall"))]
        width, name = place.to("baffle_width_m"), self.tr("Baffle")
        form.add(self.keep(ChoiceField(document, width, name, baffles, read=_in_wall, write=baffle_kind)))
        self.box.addWidget(form)
        self._keys = form.keys
        self.box.addWidget(self.keep(Variant(document, self._walled, self._make_width)))
        self._add_folds()

    def _add_folds(self) -> None:
        sections, impedance = self._place.to("sections"), self._place.to("impedance")
        for fold in (
            Fold(
                self._document,
                self.tr("Impedance of the whole"),
                "loudspeaker/impedance",
                self._impedance,
                [impedance],
                shut=True,
                level=2,
                summary=self._impedance_words,
            ),
            Fold(
                self._document,
                self.tr("Sections"),
                "loudspeaker/sections",
                self._sections,
                [sections],
                level=2,
                summary=self._section_names,
            ),
            Fold(
                self._document,
                self.tr("Mass and footprint"),
                "loudspeaker/bulk",
                self._bulk,
                [self._place.to("mass_kg"), self._place.to("footprint_m")],
                shut=True,
                level=2,
                summary=self._bulk_words,
            ),
        ):
            self.box.addWidget(self.keep(fold))

    def _walled(self) -> bool:
        return _in_wall(self._document.plan, self._place.to("baffle_width_m").path)

    def _make_width(self, walled: Any) -> Editor | None:
        if walled:
            return None
        editor, form = Editor(self._document), Form(keys=self._keys.beside())
        form.add(editor.keep(NumberField(self._document, self._place.to("baffle_width_m"))))
        editor.box.addWidget(form)
        return editor

    def _impedance(self) -> Editor:
        return ImpedanceEditor(self._document, self._place.to("impedance"))

    def _sections(self) -> Editor:
        return SectionsEditor(self._document, self._candidate)

    def _bulk(self) -> Editor:
        return BulkEditor(self._document, self._place)

    def _bulk_words(self) -> str:
        return bulk_words(get(self._document.plan, self._place.path))

    def _impedance_words(self) -> str:
        impedance = get(self._document.plan, self._place.path).impedance
        return impedance_words(impedance) or self.tr("not given")

    def _section_names(self) -> str:
        return ", ".join(section.name for section in get(self._document.plan, self._place.path).sections)


def _in_wall(plan: Plan, path: Path) -> bool:
    return bool(get(plan, path) == "wall")
