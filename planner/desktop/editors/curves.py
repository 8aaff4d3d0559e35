"""Tables of values over frequency: cells typed in any unit, rows kept in order, pasted from elsewhere."""

from __future__ import annotations

import re
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QWheelEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, row_of
from planner.desktop.fields import MarkButton, Note, Place, Reading
from planner.desktop.fields.bound import Bound, in_sentence
from planner.desktop.fields.specs import curve_of
from planner.desktop.settings import settings
from planner.plan import get
from planner.plan.fields import Spec
from planner.plan.units import UnitsError
from planner.report.language import tr

__all__ = ["CurveTable"]

AnyIndex = QModelIndex | QPersistentModelIndex
Row = tuple[float, ...]
VISIBLE_ROWS = 6
EDIT_TRIGGERS = (
    QAbstractItemView.EditTrigger.DoubleClicked
    | QAbstractItemView.EditTrigger.SelectedClicked
    | QAbstractItemView.EditTrigger.EditKeyPressed
    | QAbstractItemView.EditTrigger.AnyKeyPressed
)
NEXT_RATIO = 2.0
_SEPARATORS = re.compile(r"[\t;]|,\s+|\s{2,}|\s(?=[-+\u2212]?[0-9.,])")


class CurveTable(Editor):
    """A table of the plan with a button to add a row, one to take rows away and one to paste."""

    def __init__(self, document: PlanDocument, place: Place, name: str) -> None:
        super().__init__(document)
        self.model = _CurveModel(document, place, name, self)
        self.view = _View(self.model, name)
        add = MarkButton("add", self.tr("Add a row below"))
        add.clicked.connect(self._add)
        self.remove = MarkButton("remove", self.tr("Take the chosen rows away (Delete)"))
        self.remove.clicked.connect(self.take_away)
        paste = MarkButton("paste", self.tr("Paste rows from the clipboard (Ctrl+V)"))
        paste.clicked.connect(self.paste)
        self.view.delete_wanted.connect(self.take_away)
        self.view.paste_wanted.connect(self.paste)
        line = row_of(QWidget(), add, paste, self.remove)
        line.setSpacing(1)
        self.box.setSpacing(2)
        self.box.addWidget(self.view)
        self.box.addLayout(line)
        note = Note(place)
        note.watch(self.model)
        self.box.addWidget(note)
        self.pull()

    def pull(self) -> None:
        self.model.pull()
        self.remove.setEnabled(self.model.rowCount() > 1)
        self.view.fit()

    def _add(self) -> None:
        row = self.view.currentIndex().row()
        self.model.add_below(row if row >= 0 else self.model.rowCount() - 1)

    def take_away(self) -> None:
        """Take the chosen rows away; the last one stays."""
        self.model.take_away({index.row() for index in self.view.selectionModel().selectedIndexes()})

    def paste(self) -> None:
        """Replace the table by rows of the clipboard, parted by tabs, semicolons or spaces."""
        self.model.paste(QGuiApplication.clipboard().text())


