"""A table whose rows are chosen as wholes, quietly enough that marks and muted words stay legible."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, QEvent, QItemSelectionModel, QModelIndex, Qt
from PySide6.QtGui import QColor, QFocusEvent, QGuiApplication
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from planner.desktop.theme import Colours, colours_of

__all__ = ["RowTable", "blended"]

CHOSEN_SHARE = 0.22
SHEET = """
QTableView {{ selection-background-color: {chosen}; selection-color: {ink}; }}
QTableView::item {{ padding: 0 4px; }}
"""


class RowTable(QTableView):
    """One row is chosen at a time, by pointer or arrow keys; Tab leaves the table."""

    sheet = SHEET

    def __init__(self, model: QAbstractItemModel, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._dressed: Colours | None = None
        self.setModel(model)
        self.setAccessibleName(name)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        self._refont()
        self._dress()

    def _refont(self) -> None:
        self.verticalHeader().setDefaultSectionSize(round(1.75 * self.fontMetrics().height()))

    def _dress(self) -> None:
        # A palette of its own would be lost whenever the program is dressed anew; a sheet of its own stays.
        # While a sheet is being put on, the table's palette is neither the old nor the new one.
        colours = colours_of(QGuiApplication.palette())
        if colours != self._dressed:
            self._dressed = colours
            chosen = blended(colours.pick("accent"), colours.pick("surface"), CHOSEN_SHARE)
            self.setStyleSheet(self.sheet.format(chosen=chosen.name(), ink=colours.ink, rule=colours.rule))

    @property
    def content_px(self) -> int:
        """How tall the table is with all its rows."""
        rows = self.model().rowCount() * self.verticalHeader().defaultSectionSize()
        heads = max(self.horizontalHeader().height(), self.horizontalHeader().sizeHint().height())
        return heads + rows + 2 * self.frameWidth()

    def chosen_row(self) -> int:
        """The row that is chosen, −1 for none."""
        rows = self.selectionModel().selectedRows()
        return rows[0].row() if rows else -1

    def choose_none(self) -> None:
        """Choose no row."""
        self.selectionModel().setCurrentIndex(QModelIndex(), QItemSelectionModel.SelectionFlag.Clear)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if self.chosen_row() < 0:
            # Qt makes the first row the current one without choosing it, and the next key would pass it by.
            self.choose_none()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
        elif event.type() == QEvent.Type.PaletteChange:
            self._dress()


def blended(over: QColor, under: QColor, share: float) -> QColor:
    """A colour laid over another so thinly that only a share of it is seen."""
    pairs = ((over.redF(), under.redF()), (over.greenF(), under.greenF()), (over.blueF(), under.blueF()))
    return QColor.fromRgbF(*(share * one + (1.0 - share) * other for one, other in pairs))
