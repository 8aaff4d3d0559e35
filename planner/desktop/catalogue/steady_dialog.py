"""A dialog in which Return does what the widget in focus wants, and never presses some other button."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QPushButton, QWidget

__all__ = ["SteadyDialog"]

MOST_OF_SCREEN = 0.92


class SteadyDialog(QDialog):
    """Deletes itself when closed; *letters* and *lines* are its size by its font, if the screen is as
    large.

    A field that takes a number on Return would else press the dialog's default button too.
    """

    def __init__(self, title: str, letters: int, lines: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._letters, self._lines = letters, lines

    def sizeHint(self) -> QSize:
        size = self.fontMetrics()
        wanted = QSize(self._letters * size.averageCharWidth(), self._lines * size.lineSpacing())
        return wanted.boundedTo(self.screen().availableSize() * MOST_OF_SCREEN)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)
        elif isinstance(pressed := self.focusWidget(), QPushButton):
            pressed.click()
