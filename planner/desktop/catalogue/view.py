"""A list of the catalogue's entries to search in, with everything about the one that is chosen beside it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSplitter,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.catalogue.details import EntryDetails
from planner.desktop.catalogue.model import FoundModel
from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.catalogue.wants import WantsBar
from planner.desktop.catalogue.words import kind_title
from planner.desktop.fields import AccessKeys, Hint
from planner.desktop.row_table import RowTable
from planner.desktop.settings import settings
from planner.headroom.catalogue_search import Found, search
from planner.plan.catalogue import KINDS, Entry

__all__ = ["CatalogueView"]

Index = QModelIndex | QPersistentModelIndex
SHARES = (3, 2)


class CatalogueView(QWidget):
    """Tabs of the kinds, what is wanted, the entries that do it, and the details of one.

    ``chosen`` fires when another entry is chosen or its content is another, ``activated`` when Return or a
    double click asks for it.
    """

    chosen = Signal()
    activated = Signal()

    def __init__(
        self, kinds: Sequence[str] = KINDS, taken_keys: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._kinds = tuple(kinds)
        self.tabs = QTabBar()
        self.tabs.setAccessibleName(self.tr("Kinds of entries"))
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        for kind in self._kinds:
            self.tabs.addTab(kind_title(kind))
        self.tabs.setVisible(len(self._kinds) > 1)
        letters = "".join(kind_title(kind).partition("&")[2][:1] for kind in self._kinds)
        self.model = FoundModel(self)
        self.table = EntryTable(self.model, self.tr("Entries"), self)
        self.bar = WantsBar(AccessKeys(letters.upper() + taken_keys), self.table)
        self.details = EntryDetails()
        self.count = Hint()
        self.clear_button = QPushButton(self.tr("Show all"))
        self.clear_button.setToolTip(self.tr("Ask nothing of the entries any more"))
        self._lay_out()
        self.tabs.currentChanged.connect(self._show_kind)
        self.bar.changed.connect(self.refresh)
        self.clear_button.clicked.connect(self.bar.clear)
        self.table.selectionModel().currentRowChanged.connect(self._look)
        self.table.wanted.connect(self._want)
        settings().units_changed.connect(self.refresh)
        catalogue_store().changed.connect(self.refresh)
        self._show_kind()

    @property
    def kind(self) -> str:
        """The kind whose entries are listed."""
        return self._kinds[max(0, self.tabs.currentIndex())]

    @property
    def entry(self) -> Entry | None:
        """The entry that is chosen."""
        found = self.details.found
        return None if found is None else found.entry

    @property
    def listed(self) -> tuple[Entry, ...]:
        """The entries that are listed, in their order."""
        return tuple(one.entry for one in self._found())

    @property
    def is_own(self) -> bool:
        """Whether the entry that is chosen is the user's."""
        return self.entry is not None and catalogue_store().catalogue.is_own(self.entry.id)

    def show_kind(self, kind: str) -> None:
        """List the entries of a kind."""
        self.tabs.setCurrentIndex(self._kinds.index(kind))

    def choose(self, entry_id: str) -> None:
        """Choose an entry, of whatever kind; one that is hidden by what is asked is asked for first."""
        found = next((one for one in catalogue_store().catalogue.entries if one.id == entry_id), None)
        if found is None or found.kind not in self._kinds:
            return
        self.show_kind(found.kind)
        if self.model.row_of(entry_id) < 0:
            self.bar.clear()
        self._choose_row(self.model.row_of(entry_id))

    def refresh(self) -> None:
        """Search again, and keep the entry that was chosen, if it is still among them."""
        before, row = self.entry, self.table.currentIndex().row()
        catalogue, wants, whose = catalogue_store().catalogue, self.bar.wants, self.bar.own_only
        entries = {None: catalogue.entries, False: catalogue.built_in, True: catalogue.own}[whose]
        own = frozenset(one.id for one in catalogue.own)
        self.model.show_found(search(entries, wants), wants, own, settings().units)
        of_kind = len(catalogue.of_kind(self.kind))
        shown = self.model.rowCount()
        self.count.setText(self.tr("{0} of {1} entries").format(shown, of_kind))
        self.clear_button.setEnabled(shown < of_kind)
        kept = -1 if before is None else self.model.row_of(before.id)
        self._choose_row(kept if kept >= 0 else min(max(row, 0), shown - 1))

    def _lay_out(self) -> None:
        below = QHBoxLayout()
        below.addWidget(self.count, 1)
        below.addWidget(self.clear_button)
        left = QWidget()
        lines = QVBoxLayout(left)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addWidget(self.table, 1)
        lines.addLayout(below)
        self.splitter = QSplitter(Qt.Orientation.Horizontal)
        self.splitter.setChildrenCollapsible(False)
        self.splitter.addWidget(left)
        self.splitter.addWidget(self.details)
        for place, share in enumerate(SHARES):
            self.splitter.setStretchFactor(place, share)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(8)
        whole.addWidget(self.tabs)
        whole.addWidget(self.bar)
        whole.addWidget(self.splitter, 1)

    def _found(self) -> list[Found]:
        rows = (self.model.found(row) for row in range(self.model.rowCount()))
        return [one for one in rows if one is not None]

    def _show_kind(self) -> None:
        self.bar.show_kind(self.kind)
        self.refresh()
        self.table.fit()

    def _choose_row(self, row: int) -> None:
        index = self.model.index(row, 0)
        self.table.setCurrentIndex(index)
        self.table.scrollTo(index)
        self._look()

    def _look(self) -> None:
        found = self.model.found(self.table.currentIndex().row())
        own = found is not None and catalogue_store().catalogue.is_own(found.entry.id)
        self.details.show_entry(found, own=own)
        self.chosen.emit()

    def _want(self) -> None:
        if self.entry is not None:
            self.activated.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_F2:
            self.details.edit_name()
        else:
            super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        catalogue_store().refresh()


class EntryTable(RowTable):
    """The entries found; the name takes what room there is."""

    wanted = Signal()

    def __init__(self, model: FoundModel, name: str, parent: QWidget) -> None:
        super().__init__(model, name, parent)
        self.setItemDelegate(_WholeRow(self))
        self.setSortingEnabled(True)
        self.horizontalHeader().setSortIndicatorClearable(True)
        self.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.horizontalHeader().setStretchLastSection(False)
        self.doubleClicked.connect(self.wanted)
        self.fit()

    def fit(self) -> None:
        """Make all columns but the name as wide as what stands in them."""
        heads = self.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        heads.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        heads.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.wanted.emit()
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        letters = self.fontMetrics().averageCharWidth()
        return QSize(96 * letters, 24 * self.fontMetrics().height())


class _WholeRow(QStyledItemDelegate):
    """Draws no frame round one cell of the chosen row: it is chosen as a whole."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        super().initStyleOption(option, index)
        option.state &= ~QStyle.StateFlag.State_HasFocus
