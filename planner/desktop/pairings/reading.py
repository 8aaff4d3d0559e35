"""The line below the grid: what comes of the pair that is read, and what can be done with it."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from planner.desktop.theme import colours_of, verdict_icon

__all__ = ["ReadingLine"]

MARK_PX, LINES = 20, 2


class ReadingLine(QWidget):
    """A mark, a sentence of up to two lines, and buttons."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._verdict = ""
        self.mark, self.words = QLabel(), QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.make_button = self._button(self.tr("&Make It a Candidate"))
        self.make_button.setDefault(True)
        self.copy_button = self._button(self.tr("&Copy"))
        self.copy_button.setToolTip(self.tr("Put the grid on the clipboard, for a spreadsheet (Ctrl+C)"))
        self.save_button = self._button(self.tr("Save as CS&V…"))
        self.save_button.setToolTip(self.tr("Write every pair that is shown to a file"))
        self._line = line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(8)
        line.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        line.addWidget(self.words, 1, Qt.AlignmentFlag.AlignTop)
        for button in (self.make_button, self.copy_button, self.save_button):
            line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self._refont()

    def say(self, words: str, verdict: str = "") -> None:
        """Say something, with the mark of a verdict or none."""
        self._verdict = verdict
        self.words.setText(words)
        self.words.setAccessibleName(words)
        self._dress()

    def offer(self, *, possible: bool, there: bool) -> None:
        """Offer to make the pair a candidate, or to look at it where it is one."""
        self.make_button.setEnabled(possible)
        self.make_button.setText(self.tr("Look at &It") if there else self.tr("&Make It a Candidate"))
        tip = self.tr("Add the pair to the plan as a candidate and look at it; Undo takes it back (Return)")
        look = self.tr("Look at the candidate that this pair is (Return)")
        self.make_button.setToolTip(look if there else tip)

    def add_button(self, button: QPushButton) -> None:
        """Put one more button at the end."""
        self._line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)

    def _button(self, text: str) -> QPushButton:
        button = QPushButton(text)
        button.setAutoDefault(False)
        return button

    def _dress(self) -> None:
        if not self._verdict:
            self.mark.clear()
            return
        icon = verdict_icon(self._verdict, colours_of(self.palette()), MARK_PX)
        self.mark.setPixmap(icon.pixmap(QSize(MARK_PX, MARK_PX), self.devicePixelRatioF()))

    def _refont(self) -> None:
        self.mark.setFixedWidth(MARK_PX)
        # Room for two lines is kept, so that the grid does not jump while the pointer moves over it.
        self.words.setMinimumHeight(ceil(LINES * QFontMetricsF(self.font()).lineSpacing()) + 2)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
        elif event.type() == QEvent.Type.PaletteChange:
            self._dress()
