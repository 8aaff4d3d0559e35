"""A list to search in, with the curve of the entry looked at: for materials and furnishings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit, QListView, QPushButton, QVBoxLayout, QWidget

from planner.acoustics.bands import OCTAVE_KEYS
from planner.desktop.fields import CurveSketch, Hint, Scale, Trace
from planner.resources import OCTAVES

__all__ = ["Entry", "Picker"]

OCTAVES_HZ = np.array([OCTAVE_KEYS[octave] for octave in OCTAVES])
AnyIndex = QModelIndex | QPersistentModelIndex
MOVES = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
WIDTH_LETTERS, HEIGHT_LINES = 58, 34
ROW_PX = 7


class Entry(NamedTuple):
    """Something to pick: its key, group and words, its values by octave and their unit, and who says so."""

    key: str
    group: str
    words: str
    values: tuple[float, ...]
    unit: str
    source: str


class _Found(QAbstractListModel):
    """The entries that match what is searched for, under the names of their groups."""

    def __init__(self, entries: Sequence[Entry], parent: QObject) -> None:
        super().__init__(parent)
        self._all = tuple(entries)
        self._rows: list[Entry | str] = []
        self.search("")

    def search(self, text: str) -> None:
        """Keep the entries that hold each of the words, in whatever order and letters."""
        words = text.casefold().split()
        self.beginResetModel()
        self._rows = []
        group = ""
        for entry in self._all:
            if all(word in f"{entry.words} {entry.group} {entry.key}".casefold() for word in words):
                if entry.group != group:
                    group = entry.group
                    self._rows.append(group)
                self._rows.append(entry)
        self.endResetModel()

    def entry(self, row: int) -> Entry | None:
        """The entry in a row; None for a group or no row."""
        found = self._rows[row] if 0 <= row < len(self._rows) else None
        return found if isinstance(found, Entry) else None

    def row_of(self, key: str) -> int:
        """The row of a key, else that of the first entry, else -1."""
        entries = [(row, one) for row, one in enumerate(self._rows) if isinstance(one, Entry)]
        return next((row for row, one in entries if one.key == key), entries[0][0] if entries else -1)

    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return len(self._rows)

    def flags(self, index: AnyIndex) -> Qt.ItemFlag:
        if self.entry(index.row()) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self._rows[index.row()]
        if role == Qt.ItemDataRole.FontRole and isinstance(row, str):
            font = QFont()
            font.setWeight(QFont.Weight.DemiBold)
            return font
        if role == Qt.ItemDataRole.SizeHintRole:
            return QSize(0, QFontMetrics(QApplication.font()).height() + ROW_PX)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return row if isinstance(row, str) else row.words
        return None


class Picker(QDialog):
    """Type to search, go up and down, Return picks, Esc closes; nothing is changed before."""

    picked = Signal(str)
    own_wanted = Signal(str)

    def __init__(self, title: str, entries: Sequence[Entry], chosen: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._found = _Found(entries, self)
        self.search = QLineEdit(placeholderText=self.tr("Search"))
        self.search.setAccessibleName(self.tr("Search"))
        self.search.setClearButtonEnabled(True)
        self.list = QListView()
        self.list.setAccessibleName(title)
        self.list.setModel(self._found)
        self.list.setUniformItemSizes(True)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.sketch = CurveSketch(self.tr("Absorption by octave"), OCTAVES_HZ.tolist(), OCTAVES)
        self.words, self.source = Hint(), Hint()
        self.words.setForegroundRole(self.foregroundRole())
        self.own = QPushButton(self.tr("&Describe my own, beginning from this one"))
        self.own.setAutoDefault(False)
        self.take = QPushButton(self.tr("&Take this one"))
        self.take.setDefault(True)
        self._lay_out()
        self.search.textChanged.connect(self._search)
        self.search.installEventFilter(self)
        self.list.selectionModel().currentChanged.connect(self._look)
        self.list.activated.connect(self._pick)
        self.take.clicked.connect(self._pick)
        self.own.clicked.connect(self._own)
        self._select(chosen)

    def _lay_out(self) -> None:
        lines = QVBoxLayout(self)
        lines.setContentsMargins(10, 10, 10, 10)
        lines.setSpacing(6)
        for widget in (self.search, self.list, self.words, self.sketch, self.source, self.own, self.take):
            lines.addWidget(widget, 1 if widget is self.list else 0)
        metrics = self.fontMetrics()
        self.resize(metrics.averageCharWidth() * WIDTH_LETTERS, metrics.lineSpacing() * HEIGHT_LINES)

    @property
    def looked_at(self) -> Entry | None:
        """The entry that Return would pick."""
        return self._found.entry(self.list.currentIndex().row())

    def _search(self, text: str) -> None:
        before = self.looked_at
        self._found.search(text)
        self._select(before.key if before is not None else "")

    def _select(self, key: str) -> None:
        index = self._found.index(self._found.row_of(key))
        self.list.setCurrentIndex(index)
        self.list.scrollTo(index, QListView.ScrollHint.PositionAtCenter)
        self._look()

    def _look(self) -> None:
        entry = self.looked_at
        self.take.setEnabled(entry is not None)
        self.own.setEnabled(entry is not None)
        if entry is None:
            self.words.setText(self.tr("Nothing of that name"))
            self.source.setText("")
            self.sketch.draw([], _scale_of(1.0, ""))
            return
        self.words.setText(entry.words)
        self.source.setText(self.tr("Source: {0}").format(entry.source))
        trace = Trace(OCTAVES_HZ, np.array(entry.values), dots=True)
        self.sketch.draw([trace], _scale_of(max(entry.values), entry.unit), words=_told(entry))

    def _pick(self) -> None:
        if self.looked_at is not None:
            self.picked.emit(self.looked_at.key)
            self.close()

    def _own(self) -> None:
        if self.looked_at is not None:
            self.own_wanted.emit(self.looked_at.key)
            self.close()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        pressed = watched is self.search and event.type() == QEvent.Type.KeyPress
        if pressed and isinstance(event, QKeyEvent) and event.key() in MOVES:
            self.list.keyPressEvent(event)
            return True
        return super().eventFilter(watched, event)


def _scale_of(most: float, unit: str) -> Scale:
    """A scale to 1, or to twice that and so on where values are larger."""
    top = 1.0
    while top < most:
        top *= 2.0
    return Scale(0.0, top, (0.0, top / 2.0, top), unit)


def _told(entry: Entry) -> str:
    pairs = zip(OCTAVES, entry.values, strict=True)
    return ", ".join(f"{octave} Hz: {value:g} {entry.unit}".strip() for octave, value in pairs)
