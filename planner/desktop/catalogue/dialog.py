"""The catalogue in a window of its own: search, put into the plan, keep from it, import, export."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QStyle, QVBoxLayout, QWidget

from planner.desktop.catalogue.exchange import FaultsDialog
from planner.desktop.catalogue.files import CatalogueFiles
from planner.desktop.catalogue.menus import ExportMenu, KeepMenu
from planner.desktop.catalogue.own import OwnEntries
from planner.desktop.catalogue.putting import plan_with, put_text
from planner.desktop.catalogue.steady_dialog import SteadyDialog
from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.catalogue.target import TargetLine
from planner.desktop.catalogue.view import CatalogueView
from planner.desktop.document import PlanDocument
from planner.desktop.window.notices import Notice
from planner.plan import Plan
from planner.plan.catalogue import MaterialEntry, own_path, title_of

__all__ = ["CatalogueDialog"]

SIZE = 188, 46
LETTERS = "PKYRIENO"
"""Access keys of the buttons and choosers below the list."""


class CatalogueDialog(SteadyDialog):
    """Stays open beside the window; whatever it does to the plan is one undoable step."""

    def __init__(
        self, document: PlanDocument, parent: QWidget | None = None, kind: str | None = None
    ) -> None:
        super().__init__(QCoreApplication.translate("Catalogue", "Catalogue"), *SIZE, parent)
        self._document = document
        catalogue_store().refresh()
        self.view = CatalogueView(taken_keys=LETTERS)
        self.target = TargetLine(document)
        self.files = CatalogueFiles(self)
        self.own = OwnEntries(self)
        self.notice = Notice(QStyle.StandardPixmap.SP_MessageBoxInformation)
        self.notice.setAccessibleName(self.tr("What was done"))
        self._make_buttons()
        self._lay_out()
        self._add_undo()
        self._connect()
        self._expect_the_load()
        if kind is not None:
            self.view.show_kind(kind)
        self.view.table.setFocus()
        self._refresh()
        self._tell_unread()

    def _make_buttons(self) -> None:
        self.put_button = self._button(self.tr("&Put Into the Plan"), self._put)
        self.keep_button = self._button(self.tr("&Keep From the Plan"), None)
        self.keep_menu = KeepMenu(self._document, self)
        self.keep_button.setMenu(self.keep_menu)
        self.keep_button.setToolTip(self.tr("Keep a part of the candidate looked at as an entry of your own"))
        self.copy_button = self._button(self.tr("Cop&y as My Own"), self._copy)
        self.copy_button.setToolTip(self.tr("An entry of your own with the same figures, to rename and note"))
        self.remove_button = self._button(self.tr("&Remove"), self._remove)
        self.remove_button.setToolTip(self.tr("Take this entry of your own out of the catalogue"))
        self.import_button = self._button(self.tr("&Import…"), self.files.ask_import)
        self.import_button.setToolTip(self.tr("Take entries from a file, JSON or CSV"))
        self.export_button = self._button(self.tr("&Export"), None)
        self.export_button.setToolTip(self.tr("Write entries to a file, JSON or CSV"))
        self.export_menu = ExportMenu(self.view, self.files, self)
        self.export_button.setMenu(self.export_menu)
        self.close_button = self._button(self.tr("Close"), self.close)
        self.view.clear_button.setAutoDefault(False)
        self.back_button = self.notice.offer(
            self.tr("Put It &Back"), self.tr("Take back the last entry that was removed"), self.own.put_back
        )
        self.unread_button = self.notice.offer(
            self.tr("Show &Faults"), self.tr("What is wrong with your file"), self._show_unread
        )
        for button in (self.back_button, self.unread_button):
            button.setAutoDefault(False)
            button.hide()

    def _button(self, text: str, does: object) -> QPushButton:
        button = QPushButton(text)
        button.setAutoDefault(False)
        if does is not None:
            button.clicked.connect(does)
        return button

    def _lay_out(self) -> None:
        putting = QHBoxLayout()
        putting.addWidget(self.target, 1)
        putting.addWidget(self.put_button)
        managing = QHBoxLayout()
        for button in (self.keep_button, self.copy_button, self.remove_button):
            managing.addWidget(button)
        managing.addSpacing(18)
        for button in (self.import_button, self.export_button):
            managing.addWidget(button)
        managing.addStretch(1)
        managing.addWidget(self.close_button)
        lines = QVBoxLayout(self)
        lines.setSpacing(8)
        lines.addWidget(self.view, 1)
        lines.addWidget(self.notice)
        lines.addLayout(putting)
        lines.addLayout(managing)
        self.put_button.setDefault(True)
        self.resize(self.sizeHint())

    def _add_undo(self) -> None:
        history = self._document.history
        for action, key in (
            (history.createUndoAction(self), QKeySequence.StandardKey.Undo),
            (history.createRedoAction(self), QKeySequence.StandardKey.Redo),
        ):
            action.setShortcuts(QKeySequence.keyBindings(key))
            self.addAction(action)

    def _connect(self) -> None:
        self.view.chosen.connect(self._refresh)
        self.view.activated.connect(self._put)
        self.view.tabs.currentChanged.connect(self._follow_kind)
        self.target.changed.connect(self._refresh)
        self.view.details.renamed.connect(self._rename)
        self.view.details.noted.connect(self._note)
        self.files.told.connect(self._tell)
        self.files.taken.connect(self.view.choose)
        self.own.told.connect(self._tell)
        self.own.made.connect(self.view.choose)
        self.keep_menu.kept.connect(self._show_kept)
        catalogue_store().changed.connect(self._refresh)

    # What the buttons do.

    def _expect_the_load(self) -> None:
        """Ask for watts into the nominal impedance that the candidate has, at the plan's distortion."""
        plan, candidate = self._document.plan, self._document.candidate
        whole = plan.candidates[candidate].loudspeaker.impedance
        self.view.bar.expect(None if whole is None else whole.nominal_ohm, plan.at_distortion_pct)

    def _after(self) -> Plan | None:
        """The plan with the entry in it, or None where it has no place."""
        entry, place = self.view.entry, self.target.place
        if entry is None or place is None:
            return None
        if isinstance(entry, MaterialEntry) != (place.surface is not None):
            # Between two kinds, while one of list and places has changed already.
            return None
        return plan_with(self._document.plan, self._document.candidate, entry, place)

    def _put(self) -> None:
        entry, place, after = self.view.entry, self.target.place, self._after()
        if entry is None or place is None or after is None or after == self._document.plan:
            return
        text = put_text(self._document.plan, self._document.candidate, entry, place)
        self._document.close_gesture()
        self._document.replace(after, text)
        self._document.close_gesture()
        self._tell(self.tr("Done: {0}. Undo (Ctrl+Z) takes it back.").format(text))

    def _show_kept(self, entry_id: str) -> None:
        self.view.choose(entry_id)
        entry = catalogue_store().catalogue.entry(entry_id)
        self._tell(self.tr("“{0}” is in your catalogue.").format(title_of(entry)))

    def _copy(self) -> None:
        if self.view.entry is not None:
            self.own.copy(self.view.entry)

    def _remove(self) -> None:
        if self.view.entry is not None and self.view.is_own:
            self.own.remove(self.view.entry)

    def _rename(self) -> None:
        if self.view.entry is not None:
            self.own.rename(self.view.entry, self.view.details.name.text().strip())
            self.view.refresh()

    def _note(self) -> None:
        if self.view.entry is not None:
            self.own.note(self.view.entry, self.view.details.note.toPlainText().strip())

    # What is said.

    def _follow_kind(self) -> None:
        self.target.show_kind(self.view.kind)

    def _refresh(self) -> None:
        after = self._after()
        self.put_button.setEnabled(after is not None and after != self._document.plan)
        self.put_button.setToolTip(self._put_tip(after))
        self.copy_button.setEnabled(self.view.entry is not None)
        self.remove_button.setEnabled(self.view.is_own)
        self.back_button.setVisible(self.own.removed)

    def _put_tip(self, after: Plan | None) -> str:
        if self.view.kind == "material" and self._document.plan.room is None:
            return self.tr("In the open air there is no surface to put a material on")
        if after is not None and after == self._document.plan:
            return self.tr("The plan holds it already")
        return self.tr("Put a copy of this entry into the plan, as one step that Undo takes back (Return)")

    def _tell(self, text: str) -> None:
        self.unread_button.hide()
        self.back_button.setVisible(self.own.removed)
        self.notice.say(text)

    def _tell_unread(self) -> None:
        findings = catalogue_store().catalogue.findings
        if findings:
            text = self.tr("Not all of your own entries could be read; faults: {0}. Nothing of them is lost.")
            self._tell(text.format(len(findings)))
            self.unread_button.show()

    def _show_unread(self) -> None:
        findings = catalogue_store().catalogue.findings
        heading = self.tr("Not all of your own entries could be read")
        below = self.tr("{0}. What cannot be read stays in the file, or in a copy beside it.")
        FaultsDialog(heading, below.format(own_path()), findings, self).open()
