"""The way from a part of a candidate to the catalogue, where somebody offers one."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Place

__all__ = ["TakeEditor"]


class TakeEditor(Editor):
    """A button that asks for entries of a kind; it is there as long as the column knows whom to ask.

    *place* is that of the part: of an amplifier, it tells which of them.
    """

    def __init__(self, document: PlanDocument, kind: str, place: Place) -> None:
        super().__init__(document)
        self._kind, self._place = kind, place
        self.button = QPushButton(self.tr("Take from the catalogue…"))
        self.button.setToolTip(self.tr("Replaces this part by a copy of an entry; undo brings it back"))
        self.button.clicked.connect(self._ask)
        self.box.addWidget(self.button)
        self.hide()

    def build(self) -> None:
        root = self.root()
        self.setVisible(root is not None and root.catalogue is not None)

    def _ask(self) -> None:
        root, last = self.root(), self._place.path[-1]
        if root is not None and root.catalogue is not None:
            root.catalogue(self._kind, last if isinstance(last, int) else 0)
