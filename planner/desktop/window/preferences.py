"""What a person chooses for the program itself."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QGroupBox,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
)

from planner.desktop.settings import settings
from planner.desktop.window import recovery
from planner.desktop.window.menus import scheme_names, unit_names
from planner.plan.units import Preference
from planner.report.maker import Maker

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Preferences"]

ADDRESS_LINES = 3


class Preferences(QDialog):
    """Units, theme, recovery, and who hands reports out; all of it taken at once."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
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
        self.recovery = QCheckBox(self.tr("Keep a copy of unsaved &changes"))
        self.recovery.setToolTip(self.tr("So that they are not lost if the program or the machine stops"))
        self.recovery.setChecked(recovery.is_on())
        self.recovery.toggled.connect(recovery.switch)
        self.maker = MakerBox(window)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        form = QFormLayout()
        form.addRow(self.tr("&Units"), self.units)
        form.addRow(self.tr("&Theme"), self.theme)
        form.addRow(self.recovery)
        lines = QVBoxLayout(self)
        lines.setSpacing(10)
        lines.addLayout(form)
        lines.addWidget(self.maker)
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


class MakerBox(QGroupBox):
    """Name, address and mark at the head of reports."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__()
        self._questions = window.questions
        self.setTitle(self.tr("At the head of reports"))
        maker = settings().maker
        self.name = QLineEdit(maker.name)
        self.name.setPlaceholderText(self.tr("Your name or that of your workshop"))
        self.address = QPlainTextEdit(maker.address)
        self.address.setTabChangesFocus(True)
        self.address.setFixedHeight(round((ADDRESS_LINES + 1) * self.fontMetrics().lineSpacing()))
        self.mark = QLineEdit(maker.mark_file)
        self.mark.setPlaceholderText(self.tr("None"))
        self.mark.setToolTip(self.tr("A picture file with your mark: SVG, PNG or JPEG"))
        self.choose = QPushButton(self.tr("C&hoose…"))
        self.choose.setAutoDefault(False)
        beside = QHBoxLayout()
        beside.addWidget(self.mark, 1)
        beside.addWidget(self.choose)
        form = QFormLayout(self)
        form.addRow(self.tr("&Name"), self.name)
        form.addRow(self.tr("&Address"), self.address)
        form.addRow(self.tr("&Mark"), beside)
        # Within a row of its own layout, Qt gives the field neither buddy nor name.
        form.labelForField(beside).setBuddy(self.mark)
        self.mark.setAccessibleName(self.tr("Mark"))
        for field in (self.name, self.address, self.mark):
            field.textChanged.connect(self._take)
        self.choose.clicked.connect(self._choose)

    def _take(self) -> None:
        settings().maker = Maker(
            self.name.text().strip(), self.address.toPlainText().strip(), self.mark.text().strip()
        )

    def _choose(self) -> None:
        file = self._questions.file_with_mark(Path(self.mark.text()).parent)
        if file is not None:
            self.mark.setText(str(file))
