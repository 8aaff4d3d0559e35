"""The menu that takes a recording: from a file or playlist, or from a folder of them."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.recording.importing import SoundImport, import_sound, sound_filter
from planner.desktop.settings import settings

__all__ = ["SoundMenu"]


class SoundMenu(QObject):
    """Puts two commands into a menu of *owner*, and asks for what they need."""

    def __init__(self, document: PlanDocument, menu: QMenu, owner: QWidget) -> None:
        super().__init__(owner)
        self._document, self._owner = document, owner
        self.dialog: QFileDialog | None = None
        menu.addAction(self.tr("From a &File or Playlist…"), self.ask_file)
        menu.addAction(self.tr("From All Files of a F&older…"), self.ask_folder)

    def ask_file(self) -> None:
        """Ask for a sound file or a playlist."""
        self._ask(QFileDialog.FileMode.ExistingFile)

    def ask_folder(self) -> None:
        """Ask for a folder whose files are taken together."""
        self._ask(QFileDialog.FileMode.Directory)

    def take(self, path: str) -> SoundImport:
        """Begin to read a file, a folder or a playlist."""
        return import_sound(self._document, path, self._owner.window())

    def _ask(self, mode: QFileDialog.FileMode) -> None:
        folder = str(settings().value("recordings folder", ""))
        self.dialog = QFileDialog(self._owner.window(), self.tr("Take a Recording"), folder)
        self.dialog.setFileMode(mode)
        if mode is QFileDialog.FileMode.ExistingFile:
            self.dialog.setNameFilter(sound_filter())
        self.dialog.fileSelected.connect(self.take)
        self.dialog.open()
