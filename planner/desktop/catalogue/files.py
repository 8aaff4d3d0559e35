"""Import and export of entries: asks which file, takes all of it or nothing, and tells what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QPushButton, QWidget

from planner.desktop.catalogue.exchange import FaultsDialog, Incoming, file_filters, sorted_out
from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.settings import settings
from planner.plan import PlanError
from planner.plan.catalogue import Catalogue, Entry, export_entries, import_entries, merged, updated

__all__ = ["CatalogueFiles"]

FOLDER = "catalogue/folder"


class CatalogueFiles(QObject):
    """Works for one window. ``told`` brings a sentence to show, ``taken`` the id of a new entry."""

    told = Signal(str)
    taken = Signal(str)

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._dialog: QFileDialog | None = None
        self._to_export: tuple[Entry, ...] = ()
        self._incoming = Incoming((), (), ())
        self._answers: dict[str, QPushButton] = {}

    def ask_import(self) -> None:
        """Let a person choose the file to read."""
        dialog = self._made_dialog(self.tr("Import entries"))
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters([self.tr("Entries (*.json *.csv)"), self.tr("All files (*)")])
        dialog.fileSelected.connect(self.read)
        dialog.open()

    def ask_export(self, entries: Sequence[Entry], name: str) -> None:
        """Let a person choose the file to write."""
        self._to_export = tuple(entries)
        dialog = self._made_dialog(self.tr("Export entries: {0}").format(len(entries)))
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setNameFilters(list(file_filters()))
        dialog.selectFile(name)
        dialog.filterSelected.connect(self._take_filter)
        dialog.fileSelected.connect(self.write)
        self._dialog = dialog
        self._take_filter(dialog.selectedNameFilter())
        dialog.open()

    def write(self, path: str) -> None:
        """Write the entries that are to be exported."""
        try:
            export_entries(self._to_export, path)
        except OSError as error:
            text = self.tr("{0} could not be written: {1}. Choose a folder that you may write to.")
            self.told.emit(text.format(path, error.strerror or error))
            return
        self._remember(path)
        self.told.emit(self.tr("Entries written to {0}: {1}.").format(path, len(self._to_export)))

    def read(self, path: str) -> None:
        """Take the entries of a file: all of them, or with a list of its faults none."""
        try:
            entries = import_entries(path)
        except PlanError as error:
            heading = self.tr("{0} was not taken; faults: {1}").format(Path(path).name, len(error.findings))
            below = self.tr("{0}. Mend these and import it again; the catalogue is as it was.").format(path)
            FaultsDialog(heading, below, error.findings, self._window).open()
            return
        self._remember(path)
        store = catalogue_store()
        store.refresh()
        self._incoming = sorted_out(store.catalogue, entries)
        if self._incoming.differing:
            self._ask_about_differing()
        else:
            self._take(replace_mine=False)

    def _ask_about_differing(self) -> None:
        count = len(self._incoming.differing)
        box = QMessageBox(self._window)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(self.tr("Entries of the file that are other versions of your own: {0}.").format(count))
        box.setInformativeText(
            self.tr("Keep both, the new ones under names with a number, or put them in the place of yours?")
        )
        roles = QMessageBox.ButtonRole
        self._answers = {
            "both": box.addButton(self.tr("Keep &Both"), roles.AcceptRole),
            "replace": box.addButton(self.tr("&Replace Mine"), roles.DestructiveRole),
        }
        box.setDefaultButton(self._answers["both"])
        box.setEscapeButton(box.addButton(QMessageBox.StandardButton.Cancel))
        box.buttonClicked.connect(self._answer)
        box.open()

    def _answer(self, button: QPushButton) -> None:
        answer = next((key for key, one in self._answers.items() if one is button), None)
        self._answers = {}
        if answer is None:
            self.told.emit(self.tr("Nothing was taken; the catalogue is as it was."))
        else:
            self._take(replace_mine=answer == "replace")

    def _take(self, *, replace_mine: bool) -> None:
        incoming, store = self._incoming, catalogue_store()
        before = {one.id for one in store.catalogue.own}
        try:
            store.change(partial(_with_incoming, incoming=incoming, replace_mine=replace_mine))
        except OSError as error:
            self.told.emit(self.tr("The catalogue could not be written: {0}").format(error))
            return
        self.told.emit(self._summary(incoming, replace_mine=replace_mine))
        new = [one.id for one in store.catalogue.own if one.id not in before]
        if new:
            self.taken.emit(new[0])

    def _summary(self, incoming: Incoming, *, replace_mine: bool) -> str:
        other = len(incoming.differing)
        new = len(incoming.new) + (0 if replace_mine else other)
        parts = [self.tr("{0} new").format(new)]
        if replace_mine and other:
            parts.append(self.tr("{0} in place of yours").format(other))
        if incoming.known:
            parts.append(self.tr("{0} here already").format(len(incoming.known)))
        return self.tr("Entries taken: {0}.").format(", ".join(parts))

    def _made_dialog(self, title: str) -> QFileDialog:
        folder = settings().value(FOLDER) or str(Path.home())
        dialog = QFileDialog(self._window, title, str(folder))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        return dialog

    def _take_filter(self, chosen: str) -> None:
        # The dialog itself adds the suffix, so that it asks before replacing the file that is really meant.
        if self._dialog is not None:
            self._dialog.setDefaultSuffix(file_filters().get(chosen, "json"))

    def _remember(self, path: str) -> None:
        self._dialog = None
        settings().keep(FOLDER, str(Path(path).parent))


def _with_incoming(catalogue: Catalogue, incoming: Incoming, replace_mine: bool) -> Catalogue:
    """The catalogue with what a file brings."""
    with_new = merged(catalogue, incoming.new)
    return (updated if replace_mine else merged)(with_new, incoming.differing)
