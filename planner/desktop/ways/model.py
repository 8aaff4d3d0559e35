"""The ways to clear a seat as rows of a table."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QBrush, QIcon

from planner.desktop.theme import LIGHT, VERDICTS, Colours, verdict_icon, verdict_word
from planner.desktop.ways.found import Found, amount_text, detail_text, headroom_text, title
from planner.headroom.outcome import verdict_of
from planner.headroom.ways import Way
from planner.plan.units import Preference

__all__ = ["WaysModel"]

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
CHANGE, AMOUNT, HEADROOM = range(3)


class WaysModel(QAbstractTableModel):
    """A row for each way: what changes, from how much to how much, what headroom it gives."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.colours: Colours = LIGHT
        self._icons: dict[str, QIcon] = {}
        self._found: Found | None = None
        self._units = Preference.METRIC

    def show_ways(self, found: Found | None, units: Preference) -> None:
        """Show other ways, or the same in other units."""
        if found is self._found:
            self._units = units
            self._say_anew()
        else:
            self.beginResetModel()
            self._found, self._units = found, units
            self.endResetModel()

    def restyle(self, colours: Colours) -> None:
        """Take the colours of the theme."""
        self.colours = colours
        self._icons = {verdict: verdict_icon(verdict, colours) for verdict in VERDICTS}
        self._say_anew()

    def _say_anew(self) -> None:
        if self.rowCount():
            self.dataChanged.emit(self.index(0, 0), self.index(self.rowCount() - 1, HEADROOM))

    def way(self, row: int) -> Way | None:
        """The way in a row."""
        ways = self._found.ways if self._found is not None else ()
        return ways[row] if 0 <= row < len(ways) else None

    def detail(self, row: int) -> str:
        """What exactly the way in a row moves."""
        way = self.way(row)
        return "" if way is None or self._found is None else detail_text(self._found, way, self._units)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() or self._found is None else len(self._found.ways)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else 3

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        way = self.way(index.row())
        if way is None:
            return None
        column = index.column()
        if role == Role.DisplayRole:
            return self._text(way, column)
        if role == Role.ToolTipRole:
            return self.detail(index.row())
        if role == Role.ForegroundRole:
            return QBrush(self.colours.pick("muted")) if way.plan is None else None
        if role == Role.TextAlignmentRole:
            return _side(column)
        return self._verdict(way, role) if column == HEADROOM else None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Role.TextAlignmentRole:
            return _side(section)
        names = (self.tr("One change alone"), self.tr("From → to"), self.tr("Headroom then"))
        return names[section] if role == Role.DisplayRole else None

    def _text(self, way: Way, column: int) -> str:
        return (title(way), amount_text(way, self._units), headroom_text(way))[column]

    def _verdict(self, way: Way, role: int) -> object:
        # The amounts sought end a hair above 3 dB, so none of them reads as less.
        verdict = verdict_of(way.headroom_db)
        if role == Role.DecorationRole:
            return self._icons.get(verdict)
        if role == Role.AccessibleTextRole:
            return f"{headroom_text(way)}, {verdict_word(verdict)}"
        return None


def _side(column: int) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if column == AMOUNT else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter
