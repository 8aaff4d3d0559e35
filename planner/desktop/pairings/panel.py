"""Every pairing: the grid with what is wanted above it and what is read below it."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QModelIndex, QSize
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QProgressBar, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.background import LateAnswer
from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.catalogue.words import cable_words
from planner.desktop.document import PlanDocument
from planner.desktop.pairings.answer import Answer, find
from planner.desktop.pairings.bar import PairsBar, SideBar
from planner.desktop.pairings.files import PairsFiles
from planner.desktop.pairings.grid import PairsTable
from planner.desktop.pairings.legend import Legend
from planner.desktop.pairings.making import candidates_of, with_pair
from planner.desktop.pairings.model import PairsModel
from planner.desktop.pairings.offers import Offer, offered_amplifiers, offered_loudspeakers
from planner.desktop.pairings.reading import ReadingLine
from planner.desktop.settings import settings
from planner.desktop.window.findings import finding_text
from planner.plan.amplifier import Amplifier
from planner.plan.loudspeaker import Loudspeaker

__all__ = ["PairingsPanel"]

Offers = tuple[tuple[Offer[Loudspeaker], ...], tuple[Offer[Amplifier], ...]]
PROGRESS_PX = 4


class PairingsPanel(QWidget):
    """Every loudspeaker with every amplifier, of the catalogue and of the plan, in this room.

    The pairs are worked out beside the window once the plan rests, and greyed meanwhile. A click, or Return,
    makes one a candidate as one undoable step and looks at it; a pair that is one already is looked at.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._offered: tuple[object, Offers] | None = None
        self._shown: tuple[object, ...] = ()
        self._met = False
        self.setAccessibleName(self.tr("Every pairing"))
        self.bar = PairsBar()
        self.model = PairsModel(self)
        self.table = PairsTable(self.model, self)
        self.legend = Legend()
        self.nothing = QLabel()
        self.nothing.setWordWrap(True)
        self.progress = _progress(self.tr("Working out every pair"))
        self.reading = ReadingLine()
        self.files = PairsFiles(self, document, self.model)
        self._lay_out()
        self._late = LateAnswer(document, self._subject, find, self)
        self._connect()
        self._late.shown_by(self)

    def _lay_out(self) -> None:
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addWidget(self.bar)
        lines.addWidget(self.legend)
        lines.addWidget(self.progress)
        lines.addWidget(self.table, 1)
        lines.addWidget(self.nothing, 1)
        lines.addWidget(self.reading)

    def _connect(self) -> None:
        self._late.changed.connect(self.refresh)
        # Which pairs are candidates may change while the answer stays as it is.
        self._document.edited.connect(self._follow)
        self._document.chosen.connect(self._follow)
        settings().units_changed.connect(self._follow)
        catalogue_store().changed.connect(self._late.look)
        self.bar.changed.connect(self.refresh)
        self.table.looked.connect(self._read)
        self.table.wanted.connect(self._make)
        self.table.copied.connect(self.files.copy)
        self.table.amplifier_pressed.connect(self._sort_loudspeakers)
        self.table.loudspeaker_pressed.connect(self._sort_amplifiers)
        self.reading.make_button.clicked.connect(self._make_current)
        self.reading.copy_button.clicked.connect(self.files.copy)
        self.reading.save_button.clicked.connect(self.files.ask_where)
        self.files.told.connect(self.reading.say)

    # What is asked, and the answer.

    def _offers(self) -> Offers:
        """What can be paired now."""
        catalogue, candidates = catalogue_store().catalogue, self._document.plan.candidates
        about = catalogue, candidates
        if self._offered is None or self._offered[0] != about:
            made = offered_loudspeakers(catalogue, candidates), offered_amplifiers(catalogue, candidates)
            self._offered = about, made
        return self._offered[1]

    def _subject(self) -> tuple[Any, ...]:
        """The room and the question without what else the plan says, the cable, and what can be paired."""
        plan = self._document.plan
        cable = plan.candidates[self._document.candidate].cable
        asked = plan.model_copy(update={"title": "", "notes": None, "candidates": (), "tolerances": None})
        return (asked, cable, *self._offers())

    def refresh(self) -> None:
        """Show the newest answer as it is wanted."""
        answer: Answer | None = self._late.value
        self.progress.setVisible(self._late.busy)
        self.progress.setValue(round(100.0 * self._late.share))
        if answer is not None:
            self.bar.offer_seats(answer.seats)
        wanted, fresh = self.bar.wanted, self._late.fresh
        made = {} if answer is None else self._made(answer)
        look = (answer, wanted, made, fresh, self._meaning())
        if look != self._shown:
            self._shown = look
            keys = self.table.keys
            self.table.delegate.stale, self.table.delegate.only_clear = not fresh, wanted.only_clear
            self.model.show_pairs(answer, wanted, made)
            self.table.span_reasons()
            self.table.mark_orders(wanted.amplifier_order.other, wanted.loudspeaker_order.other)
            self.table.choose(keys)
            self.legend.show_counts(self.model.counts(), len(made), self._meaning())
        self._show_or_explain(answer, fresh)
        self.table.viewport().update()
        self._read()

    def _follow(self) -> None:
        if self.isVisible():
            self.refresh()

    def _made(self, answer: Answer) -> dict[tuple[str, str], int]:
        document = self._document
        return candidates_of(document.plan, document.candidate, answer.loudspeakers, answer.amplifiers)

    def _show_or_explain(self, answer: Answer | None, fresh: bool) -> None:
        """Show the grid, or say why there is none."""
        if answer is None:
            text = self.tr("Working out every pair…")
        elif answer.findings and fresh:
            found = "\n".join(finding_text(one, self._document.plan) for one in answer.findings)
            text = self.tr("Room, seats and stands contradict one another:\n{0}").format(found)
        elif not self.model.rowCount():
            text = self.tr("No pair is all of that. Ask for less above.")
        else:
            text = ""
        if not text and not self._met:
            # Before the first answer there was nothing but the fields that could have the focus.
            self._met = True
            self.table.setVisible(True)
            self.table.setFocus()
        self.nothing.setText(text)
        self.nothing.setVisible(bool(text))
        self.table.setVisible(not text)

    def _meaning(self) -> str:
        """What the figures are, and what all pairs have in common."""
        like = self._document.plan.candidates[self._document.candidate]
        text = self.tr(
            "Headroom in dB; below it the watts that peaks ask, or “loudspeaker” where that "
            "gives out first; {0}."
        )
        words = self.tr("no cable")
        if like.cable is not None:
            words = self.tr("cable {0}").format(cable_words(like.cable, settings().units))
        if like.stands is not None:
            words = self.tr("{0}, on the plan’s stands").format(words)
        return text.format(words)

    # What a person does.

    def _read(self) -> None:
        """Say what comes of the pair under the pointer, or in the frame."""
        index = self.table.read
        self.reading.offer(possible=False, there=False)
        for button in (self.reading.copy_button, self.reading.save_button):
            button.setEnabled(self.model.rowCount() > 0)
        if not index.isValid():
            self.reading.say("")
            return
        row, column = index.row(), index.column()
        why_not = self.model.why_not(row, column)
        verdict = "" if why_not else self.model.pair(row, column).verdict
        self.reading.say(self.model.sentence(row, column), verdict)
        there = self.model.candidate(row, column) is not None
        self.reading.offer(possible=not why_not, there=there)

    def _make_current(self) -> None:
        self._make(self.table.currentIndex())

    def _make(self, index: QModelIndex) -> None:
        """Make a pair a candidate and look at it, or look at it if it is one."""
        row, column = index.row(), index.column()
        if not index.isValid() or self.model.why_not(row, column):
            return
        document, there = self._document, self.model.candidate(row, column)
        if there is not None:
            document.choose(candidate=there)
            return
        loudspeaker, amplifier = self.model.loudspeaker(row), self.model.amplifier(column)
        after = with_pair(document.plan, document.candidate, loudspeaker, amplifier)
        document.close_gesture()
        document.replace(after, self.tr("Add {0}").format(after.candidates[-1].name))
        document.close_gesture()
        document.choose(candidate=len(after.candidates) - 1)

    def _sort_loudspeakers(self, column: int) -> None:
        self._sort(self.bar.loudspeakers, self.model.amplifier(column))

    def _sort_amplifiers(self, row: int) -> None:
        self._sort(self.bar.amplifiers, self.model.loudspeaker(row))

    def _sort(self, side: SideBar, other: Offer) -> None:
        side.sort_with(other.key, other.name)

    def sizeHint(self) -> QSize:
        return self.table.sizeHint() + QSize(0, 140)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        catalogue_store().refresh()
        self._late.look()
        self.refresh()


def _progress(name: str) -> QProgressBar:
    """A thin bar that keeps its place while there is nothing to wait for."""
    bar = QProgressBar()
    bar.setAccessibleName(name)
    bar.setTextVisible(False)
    policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    policy.setRetainSizeWhenHidden(True)
    bar.setSizePolicy(policy)
    bar.setFixedHeight(PROGRESS_PX)
    bar.hide()
    return bar
