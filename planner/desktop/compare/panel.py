"""Candidates side by side: a table, and their curves laid over one another."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSplitter, QToolButton, QVBoxLayout, QWidget

from planner.desktop.background import LateAnswer
from planner.desktop.compare.commands import Candidates
from planner.desktop.compare.curves import CompareCurves
from planner.desktop.compare.model import CompareModel
from planner.desktop.compare.overlay import Overlay
from planner.desktop.compare.quantities import as_table, quantities
from planner.desktop.compare.rows import Row, answers_to, rows_of
from planner.desktop.compare.table_card import TableCard
from planner.desktop.compare.table_file import TableDialog, copy_table
from planner.desktop.document import PlanDocument
from planner.headroom.answer import Answer
from planner.headroom.outcome import Outcome
from planner.plan import Plan

__all__ = ["ComparePanel"]

TALL_LINES, WIDE_LETTERS = 34, 150


class ComparePanel(QWidget):
    """All candidates of the plan in the same room; a click on a row looks at that candidate.

    Table and curves stand together where there is room for both, else either of them.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._plan: Plan | None = None
        self._outcomes: list[Outcome] = []
        self._slow: tuple[Answer, ...] | None = None
        self._rows: list[Row] = []
        self._curves_alone = self._moved = self._behind = False
        self.setAccessibleName(self.tr("Side by side"))
        self.candidates = Candidates(document, self)
        self.model = CompareModel(self)
        self.card = TableCard(self.model, self.candidates)
        self.curves = CompareCurves()
        self.back = QToolButton()
        self._splitter = QSplitter()
        self._lay_out()
        self._late = LateAnswer(document, self._subject, answers_to, self)
        self._connect()
        self._take_solved()
        self._late.shown_by(self)

    @property
    def table(self) -> Any:
        """The view of the table."""
        return self.card.table

    def _lay_out(self) -> None:
        self.back.setText(self.tr("Show Ta&ble"))
        self.back.setToolTip(self.tr("Show the table of candidates in place of the curves"))
        self.curves.top.addWidget(self.back)
        self._splitter.setChildrenCollapsible(False)
        self._splitter.addWidget(self.card)
        self._splitter.addWidget(self.curves)
        self._splitter.splitterMoved.connect(self._note_move)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self._splitter)
        self._arrange()

    def _connect(self) -> None:
        menu = self.table.menu
        menu.copy_wanted.connect(self._copy)
        menu.save_wanted.connect(self._save)
        menu.prices_wanted.connect(self._refresh)
        self.table.looked_at.connect(self._look_at)
        self.model.renamed.connect(self.candidates.rename)
        self.card.seat_chosen.connect(self._refresh)
        self.card.switch.clicked.connect(self._switch)
        self.back.clicked.connect(self._switch)
        self.curves.turned.connect(self._draw)
        self._late.changed.connect(self._take_slow)
        self._document.solved.connect(self._take_solved)
        self._document.chosen.connect(self._follow)

    def _subject(self) -> tuple[Any, ...] | None:
        return None if self._document.stale else (self._document.shown,)

    def _take_solved(self) -> None:
        # Outcomes lag behind the plan by a turn of the event loop; just now they belong together.
        if not self._document.stale:
            self._plan, self._outcomes = self._document.shown, self._document.outcomes
        elif not self._document.outcomes:
            self._plan = None
        if self._plan is not None:
            self.card.offer_seats([seat.name for seat in self._plan.seats])
        self._slow = self._slow_now()
        self._refresh()

    def _take_slow(self) -> None:
        """Show what has been found beside the window, if it is about what the rows are about."""
        before = self._slow
        self._slow = self._slow_now()
        if self._slow is not before:
            self._show_rows()
            self.table.fit_columns()

    def _slow_now(self) -> tuple[Answer, ...] | None:
        found: tuple[Answer, ...] | None = self._late.value
        return found if self._late.fresh and self._document.shown is self._plan else None

    def _refresh(self) -> None:
        """Show what there is, now or when somebody looks."""
        self._behind = not self.isVisible()
        if self._behind:
            return
        self._show_rows()
        self._draw()

    def _show_rows(self) -> None:
        if self._plan is None:
            self._rows = []
        else:
            self._rows = rows_of(self._plan, self._outcomes, self.card.place, self._slow)
        priced = [row.candidate for row in self._rows] if self.table.menu.prices.isChecked() else ()
        shape = self.model.shape
        self.model.show_rows(self._rows, quantities(priced))
        if self.model.shape != shape:
            self.table.fit_columns()
            self.table.updateGeometry()
            self._arrange()
        stale = self._document.stale
        self.table.setEnabled(not stale)
        self.card.headline.setEnabled(not stale)
        self.card.headline.setText(self._headline())
        self._mark()

    def _headline(self) -> str:
        """Who has the most to spare."""
        if not self._rows:
            return str(self.card.accessibleName())
        if len(self._rows) == 1:
            return self.tr("One candidate; duplicate it, and change the copy, to compare")
        best = max(self._rows, key=lambda row: row.seat.headroom_db)
        clear = sum(row.seat.verdict == "clears" for row in self._rows)
        text = self.tr("{clear} of {all} candidates clear; most headroom: {best} with {headroom} dB")
        if best.seat.headroom_db < 0.0:
            text = self.tr("None of {all} candidates is loud enough; {best} comes closest with {headroom} dB")
        headroom = f"{best.seat.headroom_db:+.1f}".replace("-", "−")
        return text.format(clear=clear, all=len(self._rows), best=best.candidate.name, headroom=headroom)

    def _draw(self) -> None:
        self.curves.show_overlay(self._overlay(), stale=self._document.stale)

    def _overlay(self) -> Overlay | None:
        if not self._rows or self._plan is None:
            return None
        place = self.card.place
        where = self.tr("each candidate at its worst seat")
        if place is not None:
            where = self.tr("at {0}").format(self._rows[0].seat.name)
        return Overlay(
            title=self._plan.title,
            where=where,
            names=tuple(row.candidate.name for row in self._rows),
            seats=tuple(row.seat for row in self._rows),
            chosen=self._document.candidate,
            kind=self.curves.kind,
        )

    def _look_at(self, candidate: int) -> None:
        self._document.choose(candidate=candidate)

    def _follow(self) -> None:
        self._mark()
        self._draw()

    def _mark(self) -> None:
        self.table.look_at(self._document.candidate)
        self.card.refresh()

    def _as_table(self) -> Any:
        overlay = self._overlay()
        settings = "" if overlay is None else "\n".join(filter(None, (overlay.title, overlay.where)))
        return as_table(self._rows, self.model.columns, settings)

    def _copy(self) -> None:
        copy_table(self._as_table())

    def _save(self) -> None:
        TableDialog(self._as_table(), self.tr("candidates"), self).open()

    def _switch(self) -> None:
        self._curves_alone = not self._curves_alone
        self._arrange()
        (self.curves.chooser if self._curves_alone else self.table).setFocus()

    def _arrange(self) -> None:
        """Table over curves in a tall panel, beside them in a wide one, alone in a small one."""
        metrics = self.fontMetrics()
        tall = self.height() >= TALL_LINES * metrics.height()
        both = tall or self.width() >= WIDE_LETTERS * metrics.averageCharWidth()
        self._splitter.setOrientation(Qt.Orientation.Vertical if tall else Qt.Orientation.Horizontal)
        self.card.setVisible(both or not self._curves_alone)
        self.curves.setVisible(both or self._curves_alone)
        for button in (self.card.switch, self.back):
            button.setVisible(not both)
        if not self._moved:
            self._share_room(tall)

    def _share_room(self, tall: bool) -> None:
        """Give the table what it needs in a tall panel, and half in a wide one."""
        whole = (self.height() if tall else self.width()) - self._splitter.handleWidth()
        table = min(self.card.sizeHint().height(), whole // 2) if tall else whole // 2
        self._splitter.setSizes([table, max(whole - table, 0)])

    def _note_move(self) -> None:
        self._moved = True

    def sizeHint(self) -> QSize:
        return QSize(90 * self.fontMetrics().averageCharWidth(), 20 * self.fontMetrics().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._behind:
            self._refresh()
        self._late.look()
