"""The candidates as rows of a table that can be sorted, and whose names can be typed over."""

from __future__ import annotations

import math

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
    Signal,
)
from PySide6.QtGui import QBrush, QIcon

from planner.desktop.compare.quantities import WAITING, Quantity
from planner.desktop.compare.rows import Row
from planner.desktop.theme import LIGHT, VERDICTS, Colours, verdict_icon

__all__ = ["CompareModel", "Sorted"]

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole


class CompareModel(QAbstractTableModel):
    """A row for each candidate in the order of the plan; ``renamed`` tells of a name typed over another."""

    renamed = Signal(int, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.colours: Colours = LIGHT
        self.rows: list[Row] = []
        self.columns: list[Quantity] = []
        self._icons: dict[str, QIcon] = {}

    @property
    def shape(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The names in the first column, and the keys of the columns."""
        return tuple(row.candidate.name for row in self.rows), tuple(one.key for one in self.columns)

    def show_rows(self, rows: list[Row], columns: list[Quantity]) -> None:
        """Show other rows; a table that keeps its shape keeps what is chosen and being typed in it."""
        same = (len(rows), len(columns)) == (len(self.rows), len(self.columns))
        if not same:
            self.beginResetModel()
        self.rows, self.columns = rows, columns
        if not same:
            self.endResetModel()
        elif rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(columns) - 1))

    def restyle(self, colours: Colours) -> None:
        """Take the colours of the theme."""
        self.colours = colours
        self._icons = {verdict: verdict_icon(verdict, colours) for verdict in VERDICTS}
        if self.rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.rows) - 1, len(self.columns) - 1))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.columns)

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        named = index.isValid() and self.columns[index.column()].key == "name"
        return flags | Qt.ItemFlag.ItemIsEditable if named else flags

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        row, column = self.rows[index.row()], self.columns[index.column()]
        if role in (Role.DisplayRole, Role.EditRole):
            return column.text(row)
        if role == Role.TextAlignmentRole:
            return _side(column)
        if role == Role.DecorationRole:
            return self._icons.get(row.seat.verdict) if column.key == "verdict" else None
        if role == Role.ForegroundRole:
            return QBrush(self.colours.pick("muted")) if column.text(row) == WAITING else None
        return column.text(row) if role == Role.ToolTipRole else None

    def setData(self, index: Index, value: object, role: int = Role.EditRole) -> bool:
        if role != Role.EditRole or not str(value).strip():
            return False
        self.renamed.emit(index.row(), str(value).strip())
        return True

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        if orientation is not Qt.Orientation.Horizontal or section >= len(self.columns):
            return None
        column = self.columns[section]
        answers = {
            Role.DisplayRole: column.title,
            Role.ToolTipRole: column.tip,
            Role.TextAlignmentRole: _side(column),
        }
        return answers.get(Role(role))


class Sorted(QSortFilterProxyModel):
    """The rows in the order of one column: numbers by size, words by letters, what is not known last."""

    def lessThan(self, left: Index, right: Index) -> bool:
        model = self.sourceModel()
        assert isinstance(model, CompareModel)
        value = model.columns[left.column()].value
        first, second = (value(model.rows[index.row()]) for index in (left, right))
        if isinstance(first, float) and isinstance(second, float):
            return _unknown_last(first, self.sortOrder()) < _unknown_last(second, self.sortOrder())
        return str(first).casefold() < str(second).casefold()


def _unknown_last(value: float, order: Qt.SortOrder) -> float:
    if not math.isnan(value):
        return value
    return math.inf if order == Qt.SortOrder.AscendingOrder else -math.inf


def _side(column: Quantity) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if column.is_number else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter
