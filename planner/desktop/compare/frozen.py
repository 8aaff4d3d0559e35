"""The first column of a table, standing still while the others are scrolled by below it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView

from planner.desktop.row_table import RowTable

__all__ = ["FrozenColumn"]

ASCENDING, DESCENDING = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
OFF = Qt.ScrollBarPolicy.ScrollBarAlwaysOff


class FrozenColumn(RowTable):
    """Lies over the first column of *table* and shares what is chosen there; the keys stay with the table."""

    sheet = (
        RowTable.sheet + "QTableView {{ border: none; border-radius: 0; border-right: 1px solid {rule}; }}"
    )

    def __init__(self, table: RowTable) -> None:
        super().__init__(table.model(), table.accessibleName(), table)
        self._table = table
        self.setSelectionModel(table.selectionModel())
        self.setEditTriggers(QAbstractItemView.EditTrigger.DoubleClicked)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFocusProxy(table)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(OFF)
        self.setVerticalScrollBarPolicy(OFF)
        self.setVerticalScrollMode(table.verticalScrollMode())
        heads = self.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        heads.setSectionsClickable(True)
        heads.sectionClicked.connect(self._sort)
        table.horizontalHeader().sectionResized.connect(self.settle)
        table.horizontalHeader().sortIndicatorChanged.connect(self._show_order)
        table.verticalScrollBar().valueChanged.connect(self.verticalScrollBar().setValue)
        self.verticalScrollBar().valueChanged.connect(table.verticalScrollBar().setValue)
        self.model().modelReset.connect(self.settle)
        self.settle()

    def settle(self) -> None:
        """Lie exactly over the first column, as wide and as tall as it is seen."""
        table = self._table
        for column in range(1, self.model().columnCount()):
            self.setColumnHidden(column, True)
        width, heads = table.columnWidth(0), table.horizontalHeader()
        self.setColumnWidth(0, width)
        self.horizontalHeader().setFixedHeight(heads.height())
        edge = table.frameWidth()
        self.setGeometry(edge, edge, width, heads.height() + table.viewport().height())
        self.raise_()

    def _sort(self) -> None:
        """Order by names, the other way about, or as in the plan, in turn."""
        heads = self._table.horizontalHeader()
        here, order = heads.sortIndicatorSection(), heads.sortIndicatorOrder()
        if here != 0:
            heads.setSortIndicator(0, ASCENDING)
        elif order == ASCENDING:
            heads.setSortIndicator(0, DESCENDING)
        else:
            heads.setSortIndicator(-1, ASCENDING)

    def _show_order(self, section: int, order: Qt.SortOrder) -> None:
        heads = self.horizontalHeader()
        heads.setSortIndicatorShown(section == 0)
        heads.setSortIndicator(0 if section == 0 else -1, order)
