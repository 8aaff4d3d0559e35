"""The entries found, as rows of a table."""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from planner.desktop.catalogue.columns import Column, columns_of
from planner.desktop.catalogue.words import origin_word
from planner.headroom.catalogue_search import Found, Wants
from planner.plan.units import Preference

__all__ = ["FoundModel"]

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole


class FoundModel(QAbstractTableModel):
    """A row for each entry; the last column says whose it is. A press on a heading sorts by it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._wants = Wants()
        self._units = Preference.METRIC
        self._columns: tuple[Column, ...] = columns_of("loudspeaker")
        self._rows: tuple[Found, ...] = ()
        self._own: frozenset[str] = frozenset()
        self._by: tuple[int, Qt.SortOrder] | None = None

    def show_found(
        self, found: Sequence[Found], wants: Wants, own: frozenset[str], units: Preference
    ) -> None:
        """Show other entries; *own* are the ids of the user's, *wants* what they were found by."""
        self.beginResetModel()
        kind = wants.kind or "loudspeaker"
        if kind != self._wants.kind:
            self._by = None
        self._wants, self._columns, self._own, self._units = wants, columns_of(kind), own, units
        self._rows = self._sorted(found)
        self.endResetModel()

    def found(self, row: int) -> Found | None:
        """The entry in a row with its figures."""
        return self._rows[row] if 0 <= row < len(self._rows) else None

    def row_of(self, entry_id: str) -> int:
        """The row of an entry, or -1."""
        ids = [one.entry.id for one in self._rows]
        return ids.index(entry_id) if entry_id in ids else -1

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        self.layoutAboutToBeChanged.emit()
        before = self._rows
        self._by = (column, order) if column >= 0 else None
        self._rows = self._sorted(before)
        places = {one.entry.id: row for row, one in enumerate(self._rows)}
        old = self.persistentIndexList()
        self.changePersistentIndexList(
            old, [self.index(places[before[one.row()].entry.id], one.column()) for one in old]
        )
        self.layoutChanged.emit()

    def _sorted(self, found: Sequence[Found]) -> tuple[Found, ...]:
        """As the search gave them, or by the column chosen; what does not say its figure is last."""
        if self._by is None:
            return tuple(found)
        column, order = self._by
        keyed = [(self._key(one, column), one) for one in found]
        said: list[tuple[Any, Found]] = [pair for pair in keyed if pair[0] is not None]
        said.sort(key=itemgetter(0), reverse=order is Qt.SortOrder.DescendingOrder)
        return (*(one for _, one in said), *(one for key, one in keyed if key is None))

    def _key(self, found: Found, column: int) -> float | str | None:
        if column == len(self._columns):
            return self._origin(found)
        return self._columns[column].key(found)

    def _origin(self, found: Found) -> str:
        return origin_word(found.entry.id in self._own)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._columns) + 1

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        found = self.found(index.row())
        if found is None:
            return None
        if role in (Role.DisplayRole, Role.ToolTipRole):
            return self._text(found, index.column())
        if role == Role.TextAlignmentRole:
            return self._side(index.column())
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Role.TextAlignmentRole:
            return self._side(section)
        if role != Role.DisplayRole:
            return None
        last = section == len(self._columns)
        return self.tr("From") if last else self._columns[section].title(self._wants)

    def _text(self, found: Found, column: int) -> str:
        if column == len(self._columns):
            return self._origin(found)
        return self._columns[column].cell(found, self._units)

    def _side(self, column: int) -> Qt.AlignmentFlag:
        right = column < len(self._columns) and self._columns[column].right
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        return side | Qt.AlignmentFlag.AlignVCenter