class _CurveModel(QAbstractTableModel, Bound):
    """The rows of a table of the plan; each cell changed is an undoable step."""

    fault_changed = Signal()

    def __init__(self, document: PlanDocument, place: Place, name: str, parent: QObject) -> None:
        super().__init__(parent)
        self.bind(document, place, name)
        curve = curve_of(type(get(document.plan, place.path[:-1])), str(place.path[-1]))
        self.readings = [Reading(spec, spec.unit) for spec in (curve.first, *curve.columns)]
        self._rows: tuple[Row, ...] = ()
        settings().units_changed.connect(self.show_stored)

    def _show(self, value: Any) -> None:
        self.beginResetModel()
        self._rows = value or ()
        self.endResetModel()

    def _spec(self, column: int) -> Spec:
        return self.readings[column].spec

    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return len(self._rows)

    def columnCount(self, parent: AnyIndex | None = None) -> int:
        return len(self.readings)

    def flags(self, index: AnyIndex) -> Qt.ItemFlag:
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEditable

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if role == Qt.ItemDataRole.DisplayRole and way == Qt.Orientation.Horizontal:
            return tr(self._spec(section).label)
        return None

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        reading, value = self.readings[index.column()], self._rows[index.row()][index.column()]
        units = settings().units
        if role == Qt.ItemDataRole.DisplayRole:
            return reading.text(value, units)
        if role == Qt.ItemDataRole.EditRole:
            return reading.full(value, units)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{tr(reading.spec.label)}: {reading.range_text(units)}"
        return None

    def setData(self, index: AnyIndex, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        row, column = index.row(), index.column()
        try:
            number = self.readings[column].read(str(value), settings().units)
        except UnitsError as refusal:
            self.set_fault(str(refusal))
            return False
        changed = (*self._rows[row][:column], number, *self._rows[row][column + 1 :])
        return self._take([*self._rows[:row], changed, *self._rows[row + 1 :]])

    def add_below(self, row: int) -> None:
        """Add a row half way to the next one, or an octave above the last."""
        here = self._rows[row]
        if row + 1 < len(self._rows):
            above = self._rows[row + 1]
            hertz = (here[0] * above[0]) ** 0.5
            values = tuple((one + other) / 2.0 for one, other in zip(here[1:], above[1:], strict=True))
        else:
            hertz, values = here[0] * NEXT_RATIO, here[1:]
        self._take([*self._rows, (float(f"{hertz:.4g}"), *values)])

    def take_away(self, rows: set[int]) -> None:
        """Take rows away, but never the last one."""
        kept = [one for number, one in enumerate(self._rows) if number not in rows]
        if rows and kept:
            self._take(kept)

    def paste(self, text: str) -> None:
        """Replace all rows by those of a text; lines that begin with no number are left out."""
        try:
            rows = [self._read_line(line) for line in text.splitlines() if _opens_with_a_number(line)]
        except UnitsError as refusal:
            self.set_fault(str(refusal))
            return
        if rows:
            self._take(rows)
        else:
            self.set_fault(tr("the clipboard holds no rows of numbers"))

    def _read_line(self, line: str) -> Row:
        pieces = [piece for piece in _SEPARATORS.split(line.strip()) if piece]
        if len(pieces) == 1 and line.count(",") == len(self.readings) - 1:
            pieces = line.strip().split(",")
        if len(pieces) != len(self.readings):
            names = ", ".join(in_sentence(tr(reading.spec.label)) for reading in self.readings)
            raise UnitsError(
                tr("“{line}” does not hold these columns: {names}", line=line.strip(), names=names)
            )
        units = settings().units
        return tuple(reading.read(piece, units) for reading, piece in zip(self.readings, pieces, strict=True))

    def _take(self, rows: list[Row]) -> bool:
        rows.sort(key=lambda row: row[0])
        self._document.close_gesture()
        taken = self.push(tuple(rows))
        self._document.close_gesture()
        return taken


class _View(QTableView):
    """A table a few rows high that the wheel scrolls only while it has the focus."""

    delete_wanted = Signal()
    paste_wanted = Signal()

    def __init__(self, model: _CurveModel, name: str) -> None:
        super().__init__()
        self.setModel(model)
        self.setAccessibleName(name)
        self.setToolTip(self.tr("Type to change a cell; rows are kept in the order of their frequencies"))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setHighlightSections(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setEditTriggers(EDIT_TRIGGERS)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 12)

    def fit(self) -> None:
        """Be as high as the rows are, up to a few."""
        rows = min(self.model().rowCount(), VISIBLE_ROWS)
        height = (
            self.verticalHeader().defaultSectionSize() * rows + self.horizontalHeader().sizeHint().height()
        )
        self.setFixedHeight(height + 2 * self.frameWidth() + 2)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Delete):
            self.delete_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste_wanted.emit()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


def _opens_with_a_number(line: str) -> bool:
    return re.match(r"\s*[-+\u2212]?[.,]?[0-9]", line) is not None
