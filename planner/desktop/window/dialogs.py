"""The small dialogs of the window: a text to read, and the list of shortcuts."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QLabel,
    QPlainTextEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.theme import headline_font

__all__ = ["ShortcutList", "TextDialog"]


class TextDialog(QDialog):
    """A heading, a text to read and to copy, and a button to close."""

    def __init__(self, title: str, heading: str, text: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.heading = QLabel(heading)
        self.heading.setFont(headline_font(self.font()))
        self.heading.setWordWrap(True)
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self.text = QPlainTextEdit(text)
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName(heading)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.buttons.rejected.connect(self.reject)
        self.copy_button = self.buttons.addButton(self.tr("&Copy"), QDialogButtonBox.ButtonRole.ActionRole)
        self.copy_button.setToolTip(self.tr("Put the whole text on the clipboard"))
        self.copy_button.setAutoDefault(False)
        self.copy_button.clicked.connect(self._copy)
        lines = QVBoxLayout(self)
        lines.addWidget(self.heading)
        lines.addWidget(self.text, 1)
        lines.addWidget(self.buttons)
        self.resize(self.sizeHint())

    def sizeHint(self) -> QSize:
        size = QFontMetricsF(self.font())
        lines = min(max(self.text.blockCount() + 4, 10), 26)
        return QSize(round(72 * size.averageCharWidth()), round((lines + 6) * size.lineSpacing()))

    def _copy(self) -> None:
        QApplication.clipboard().setText(f"{self.heading.text()}\n\n{self.text.toPlainText()}\n")


class ShortcutList(QDialog):
    """Every command with its keys."""

    def __init__(self, rows: Iterable[tuple[str, str]], parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Keyboard Shortcuts"))
        self.table = QTreeWidget()
        self.table.setAccessibleName(self.windowTitle())
        self.table.setRootIsDecorated(False)
        self.table.setAlternatingRowColors(True)
        self.table.setHeaderLabels([self.tr("Command"), self.tr("Keys")])
        self.table.addTopLevelItems([QTreeWidgetItem(list(row)) for row in rows])
        self.table.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        lines = QVBoxLayout(self)
        lines.addWidget(self.table)
        lines.addWidget(buttons)
        self.resize(self.sizeHint())

    def sizeHint(self) -> QSize:
        size = QFontMetricsF(self.font())
        wanted = self.table.header().length() + round(8 * size.averageCharWidth())
        return QSize(wanted, round(30 * size.lineSpacing()))
