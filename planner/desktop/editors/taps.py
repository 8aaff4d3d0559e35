"""The ratings of an amplifier: what it gives into which load, at which distortion."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Rows, row_of
from planner.desktop.fields import Hint, MarkButton, Note, NumberField, Place
from planner.plan import get
from planner.plan.reshape import add_tap, remove_tap

__all__ = ["TapsEditor"]

COLUMNS = ("ohm", "watts", "distortion_pct", "output_ohm")


class TapsEditor(Editor):
    """Ratings as rows: load, watts, distortion, output impedance."""

    def __init__(self, document: PlanDocument, amplifier: Place) -> None:
        super().__init__(document)
        self._amplifier = amplifier
        heads = self.tr("Load"), self.tr("Power"), self.tr("Distortion"), self.tr("Output")
        self.box.setSpacing(3)
        line = row_of(*(Hint(head) for head in heads))
        for number in range(len(heads)):
            line.setStretch(number, 1)
        line.addSpacing(MarkButton("remove", "").sizeHint().width())
        self.box.addLayout(line)
        self.rows = self.keep(Rows(document, amplifier.to("taps"), self._make))
        self.rows.box.setSpacing(3)
        self.box.addWidget(self.rows)
        self.add = QPushButton(self.tr("Add ra&ting"))
        self.add.setToolTip(self.tr("The same load again is the same tap at another distortion"))
        self.add.clicked.connect(self._add)
        self.box.addWidget(self.add)

    def _make(self, index: int) -> Editor:
        return TapRow(self._document, self._amplifier, index)

    def _add(self) -> None:
        self.change(add_tap(self._document.plan, self._amplifier.path), self.tr("Add rating"))


class TapRow(Editor):
    """One rating."""

    def __init__(self, document: PlanDocument, amplifier: Place, index: int) -> None:
        super().__init__(document)
        self._amplifier, self._index = amplifier, index
        self.box.setSpacing(2)
        place = amplifier.to("taps", index)
        self.fields = [self.keep(NumberField(document, place.to(key), plain=True)) for key in COLUMNS]
        self.remove = MarkButton("remove", self.tr("Take this rating away"))
        self.remove.clicked.connect(self._remove)
        line = row_of(*self.fields, self.remove)
        line.setSpacing(4)
        for number in range(len(self.fields)):
            line.setStretch(number, 1)
        self.box.addLayout(line)
        note = Note(place)
        note.watch(*self.fields)
        self.box.addWidget(note)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        self.remove.setEnabled(len(get(self._document.plan, self._amplifier.path).taps) > 1)

    def _remove(self) -> None:
        after = remove_tap(self._document.plan, self._amplifier.path, self._index)
        self.change(after, self.tr("Take a rating away"))
