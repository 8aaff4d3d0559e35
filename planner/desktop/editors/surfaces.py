"""What the six faces of the room are made of: one material each, or several with their areas."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QLabel

from planner.desktop.document import PlanDocument
from planner.desktop.editors.catalogue import EntryButton, entry_of, material_entries
from planner.desktop.editors.own import OwnEditor
from planner.desktop.editors.part import Editor, Rows, Variant, row_of
from planner.desktop.editors.picker import Picker
from planner.desktop.fields import Hint, MarkButton, Note, NumberField, Place
from planner.desktop.settings import settings
from planner.plan import get, put
from planner.plan.reshape import add_patch, describe_own, remove_patch
from planner.plan.room import FACES, OwnMaterial
from planner.plan.units import show

__all__ = ["SurfacesEditor"]


class SurfacesEditor(Editor):
    """The six faces, one below another."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        names = {
            "floor": self.tr("Floor"),
            "ceiling": self.tr("Ceiling"),
            "front": self.tr("Front wall"),
            "back": self.tr("Back wall"),
            "left": self.tr("Left wall"),
            "right": self.tr("Right wall"),
        }
        for face in FACES:
            self.box.addWidget(self.keep(FaceEditor(document, face, names[face])))


class FaceEditor(Editor):
    """One face: its name, its area, its materials."""

    def __init__(self, document: PlanDocument, face: str, name: str) -> None:
        super().__init__(document)
        self._face, self._name = face, name
        self._place = Place("room", "surfaces", face)
        self.box.setSpacing(3)
        self.area = Hint()
        add = MarkButton("add", self.tr("Add a material to: {0}").format(name))
        add.clicked.connect(self._add)
        self.box.addLayout(row_of(QLabel(name), self.area, add, stretch=1))
        self.rows = self.keep(Rows(document, self._place, self._make_row))
        self.box.addWidget(self.rows)
        self.box.addWidget(Note(self._place))
        settings().units_changed.connect(self._tell)
        self._tell()

    def _make_row(self, index: int) -> Editor:
        return PatchRow(self._document, self._face, index, self._name)

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        room = self._document.plan.room
        if room is not None:
            self.area.say(show(room.face_area_m2(self._face), "m2", settings().units))

    def _add(self) -> None:
        title = self.tr("Another material: {0}").format(self._name)
        picker = Picker(title, material_entries(), "", self)
        picker.own.hide()
        picker.picked.connect(self._add_picked)
        picker.open()

    def _add_picked(self, key: str) -> None:
        after = add_patch(self._document.plan, self._face, key)
        self.change(after, self.tr("Add a material"))


class PatchRow(Editor):
    """One material on a face, with its area where there are several."""

    def __init__(self, document: PlanDocument, face: str, index: int, name: str) -> None:
        super().__init__(document)
        self._face, self._index, self._name = face, index, name
        self._place = Place("room", "surfaces", face, index)
        self.box.setSpacing(3)
        self.material = EntryButton(name)
        self.material.clicked.connect(self._choose)
        self.area = self.keep(
            NumberField(
                document,
                self._place.to("area_m2"),
                name=self.tr("Area, {0}").format(name),
                optional=True,
                plain=True,
            )
        )
        self.remove = MarkButton("remove", self.tr("Take this material away"))
        self.remove.clicked.connect(self._remove)
        self.box.addLayout(row_of(self.material, self.area, self.remove))
        note = Note(self._place)
        note.watch(self.area)
        self.box.addWidget(note)
        self.box.addWidget(self.keep(Variant(document, self._is_own, self._make_own)))
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        room = self._document.plan.room
        if room is None:
            return
        patches = getattr(room.surfaces, self._face)
        several = len(patches) > 1
        self.area.setVisible(several or patches[self._index].area_m2 is not None)
        self.remove.setVisible(several)
        self.material.show_entry(self._name, entry_of(patches[self._index].material))
        rest_m2 = room.face_area_m2(self._face) - sum(patch.area_m2 or 0.0 for patch in patches)
        self.area.start = max(rest_m2, 0.1)
        self.area.placeholder = self.tr("the rest")

    def _is_own(self) -> bool:
        return isinstance(get(self._document.plan, self._place.path).material, OwnMaterial)

    def _make_own(self, own: Any) -> Editor | None:
        return OwnEditor(self._document, self._place.to("material"), OwnMaterial) if own else None

    def _choose(self) -> None:
        material = get(self._document.plan, self._place.path).material
        chosen = material if isinstance(material, str) else ""
        picker = Picker(self.tr("Material: {0}").format(self._name), material_entries(), chosen, self)
        picker.picked.connect(self._take)
        picker.own_wanted.connect(self._describe)
        picker.open()

    def _take(self, key: str) -> None:
        after = put(self._document.plan, (*self._place.path, "material"), key)
        self.change(after, self.tr("Change the material"))

    def _describe(self, key: str) -> None:
        path = (*self._place.path, "material")
        after = describe_own(put(self._document.plan, path, key), path)
        self.change(after, self.tr("Describe a material"))

    def _remove(self) -> None:
        after = remove_patch(self._document.plan, self._face, self._index)
        self.change(after, self.tr("Take a material away"))
