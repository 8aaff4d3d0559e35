"""Cut, copy and paste where text has the focus."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Clipboard"]


class Clipboard(QObject):
    """Knows where in a window text has the focus."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window

    def cut(self) -> None:
        """Cut the selected text."""
        self._do("cut")

    def copy(self) -> None:
        """Copy the selected text."""
        field = text_field(QApplication.focusWidget())
        if isinstance(field, QLabel):
            QApplication.clipboard().setText(field.selectedText())
        else:
            self._do("copy")

    def paste(self) -> None:
        """Paste into the text."""
        self._do("paste")

    def refresh(self) -> None:
        """Offer only what can be done where the focus is."""
        field = text_field(QApplication.focusWidget())
        writable = field is not None and not isinstance(field, QLabel) and not field.isReadOnly()
        actions = self._window.menus.actions
        actions["copy"].setEnabled(field is not None)
        actions["cut"].setEnabled(writable)
        actions["paste"].setEnabled(writable)

    def _do(self, what: str) -> None:
        field = text_field(QApplication.focusWidget())
        if field is not None and not isinstance(field, QLabel):
            getattr(field, what)()

    def follow(self, old: QWidget | None, new: QWidget | None) -> None:
        """Heed where the focus goes."""
        if new is not None and self._window.isAncestorOf(new):
            self.refresh()


def text_field(widget: QWidget | None) -> QLineEdit | QTextEdit | QPlainTextEdit | QLabel | None:
    """The text that the keys go to when *widget* has the focus; none if it holds no text."""
    if isinstance(widget, QAbstractSpinBox | QComboBox):
        return widget.lineEdit()
    return widget if isinstance(widget, QLineEdit | QTextEdit | QPlainTextEdit | QLabel) else None
