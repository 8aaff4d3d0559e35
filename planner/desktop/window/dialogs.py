"""The small dialogs of the window: what went wrong, preferences, shortcuts, about."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHeaderView,
    QLabel,
    QPlainTextEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.settings import settings
from planner.desktop.theme import headline_font
from planner.desktop.window import recovery
from planner.desktop.window.menus import scheme_names, unit_names
from planner.plan.units import Preference

__all__ = ["Preferences", "ShortcutList", "TextDialog"]


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


class Preferences(QDialog):
    """Units, theme and recovery, taken at once."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Preferences"))
        self.units = self._choice(unit_names(), settings().units.value)
        self.units.setToolTip(
            self.tr("In which units lengths, areas and temperatures are shown; typing a unit always works")
        )
        self.theme = self._choice(scheme_names(), settings().scheme)
        self.theme.setToolTip(self.tr("Light or dark colours"))
        self.units.activated.connect(self._take_units)
        self.theme.activated.connect(self._take_theme)
        self.recovery = QCheckBox(self.tr("Keep a copy of &unsaved changes"))
        self.recovery.setToolTip(self.tr("So that they are not lost if the program or the machine stops"))
        self.recovery.setChecked(recovery.is_on())
        self.recovery.toggled.connect(recovery.switch)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        form = QFormLayout()
        form.addRow(self.tr("Un&its"), self.units)
        form.addRow(self.tr("&Theme"), self.theme)
        lines = QVBoxLayout(self)
        form.addRow(self.recovery)
        lines.addLayout(form)
        lines.addStretch(1)
        lines.addWidget(buttons)

    def _choice(self, names: dict[str, str], current: str) -> QComboBox:
        box = QComboBox()
        for value, name in names.items():
            box.addItem(name.replace("&", ""), value)
        box.setCurrentIndex(box.findData(current))
        return box

    def _take_units(self) -> None:
        settings().units = Preference(self.units.currentData())

    def _take_theme(self) -> None:
        settings().scheme = self.theme.currentData()


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
