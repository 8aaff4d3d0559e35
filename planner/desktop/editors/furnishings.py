"""What stands in the room and absorbs sound, piece by piece."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.catalogue import EntryButton, entry_of, item_entries
from planner.desktop.editors.own import OwnEditor
from planner.desktop.editors.part import Editor, Rows, Variant, row_of
from planner.desktop.editors.picker import Picker
from planner.desktop.fields import MarkButton, Note, NumberField, Place
from planner.plan import get, put
from planner.plan.reshape import add_furnishing, describe_own, remove_furnishing
from planner.plan.room import OwnItem

__all__ = ["FurnishingsEditor"]

PLACE = Place("room", "furnishings")


class FurnishingsEditor(Editor):
    """One row for each kind of thing."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self.rows = self.keep(Rows(document, PLACE, self._make_row))
        self.rows.box.setSpacing(4)
        self.box.addWidget(self.rows)
        self.add = QPushButton(self.tr("&Add furnishing…"))
        self.add.clicked.connect(self._add)
        self.box.addWidget(self.add)

    def _make_row(self, index: int) -> Editor:
        return ThingRow(self._document, index)

    def _add(self) -> None:
        picker = Picker(self.tr("Add furnishing"), item_entries(), "", self)
        picker.own.hide()
        picker.picked.connect(self._add_picked)
        picker.open()

    def _add_picked(self, key: str) -> None:
        self.change(add_furnishing(self._document.plan, key), self.tr("Add furnishing"))


class ThingRow(Editor):
    """So many pieces of one thing."""

    def __init__(self, document: PlanDocument, index: int) -> None:
        super().__init__(document)
        self._index, self._place = index, PLACE.to(index)
        self.box.setSpacing(3)
        self.item = EntryButton("")
        self.item.clicked.connect(self._choose)
        self.count = self.keep(NumberField(document, self._place.to("count")))
        remove = MarkButton("remove", self.tr("Take this row away"))
        remove.clicked.connect(self._remove)
        self.box.addLayout(row_of(self.item, self.count, remove))
        note = Note(self._place)
        note.watch(self.count)
        self.box.addWidget(note)
        self.box.addWidget(self.keep(Variant(document, self._is_own, self._make_own)))
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        entry = entry_of(get(self._document.plan, self._place.path).item)
        self.item.show_entry(self.tr("Furnishing"), entry)
        self.count.name = self.tr("Count, {0}").format(entry.words)
        self.count.setAccessibleName(self.count.name)

    def _is_own(self) -> bool:
        return isinstance(get(self._document.plan, self._place.path).item, OwnItem)

    def _make_own(self, own: Any) -> Editor | None:
        return OwnEditor(self._document, self._place.to("item"), OwnItem) if own else None

    def _choose(self) -> None:
        item = get(self._document.plan, self._place.path).item
        picker = Picker(self.tr("Furnishing"), item_entries(), item if isinstance(item, str) else "", self)
        picker.picked.connect(self._take)
        picker.own_wanted.connect(self._describe)
        picker.open()

    def _take(self, key: str) -> None:
        after = put(self._document.plan, (*self._place.path, "item"), key)
        self.change(after, self.tr("Change the furnishing"))

    def _describe(self, key: str) -> None:
        path = (*self._place.path, "item")
        after = describe_own(put(self._document.plan, path, key), path)
        self.change(after, self.tr("Describe a furnishing"))

    def _remove(self) -> None:
        after = remove_furnishing(self._document.plan, self._index)
        self.change(after, self.tr("Take a furnishing away"))
