"""What is told once the listening examples are written: where, what they are, and how to play them safely."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from planner.desktop.care.caution import Caution, Paragraph
from planner.desktop.recording.view import clock_text
from planner.programme.render import Law

__all__ = ["Written", "WrittenDialog"]

LETTERS = 64


@dataclass(frozen=True, slots=True)
class Written:
    """The two files, or what went wrong."""

    clipped: Path
    clean: Path
    start_s: float
    law: Law
    fault: str = ""


class WrittenDialog(QDialog):
    """Names both files, warns of loud sound, and opens them in the system's own player."""

    def __init__(self, written: Written, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Listening Examples"))
        self._written = written
        self.words, self.caution = Paragraph(), Caution()
        self.words.setText(written.fault or self._words())
        self.caution.setText(
            self.tr("The examples could not be written.")
            if written.fault
            else self.tr(
                "Turn the volume down before you play them, and raise it slowly: loud clipped sound "
                "harms ears and tweeters."
            )
        )
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        role = QDialogButtonBox.ButtonRole.ActionRole
        self.play_clipped = self.buttons.addButton(self.tr("Play &Clipped"), role)
        self.play_clean = self.buttons.addButton(self.tr("Play &Without Clipping"), role)
        for button in (self.play_clipped, self.play_clean):
            button.setAutoDefault(False)
            button.setVisible(not written.fault)
        self.play_clipped.clicked.connect(self._play_clipped)
        self.play_clean.clicked.connect(self._play_clean)
        self.buttons.rejected.connect(self.reject)
        lines = QVBoxLayout(self)
        lines.setSpacing(10)
        lines.addWidget(self.caution)
        lines.addWidget(self.words)
        lines.addStretch(1)
        lines.addWidget(self.buttons)
        self.setMinimumWidth(LETTERS * self.fontMetrics().averageCharWidth())

    def _words(self) -> str:
        law = {
            "soft": self.tr("rounded softly from half its limit on"),
            "hard": self.tr("cut hard at its limit"),
        }[self._written.law]
        told = self.tr(
            "Thirty seconds from {start} on, as the amplifier would pass them, {law}:\n{clipped}\n\n"
            "The same, equally loud (RMS), without clipping:\n{clean}\n\n"
            "The amplifier is one without memory: no power supply sags, no valve recovers slowly. "
            "Playing opens the system’s own player."
        )
        return told.format(
            start=clock_text(self._written.start_s),
            law=law,
            clipped=self._written.clipped.name,
            clean=self._written.clean.name,
        )

    def _play_clipped(self) -> None:
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._written.clipped)))

    def _play_clean(self) -> None:
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._written.clean)))
