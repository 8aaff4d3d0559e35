"""What the window asks a person, each question one small method that a test can answer instead."""

from __future__ import annotations

from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QMessageBox, QPushButton, QWidget

from planner.plan.presets import Preset

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

__all__ = ["Answer", "Questions"]

Button = QMessageBox.StandardButton


class Answer(Enum):
    """What a person may answer before changes would be lost or a file replaced."""

    SAVE = "save"
    SAVE_AS = "save as"
    DISCARD = "discard"
    CANCEL = "cancel"


class Questions(QObject):
    """Asks on behalf of one window."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window

    def save_changes(self, name: str) -> Answer:
        """What to do with the changes to *name*; Esc cancels."""
        box = self._box(
            self.tr("Save the changes to “{0}”?").format(name),
            self.tr("Without saving, what changed since the last save is lost."),
        )
        save, discard = box.addButton(Button.Save), box.addButton(Button.Discard)
        return self._answer(box, {save: Answer.SAVE, discard: Answer.DISCARD}, save)

    def replace_newer(self, file: Path) -> Answer:
        """Whether to replace a file that another program changed meanwhile; Esc cancels."""
        box = self._box(
            self.tr("“{0}” was changed by another program.").format(file.name),
            self.tr("It is newer than what this window opened or saved. Replacing it loses that change."),
        )
        replace = box.addButton(self.tr("&Replace"), QMessageBox.ButtonRole.DestructiveRole)
        elsewhere = box.addButton(self.tr("Save &As…"), QMessageBox.ButtonRole.AcceptRole)
        return self._answer(box, {replace: Answer.SAVE, elsewhere: Answer.SAVE_AS}, elsewhere)

    def give_up_changes(self, name: str) -> bool:
        """Whether to go back to the plan as its file has it."""
        box = self._box(
            self.tr("Go back to “{0}” as it was last saved?").format(name),
            self.tr("Undo brings the changes back."),
        )
        revert = box.addButton(self.tr("&Revert"), QMessageBox.ButtonRole.AcceptRole)
        return self._answer(box, {revert: Answer.DISCARD}, revert) is Answer.DISCARD

    def files_to_open(self, folder: Path) -> list[Path]:
        """Which plan files to open; empty if none."""
        names, _ = QFileDialog.getOpenFileNames(
            self._window, self.tr("Open a plan"), str(folder), self._plan_filters()
        )
        return [Path(name) for name in names]

    def files_to_import(self, folder: Path) -> list[Path]:
        """Which recordings, decays and tables to take; empty if none."""
        from planner.desktop.measured.dropped import TABLE_ENDINGS
        from planner.desktop.recording.importing import SOUND_ENDINGS

        kinds = (
            (self.tr("What can be taken"), (*SOUND_ENDINGS, *TABLE_ENDINGS)),
            (self.tr("Recordings and impulse responses"), SOUND_ENDINGS),
            (self.tr("Tables of numbers"), TABLE_ENDINGS),
        )
        filters = [f"{name} ({' '.join(f'*{ending}' for ending in endings)})" for name, endings in kinds]
        names, _ = QFileDialog.getOpenFileNames(
            self._window,
            self.tr("Import a recording, a decay or a table"),
            str(folder),
            ";;".join((*filters, self.tr("All files (*)"))),
        )
        return [Path(name) for name in names]

    def file_to_save(self, suggestion: Path) -> Path | None:
        """Where to save the plan."""
        return self._where(self.tr("Save the plan"), suggestion, self._plan_filters())

    def file_to_export(self, suggestion: Path, kind: str) -> Path | None:
        """Where to write an answer; *kind* is the filter of file names."""
        return self._where(self.tr("Export the answer"), suggestion, kind)

    def printer(self, suggestion: QPrinter) -> QPrinter | None:
        """Where to print; it begins with what is *suggested*."""
        from PySide6.QtPrintSupport import QPrintDialog

        dialog = QPrintDialog(suggestion, self._window)
        taken = bool(dialog.exec())
        dialog.deleteLater()
        return suggestion if taken else None

    def file_with_mark(self, folder: Path) -> Path | None:
        """Which picture stands at the head of reports."""
        kinds = self.tr("Pictures (*.svg *.png *.jpg *.jpeg)")
        name, _ = QFileDialog.getOpenFileName(
            self._window, self.tr("Choose a mark for reports"), str(folder), kinds
        )
        return Path(name) if name else None

    def preset(self) -> Preset | None:
        """Which typical room to begin with."""
        from planner.desktop.window.new_plan import NewPlanDialog

        dialog = NewPlanDialog(self._window)
        dialog.exec()
        chosen = dialog.chosen
        dialog.deleteLater()
        return chosen

    def _plan_filters(self) -> str:
        return ";;".join((self.tr("Plans (*.json)"), self.tr("All files (*)")))

    def _where(self, title: str, suggestion: Path, filters: str) -> Path | None:
        dialog = QFileDialog(self._window, title, str(suggestion.parent), filters)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        # The dialog itself adds the suffix, so that it asks before replacing the file that is really meant.
        dialog.setDefaultSuffix(suggestion.suffix.lstrip("."))
        dialog.selectFile(suggestion.name)
        names = dialog.selectedFiles() if dialog.exec() else []
        dialog.deleteLater()
        return Path(names[0]) if names else None

    def _box(self, text: str, more: str) -> QMessageBox:
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(text)
        box.setInformativeText(more)
        return box

    def _answer(self, box: QMessageBox, answers: dict[QPushButton, Answer], default: QPushButton) -> Answer:
        box.setEscapeButton(box.addButton(Button.Cancel))
        box.setDefaultButton(default)
        box.exec()
        clicked = box.clickedButton()
        box.deleteLater()
        return next((answer for button, answer in answers.items() if button is clicked), Answer.CANCEL)
