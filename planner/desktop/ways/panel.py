"""Ways to clear: single changes that would each be enough, to look at and to take."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QHeaderView, QProgressBar, QPushButton, QSizePolicy, QWidget

from planner.desktop.background import LateAnswer
from planner.desktop.card import Card
from planner.desktop.document import PlanDocument
from planner.desktop.fields.form import Hint
from planner.desktop.row_table import RowTable
from planner.desktop.settings import settings
from planner.desktop.theme import colours_of
from planner.desktop.ways.found import Found, amount_text, find, title
from planner.desktop.ways.model import WaysModel
from planner.headroom.ways import Way

__all__ = ["WaysPanel"]


class WaysPanel(Card):
    """The ways to clear the seat looked at; choosing a row previews it, the button applies it.

    They are sought beside the window once the plan rests; rows of an earlier plan are greyed meanwhile.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("WaysPanel", "Ways to clear"), parent)
        self._document = document
        self._shown: tuple[Found | None, object] = (None, None)
        self.model = WaysModel(self)
        self.table = WaysTable(self.model, self)
        self.detail = Hint()
        self.progress = _progress(self.tr("Seeking ways to clear"))
        self.apply_button = QPushButton(self.tr("Appl&y This Change"))
        self.apply_button.setToolTip(self.tr("Put the change into the plan; Undo takes it back"))
        self._lay_out()
        self._late = LateAnswer(document, self._subject, find, self)
        self._late.changed.connect(self._refresh)
        self.table.selectionModel().selectionChanged.connect(self._look_at_row)
        self.table.applied.connect(self._apply)
        self.table.left.connect(self.table.choose_none)
        self.apply_button.clicked.connect(self._apply)
        document.solved.connect(self._follow_preview)
        settings().units_changed.connect(self._refresh)
        self.model.restyle(colours_of(self.palette()))
        self._late.shown_by(self)

    def _lay_out(self) -> None:
        below = QHBoxLayout()
        below.addWidget(self.detail, 1)
        below.addWidget(self.apply_button, 0, Qt.AlignmentFlag.AlignTop)
        self.body.addWidget(self.progress)
        self.body.addWidget(self.table, 1)
        self.body.addLayout(below)
        self.body.addStretch()

    def _subject(self) -> tuple[Any, ...] | None:
        document = self._document
        return None if document.stale else (document.plan, document.candidate, document.seat)

    def _found(self) -> Found | None:
        found: Found | None = self._late.value
        return found

    def _way(self) -> Way | None:
        """The way in the row that is chosen, if it is possible and still holds."""
        way = self.model.way(self.table.chosen_row()) if self._late.fresh else None
        return way if way is not None and way.plan is not None else None

    def _refresh(self) -> None:
        found, fresh, units = self._found(), self._late.fresh, settings().units
        if (found, units) != self._shown:
            self._shown = found, units
            self.model.show_ways(found, units)
        if not fresh:
            self.table.choose_none()
        self.table.setEnabled(fresh)
        self.headline.setEnabled(fresh)
        self.table.setVisible(bool(found is not None and found.ways))
        self.table.setMaximumHeight(self.table.content_px)
        self.headline.setText(self.accessibleName() if found is None else found.headline())
        self.progress.setVisible(self._late.busy)
        self.progress.setValue(round(100.0 * self._late.share))
        self._tell()

    def _tell(self) -> None:
        """Say what the chosen row would do, or what can be done here."""
        found, row = self._found(), self.table.chosen_row()
        if not self._late.fresh:
            text = self.tr("Seeking…") if self._late.busy else self.tr("The plan has no answer yet.")
        elif found is None or not found.ways:
            text = self.tr(
                "Where a seat is tight or short, the single changes that would be enough stand here."
            )
        elif row >= 0:
            text = self.model.detail(row)
        else:
            text = self.tr("Choose a row to see it in the charts; the plan changes only when you apply it.")
        self.detail.say(text)
        self.apply_button.setEnabled(self._way() is not None)
        self.apply_button.setVisible(bool(found is not None and found.ways))

    def _look_at_row(self) -> None:
        way = self._way()
        if way is None:
            self._document.preview(None)
        else:
            self._document.preview(way.plan, f"{title(way)}: {amount_text(way, settings().units)}")
        self._tell()

    def _follow_preview(self) -> None:
        """Let the row go when somebody else has ended its preview."""
        way = self._way()
        if way is not None and self._document.previewed is not way.plan:
            self.table.choose_none()

    def _apply(self) -> None:
        way = self._way()
        if way is not None:
            self._document.preview(way.plan, f"{title(way)}: {amount_text(way, settings().units)}")
            self._document.keep_preview()

    def sizeHint(self) -> QSize:
        letters = self.fontMetrics().averageCharWidth()
        return QSize(70 * letters, 20 * self.fontMetrics().height())

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._late.look()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.model.restyle(colours_of(self.palette()))


class WaysTable(RowTable):
    """Return applies the row that is chosen, Escape lets it go."""

    applied = Signal()
    left = Signal()

    def __init__(self, model: WaysModel, parent: QWidget) -> None:
        super().__init__(model, QCoreApplication.translate("WaysPanel", "Ways to clear"), parent)
        heads = self.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        heads.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.applied.emit()
        elif event.key() == Qt.Key.Key_Escape and self.chosen_row() >= 0:
            self.left.emit()
        else:
            super().keyPressEvent(event)


def _progress(name: str) -> QProgressBar:
    """A thin bar that keeps its place while there is nothing to wait for."""
    bar = QProgressBar()
    bar.setAccessibleName(name)
    bar.setTextVisible(False)
    policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    policy.setRetainSizeWhenHidden(True)
    bar.setSizePolicy(policy)
    bar.setFixedHeight(4)
    bar.hide()
    return bar
