"""A file that was dropped on the window and is no plan: what it is, and who takes it."""

from __future__ import annotations

import os
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from planner.desktop.care.caution import Paragraph
from planner.desktop.document import PlanDocument
from planner.desktop.measured.decay_dialog import DecayDialog
from planner.desktop.measured.table_dialog import TableDialog
from planner.desktop.recording.importing import SOUND_ENDINGS, import_sound
from planner.programme.sound_faults import RecordingError, SoundLibraryMissing
from planner.programme.sound_file import sound_format

__all__ = ["TABLE_ENDINGS", "SoundQuestion", "take_dropped"]

TABLE_ENDINGS = (".txt", ".csv", ".tsv", ".dat", ".asc")
LONGEST_DECAY_S = 60.0


def take_dropped(document: PlanDocument, path: str | os.PathLike[str], parent: QWidget) -> bool:
    """Take a sound, a folder of them, a playlist or a table; False for anything else, such as a plan.

    Returns at once: what follows asks, or works beside the window.
    """
    file = Path(path)
    ending = file.suffix.lower()
    if ending in TABLE_ENDINGS:
        TableDialog(document, file, parent).open()
    elif ending in SOUND_ENDINGS and may_be_decay(file):
        SoundQuestion(document, file, parent).open()
    elif file.is_dir() or ending in SOUND_ENDINGS:
        import_sound(document, file, parent)
    else:
        return False
    return True


def may_be_decay(file: Path) -> bool:
    """Whether a sound file is short enough to be an impulse response."""
    try:
        form = sound_format(file)
    except (RecordingError, SoundLibraryMissing):
        return False
    return form.frames <= LONGEST_DECAY_S * form.sample_rate_hz


class SoundQuestion(QDialog):
    """Asks what a short sound is: music for the programme, or how the room decays."""

    def __init__(self, document: PlanDocument, file: Path, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(file.name)
        self._document, self._file = document, file
        words = Paragraph()
        words.setText(self.tr("What is this sound? It is short enough for an impulse response."))
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        role = QDialogButtonBox.ButtonRole.ActionRole
        self.music = self.buttons.addButton(self.tr("&Music for the Programme"), role)
        self.decay = self.buttons.addButton(self.tr("Impulse Response of the &Room"), role)
        self.music.clicked.connect(self._as_music)
        self.decay.clicked.connect(self._as_decay)
        self.buttons.rejected.connect(self.reject)
        lines = QVBoxLayout(self)
        lines.setSpacing(12)
        lines.addWidget(words)
        lines.addWidget(self.buttons)

    def _as_music(self) -> None:
        self.accept()
        import_sound(self._document, self._file, self.parentWidget())

    def _as_decay(self) -> None:
        self.accept()
        DecayDialog(self._document, self._file, self.parentWidget()).open()
