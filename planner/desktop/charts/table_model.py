"""The numbers behind a chart as a table view wants them."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.table import Column, Table

__all__ = ["TableModel"]

Index = QModelIndex | QPersistentModelIndex


class TableModel(QAbstractTableModel):
    """The numbers behind a chart, as a table view wants them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._table = Table(())

    def show_table(self, table: Table) -> None:
        """Show other numbers."""
        self.beginResetModel()
        self._table = table
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._table)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._table.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        column = self._table.columns[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.text(index.row())
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(column)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(self._table.columns[section])
        return self._table.headers[section] if role == Qt.ItemDataRole.DisplayRole else None


def _side(column: Column) -> Qt.AlignmentFlag:
    words = isinstance(column.values, tuple)
    return (
        Qt.AlignmentFlag.AlignLeft if words else Qt.AlignmentFlag.AlignRight
    ) | Qt.AlignmentFlag.AlignVCenter
