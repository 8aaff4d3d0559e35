"""Entries from files and to files: what is new, what differs, and everything that is wrong with a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractTableModel,
    QCoreApplication,
    QModelIndex,
    QPersistentModelIndex,
    QSize,
    Qt,
)
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.fields import Hint
from planner.desktop.row_table import RowTable
from planner.desktop.theme import headline_font
from planner.plan import Finding
from planner.plan.catalogue import Catalogue, Entry
from planner.plan.catalogue.entry import OWN, with_id

__all__ = ["FaultsDialog", "Incoming", "file_filters", "sorted_out"]

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
WIDTH_LETTERS, FEWEST_LINES, MOST_LINES = 110, 9, 26
translate = QCoreApplication.translate


def file_filters() -> dict[str, str]:
    """The ends of files by the words that a file dialog shows for them."""
    return {
        translate("Catalogue", "JSON, whole and exact (*.json)"): "json",
        translate("Catalogue", "CSV, for a spreadsheet (*.csv)"): "csv",
    }


@dataclass(frozen=True, slots=True)
class Incoming:
    """Entries of a file: new ones, those that are here already, and other versions of own ones."""

    new: tuple[Entry, ...]
    known: tuple[Entry, ...]
    differing: tuple[Entry, ...]

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All of them."""
        return (*self.new, *self.known, *self.differing)


def sorted_out(catalogue: Catalogue, entries: Sequence[Entry]) -> Incoming:
    """Which entries are new, known, or other versions of own ones."""
    new, known, differing = [], [], []
    for entry in entries:
        if any(entry == with_id(one, entry.id) for one in catalogue.of_kind(entry.kind)):
            known.append(entry)
        elif any(one.id in (entry.id, OWN + entry.id) and one.kind == entry.kind for one in catalogue.own):
            differing.append(entry)
        else:
            new.append(entry)
    return Incoming(tuple(new), tuple(known), tuple(differing))


class FaultsDialog(QDialog):
    """Lists everything that is wrong with a file of entries, to read and to copy."""

    def __init__(self, heading: str, below: str, findings: Sequence[Finding], parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Catalogue"))
        self.heading = QLabel(heading)
        self.heading.setFont(headline_font(self.font()))
        self.heading.setWordWrap(True)
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self._findings = tuple(findings)
        self.model = _FaultModel(self._findings, self)
        self.table = RowTable(self.model, self.tr("Faults"), self)
        self.table.setWordWrap(True)
        heads = self.table.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        heads.setStretchLastSection(True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.buttons.rejected.connect(self.reject)
        self.copy_button = self.buttons.addButton(self.tr("&Copy"), QDialogButtonBox.ButtonRole.ActionRole)
        self.copy_button.setToolTip(self.tr("Put the whole list on the clipboard"))
        self.copy_button.setAutoDefault(False)
        self.copy_button.clicked.connect(self._copy)
        lines = QVBoxLayout(self)
        lines.addWidget(self.heading)
        lines.addWidget(Hint(below))
        lines.addWidget(self.table, 1)
        lines.addWidget(self.buttons)
        self.resize(self.sizeHint())
        self.table.setColumnWidth(0, round(0.34 * self.width()))
        self.table.setColumnWidth(1, round(0.2 * self.width()))
        self.table.resizeRowsToContents()

    def _copy(self) -> None:
        QApplication.clipboard().setText("\n".join(str(one) for one in self._findings) + "\n")

    def sizeHint(self) -> QSize:
        size = self.fontMetrics()
        lines = min(max(2 * len(self._findings) + 7, FEWEST_LINES), MOST_LINES)
        return QSize(WIDTH_LETTERS * size.averageCharWidth(), lines * size.lineSpacing())


class _FaultModel(QAbstractTableModel):
    """A row for each fault: where, what was found, what was expected."""

    def __init__(self, findings: Sequence[Finding], parent: QWidget) -> None:
        super().__init__(parent)
        self._rows = [(_place(one.path), one.value, one.expected) for one in findings]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else 3

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        if role in (Role.DisplayRole, Role.ToolTipRole):
            return self._rows[index.row()][index.column()]
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        if orientation is not Qt.Orientation.Horizontal or role != Role.DisplayRole:
            return None
        return (self.tr("Where"), self.tr("Found"), self.tr("Expected"))[section]


def _place(path: str) -> str:
    return path[:1].upper() + path[1:] if path.startswith("row ") else path
