"""The reverberation time of the room: computed, or measured by octave."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.octaves import OctaveGrid
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Hint, Place
from planner.plan.room import Room
from planner.plan.units import show

__all__ = ["DecayEditor", "decay_words"]

T60 = Place("room", "measured_t60_s")
TOLD_HZ = 500.0


class DecayEditor(Editor):
    """A measured reverberation time by octave, which takes the place of the computed one."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self.hint = Hint(
            self.tr(
                "Measured, by octave: any value takes the place of what surfaces and furnishings give. "
                "Grey values are those in use."
            )
        )
        self.box.addWidget(self.hint)
        self.file_button = QPushButton(self.tr("From an &Impulse Response…"))
        self.file_button.setToolTip(
            self.tr("Read the recorded impulse response of the room, and see its times before they are taken")
        )
        self.file_button.clicked.connect(self._ask)
        self.dialog: QFileDialog | None = None
        self.grid = self.keep(OctaveGrid(document, T60, Room, "measured_t60_s"))
        self.box.addWidget(self.grid)
        self.box.addWidget(self.file_button, 0, Qt.AlignmentFlag.AlignLeft)

    def show_file(self, path: str) -> None:
        """Show the decay that a sound file holds."""
        from planner.desktop.measured.decay_dialog import DecayDialog

        DecayDialog(self._document, path, self.window()).open()

    def _ask(self) -> None:
        self.dialog = QFileDialog(self.window(), self.tr("Impulse Response of the Room"))
        self.dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        self.dialog.setNameFilter(self.tr("Sound files (*.wav *.flac *.aif *.aiff);;All files (*)"))
        self.dialog.fileSelected.connect(self.show_file)
        self.dialog.open()

    def answer(self) -> None:
        super().answer()
        outcome = self._document.outcome
        if outcome is not None and outcome.room is not None:
            self.grid.show_in_use(outcome.seats[0].bands.centre_hz, outcome.room.t60_s)


def decay_words(document: PlanDocument) -> str:
    """The reverberation time in use, near 500 Hz."""
    outcome = document.outcome
    if outcome is None or outcome.room is None:
        return ""
    bands = outcome.seats[0].bands.centre_hz
    near = int(abs(bands - TOLD_HZ).argmin())
    return f"T60 {show(float(outcome.room.t60_s[near]), 's')}, 500 Hz"
