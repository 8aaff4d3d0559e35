"""Takes one entry of the catalogue for one place of the plan: for editors."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from planner.desktop.catalogue.putting import PutPlace, catalogue_id_at, plan_with, put_text
from planner.desktop.catalogue.steady_dialog import SteadyDialog
from planner.desktop.catalogue.view import CatalogueView
from planner.desktop.catalogue.words import kind_word
from planner.desktop.document import PlanDocument
from planner.plan.edit import Path

__all__ = ["CatalogueChooser"]

LETTERS, LINES = 172, 38


class CatalogueChooser(SteadyDialog):
    """Lists the entries of a kind; the one taken goes into the plan as one undoable step.

    It goes to the candidate that is looked at; an amplifier in the place of the one of that number, or of
    each, a material to the *surface* at that path. Nothing is changed before an entry is taken.
    """

    def __init__(
        self,
        document: PlanDocument,
        kind: str,
        parent: QWidget | None = None,
        *,
        amplifier: int | None = None,
        surface: Path | None = None,
    ) -> None:
        title = QCoreApplication.translate("Catalogue", "Take from the catalogue: {0}")
        super().__init__(title.format(kind_word(kind)), LETTERS, LINES, parent)
        self._document = document
        self._place = PutPlace("", amplifier, surface)
        self.view = CatalogueView((kind,), "T")
        self.take_button = QPushButton(self.tr("&Take It"))
        self.cancel_button = QPushButton(self.tr("Cancel"))
        for button in (self.take_button, self.cancel_button, self.view.clear_button):
            button.setAutoDefault(False)
        self.take_button.setDefault(True)
        self._lay_out()
        self.view.chosen.connect(self._refresh)
        self.view.activated.connect(self._take)
        self.take_button.clicked.connect(self._take)
        self.cancel_button.clicked.connect(self.reject)
        self.view.choose(catalogue_id_at(document.plan, document.candidate, kind, amplifier))
        self.view.bar.words.setFocus()
        self._refresh()

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.cancel_button)
        buttons.addWidget(self.take_button)
        lines = QVBoxLayout(self)
        lines.addWidget(self.view, 1)
        lines.addLayout(buttons)
        self.resize(self.sizeHint())

    def _refresh(self) -> None:
        self.take_button.setEnabled(self.view.entry is not None)

    def _take(self) -> None:
        entry = self.view.entry
        if entry is None:
            return
        document = self._document
        after = plan_with(document.plan, document.candidate, entry, self._place)
        document.close_gesture()
        document.replace(after, put_text(document.plan, document.candidate, entry, self._place))
        document.close_gesture()
        self.accept()
