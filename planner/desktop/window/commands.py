"""What the menu does to the plan, and the dialogs that it opens."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QDialog, QWhatsThis

from planner.desktop.settings import settings
from planner.desktop.window.incidents import log_folder
from planner.plan import Plan

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Commands"]


class Commands(QObject):
    """Works on the document of one window; each change is an undoable step of its own.

    The dialogs bring the slow library of the charts with them, so each is loaded when it is first opened.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._document = window.document

    # Changes.

    def add_seat(self) -> None:
        """Add a seat beside the last one, and look at it."""
        from planner.plan.reshape import add_seat

        after = add_seat(self._typed_plan())
        self._document.replace(after, self.tr("Add seat"))
        self._document.choose(seat=len(after.seats) - 1)

    def add_stand(self) -> None:
        """Add a stand: the mirror image of the last one, where there is space."""
        from planner.plan.reshape import add_stand, whose_stands

        plan = self._typed_plan()
        whose = whose_stands(plan, self._document.candidate)
        self._document.replace(add_stand(plan, whose), self.tr("Add stand"))

    def duplicate_candidate(self) -> None:
        """Put a copy of the candidate looked at behind it, and look at that."""
        from planner.plan.reshape import duplicate_candidate

        after = duplicate_candidate(self._typed_plan(), here := self._document.candidate)
        self._document.replace(after, self.tr("Duplicate candidate"))
        self._document.choose(candidate=here + 1)

    # Dialogs on the plan.

    def find_place(self) -> None:
        """Seek a better place for a seat or for the loudspeakers."""
        from planner.desktop.placing import PlacingDialog

        self._open(PlacingDialog(self._document, self._window))

    def rate_from_valve(self) -> None:
        """Estimate an amplifier's ratings from its valve."""
        from planner.desktop.triode import TriodeDialog

        self._open(TriodeDialog(self._document, self._window))

    def import_files(self) -> None:
        """Take recordings, decays, tables or plans that a person chooses."""
        last = settings().value("import folder") or ""
        files = self._window.questions.files_to_import(Path(last))
        if files:
            settings().keep("import folder", str(files[0].parent))
            self.take_files(files)

    def take_files(self, files: Iterable[Path]) -> None:
        """Take each file for what it is: a plan, music, how the room decays, or a table of numbers."""
        from planner.desktop.measured import take_dropped

        window = self._window
        window.files.finish_typing()
        window.files.open_all([file for file in files if not take_dropped(self._document, file, window)])

    def show_catalogue(self) -> None:
        """Show the catalogue beside the window; it stays open."""
        from planner.desktop.catalogue import CatalogueDialog

        shown = self._window.findChild(CatalogueDialog)
        if shown is None:
            self._window.files.finish_typing()
            CatalogueDialog(self._document, self._window).show()
        else:
            shown.activateWindow()

    def show_pairings(self) -> None:
        """Show every loudspeaker with every amplifier beside the window; it stays open."""
        from planner.desktop.pairings import PairingsDialog

        shown = self._window.findChild(PairingsDialog)
        if shown is None:
            self._window.files.finish_typing()
            PairingsDialog(self._document, self._window).show()
        else:
            shown.activateWindow()

    def take_from_catalogue(self, kind: str, amplifier: int) -> None:
        """Take one entry of a kind for the candidate looked at."""
        from planner.desktop.catalogue import CatalogueChooser

        self._open(CatalogueChooser(self._document, kind, self._window, amplifier=amplifier))

    def present(self) -> None:
        """Show the answer to a buyer, one question at a time."""
        from planner.desktop.presentation import Presentation

        self._window.files.finish_typing()
        Presentation(self._document, self._window).begin()

    # Dialogs on the program.

    def show_preferences(self) -> None:
        """Let a person choose units, theme and what stands at the head of reports."""
        from planner.desktop.window.preferences import Preferences

        Preferences(self._window).open()

    def show_shortcuts(self) -> None:
        """List every command with its keys."""
        from planner.desktop.window.dialogs import ShortcutList

        ShortcutList(self._window.menus.shortcut_rows(), self._window).open()

    def ask_whats_this(self) -> None:
        """Let the next click tell what is under it."""
        QWhatsThis.enterWhatsThisMode()

    def open_log_folder(self) -> None:
        """Show where the logs lie."""
        folder = log_folder()
        folder.mkdir(parents=True, exist_ok=True)
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))

    def show_about(self) -> None:
        """Say what this program is and on what it stands."""
        from planner.desktop.window.about import about_heading, about_text
        from planner.desktop.window.dialogs import TextDialog

        TextDialog(self.tr("About Few Watts"), about_heading(), about_text(), self._window).open()

    def _open(self, dialog: QDialog) -> None:
        self._window.files.finish_typing()
        dialog.open()

    def _typed_plan(self) -> Plan:
        """The plan with what is still being typed; what follows is a step of its own."""
        self._window.files.finish_typing()
        return self._document.plan
