"""The grid of pairs: arrow keys read, a click or Return makes a candidate."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QMenu, QTableView, QWidget

from planner.desktop.pairings.cells import PairDelegate, cell_size
from planner.desktop.pairings.heads import AmplifierHead, LoudspeakerHead, label_corner
from planner.desktop.pairings.model import Keys, PairsModel

__all__ = ["PairsTable"]

SHEET = "QTableView { outline: 0; } QTableView::item { padding: 0; }"


class PairsTable(QTableView):
    """``looked`` tells that another pair is read, ``wanted`` that one is to be a candidate.

    ``loudspeaker_pressed`` and ``amplifier_pressed`` bring the row or column whose name was pressed.
    """

    looked = Signal()
    wanted = Signal(QModelIndex)
    copied = Signal()
    loudspeaker_pressed = Signal(int)
    amplifier_pressed = Signal(int)

    def __init__(self, model: PairsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self._hovered = QModelIndex()
        self.delegate = PairDelegate(self)
        self.setModel(model)
        self.setAccessibleName(self.tr("Every pairing"))
        self.setItemDelegate(self.delegate)
        self.setStyleSheet(SHEET)
        self.setHorizontalHeader(AmplifierHead(self))
        self.setVerticalHeader(LoudspeakerHead(self))
        label_corner(self)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setMouseTracking(True)
        self.entered.connect(self._hover)
        self.clicked.connect(self.wanted)
        self.horizontalHeader().sectionClicked.connect(self.amplifier_pressed)
        self.verticalHeader().sectionClicked.connect(self.loudspeaker_pressed)
        self.selectionModel().currentChanged.connect(self._move)
        model.modelAboutToBeReset.connect(self._forget)
        self._refont()

    @property
    def read(self) -> QModelIndex:
        """The cell that is read: the one under the pointer, or else the one in the frame."""
        hovered = self._hovered
        return hovered if hovered.isValid() else self.currentIndex()

    @property
    def keys(self) -> Keys | None:
        """The pair in the frame."""
        index = self.currentIndex()
        return self._model.keys(index) if index.isValid() else None

    def choose(self, keys: Keys | None) -> None:
        """Put the frame on a pair, or on the first where that is not shown."""
        index = QModelIndex() if keys is None else self._model.place_of(keys)
        if not index.isValid() and self._model.rowCount():
            index = self._model.index(0, 0)
        self.setCurrentIndex(index)

    def span_reasons(self) -> None:
        """Give a row that cannot take part one wide cell, to say why."""
        self.clearSpans()
        if self._model.columnCount() > 1:
            for row in range(self._model.rowCount()):
                if self._model.loudspeaker_reason(row):
                    self.setSpan(row, 0, 1, self._model.columnCount())

    def mark_orders(self, loudspeaker_key: str, amplifier_key: str) -> None:
        """Mark the loudspeaker that columns are sorted by, and the amplifier that rows are."""
        for head, key in ((self.verticalHeader(), loudspeaker_key), (self.horizontalHeader(), amplifier_key)):
            head.sorted_by = key
            head.viewport().update()

    def _hover(self, index: QModelIndex) -> None:
        self._hovered = index
        self.looked.emit()

    def _forget(self) -> None:
        self._hovered = QModelIndex()

    def _move(self) -> None:
        self._hovered = QModelIndex()
        for head in (self.verticalHeader(), self.horizontalHeader()):
            head.viewport().update()
        self.looked.emit()

    def _refont(self) -> None:
        size = cell_size(self.font())
        self.horizontalHeader().setDefaultSectionSize(size.width())
        self.verticalHeader().setDefaultSectionSize(size.height())

    def sizeHint(self) -> QSize:
        size = cell_size(self.font())
        heads = self.verticalHeader().sizeHint().width(), self.horizontalHeader().sizeHint().height()
        return QSize(heads[0] + 9 * size.width(), heads[1] + 12 * size.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        index = self.currentIndex()
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and index.isValid():
            self.wanted.emit(index)
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        by_key = event.reason() is QContextMenuEvent.Reason.Keyboard
        index = self.currentIndex() if by_key else self.indexAt(event.pos())
        if index.isValid():
            self.setCurrentIndex(index)
            menu = self.made_menu(index)
            at = self.visualRect(index).center() if by_key else event.pos()
            menu.popup(self.viewport().mapToGlobal(at))

    def made_menu(self, index: QModelIndex) -> QMenu:
        """What can be done with a pair, for those who do not press names."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        row, column = index.row(), index.column()
        loudspeaker = self._model.loudspeaker(row).name.replace("&", "&&")
        amplifier = self._model.amplifier(column).name.replace("&", "&&")
        make = menu.addAction(self.tr("&Make It a Candidate"), self._want_current)
        make.setEnabled(not self._model.why_not(row, column))
        menu.addSeparator()
        by_amplifier = self.tr("Sort Loudspeakers by Headroom with {0}").format(amplifier)
        menu.addAction(by_amplifier, self._press_amplifier)
        by_loudspeaker = self.tr("Sort Amplifiers by Headroom with {0}").format(loudspeaker)
        menu.addAction(by_loudspeaker, self._press_loudspeaker)
        menu.addSeparator()
        menu.addAction(self.tr("&Copy the Grid"), self.copied.emit)
        return menu

    def _want_current(self) -> None:
        self.wanted.emit(self.currentIndex())

    def _press_amplifier(self) -> None:
        self.amplifier_pressed.emit(self.currentIndex().column())

    def _press_loudspeaker(self) -> None:
        self.loudspeaker_pressed.emit(self.currentIndex().row())

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._hover(QModelIndex())

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self.delegate.dress()
        return super().event(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self.delegate.dress()
            self._refont()
