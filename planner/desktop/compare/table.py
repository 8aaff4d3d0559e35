"""The table of candidates: sorted by its heads, looked at by rows, edited by keys."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.compare.commands import Candidates, TableMenu
from planner.desktop.compare.frozen import FrozenColumn
from planner.desktop.compare.model import CompareModel, Sorted
from planner.desktop.row_table import RowTable
from planner.desktop.theme import colours_of

__all__ = ["CompareTable"]

ALT, CTRL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier
NONE, KEYPAD = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier
CHOOSE = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
WIDEST_LETTERS = 30


class CompareTable(RowTable):
    """``looked_at`` tells which candidate a person has chosen, by its number in the plan."""

    looked_at = Signal(int)

    def __init__(self, model: CompareModel, candidates: Candidates, parent: QWidget | None = None) -> None:
        self._sorted = Sorted()
        self._sorted.setSourceModel(model)
        super().__init__(self._sorted, "", parent)
        self._sorted.setParent(self)
        self._model, self._candidates, self._following = model, candidates, False
        self.setAccessibleName(self.tr("Candidates side by side"))
        self.menu = TableMenu(candidates, self)
        self.menu.rename_wanted.connect(self.rename)
        heads = self.horizontalHeader()
        heads.setMaximumSectionSize(WIDEST_LETTERS * self.fontMetrics().averageCharWidth())
        # A third click on a head gives the order of the plan back.
        heads.setSortIndicatorClearable(True)
        heads.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.setSortingEnabled(True)
        model.restyle(colours_of(self.palette()))
        self.frozen = FrozenColumn(self)
        self.selectionModel().currentRowChanged.connect(self._tell)

    def fit_columns(self) -> None:
        """Make every column as wide as its words; not at each change, since figures dance while one drags."""
        self.resizeColumnsToContents()
        self.frozen.settle()

    def look_at(self, candidate: int) -> None:
        """Choose the row of a candidate without telling anybody."""
        index = self._sorted.mapFromSource(self._model.index(candidate, 0))
        if index.isValid() and index.row() != self.currentIndex().row():
            self._following = True
            column = max(self.currentIndex().column(), 0)
            self.selectionModel().setCurrentIndex(index.siblingAtColumn(column), CHOOSE)
            self._following = False

    def rename(self) -> None:
        """Let the name in the chosen row be typed over."""
        if self.currentIndex().isValid():
            self.horizontalScrollBar().setValue(0)
            self.frozen.edit(self.currentIndex().siblingAtColumn(0))

    def _tell(self, now: QModelIndex) -> None:
        if now.isValid() and not self._following:
            self.looked_at.emit(self._sorted.mapToSource(now).row())

    def _does(self, event: QKeyEvent) -> bool:
        """Do what a key means here, if it means anything."""
        modifiers = event.modifiers() & ~KEYPAD
        pressed = (modifiers, Qt.Key(event.key()))
        if event.matches(QKeySequence.StandardKey.Copy):
            self.menu.copy_wanted.emit()
        elif pressed == (NONE, Qt.Key.Key_F2):
            self.rename()
        elif pressed == (NONE, Qt.Key.Key_Delete):
            self._candidates.remove()
        elif pressed == (CTRL, Qt.Key.Key_D):
            self._candidates.duplicate()
        elif modifiers == ALT and event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._candidates.move(-1 if event.key() == Qt.Key.Key_Up else 1)
        else:
            return False
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._does(event):
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        # The window has a Copy of its own on the same keys; while the table has the focus they are its own.
        overriding = isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride
        if overriding and event.matches(QKeySequence.StandardKey.Copy):
            event.accept()
            return True
        return super().event(event)

    def sizeHint(self) -> QSize:
        bar = self.horizontalScrollBar().sizeHint().height()
        return QSize(60 * self.fontMetrics().averageCharWidth(), self.content_px + bar)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.frozen.settle()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self.menu.popup(event.globalPos())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._model.restyle(colours_of(self.palette()))
        elif event.type() == QEvent.Type.FontChange:
            width = WIDEST_LETTERS * self.fontMetrics().averageCharWidth()
            self.horizontalHeader().setMaximumSectionSize(width)
