"""Where the chosen entry goes, and what the plan answers: the line below the list."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from planner.desktop.catalogue.putting import PutPlace, places_for
from planner.desktop.charts.seat_panel import signed
from planner.desktop.document import PlanDocument
from planner.desktop.theme import colours_of, verdict_icon, verdict_word
from planner.desktop.window.chooser import Chooser
from planner.headroom.outcome import SeatOutcome

__all__ = ["TargetLine"]

MARK_PX = 16
MATERIAL_LETTERS = 40


class TargetLine(QWidget):
    """The candidate looked at, the place in it, and its verdict; ``changed`` fires for the first two."""

    changed = Signal()

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._kind = "loudspeaker"
        self._places: list[PutPlace] = []
        self.candidates = Chooser(
            self.tr("Into which candidate"), self.tr("Which candidate gets the entry; it is looked at too")
        )
        self.places = Chooser(self.tr("In which place"), self.tr("What the entry takes the place of"))
        self.into = QLabel(self.tr("I&nto"))
        self.into.setBuddy(self.candidates)
        self.instead = QLabel(self.tr("in place &of"))
        self.instead.setBuddy(self.places)
        self.mark, self.answer = QLabel(), QLabel()
        self.answer.setTextFormat(Qt.TextFormat.PlainText)
        self.answer.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        for widget in (self.into, self.candidates, self.instead, self.places):
            line.addWidget(widget)
        line.addSpacing(12)
        line.addWidget(self.mark)
        line.addWidget(self.answer, 1)
        self.candidates.activated.connect(self._choose)
        self.places.activated.connect(self.changed)
        document.edited.connect(self.refresh)
        document.chosen.connect(self.refresh)
        document.solved.connect(self._tell)
        self.refresh()
        self._tell()

    @property
    def place(self) -> PutPlace | None:
        """The place chosen, or None where there is none."""
        index = self.places.currentIndex()
        return self._places[index] if 0 <= index < len(self._places) else None

    def show_kind(self, kind: str) -> None:
        """Offer the places for entries of a kind."""
        if kind != self._kind:
            self._kind = kind
            self.places.setCurrentIndex(0)
            self.refresh()

    def refresh(self) -> None:
        """Offer what the plan holds now."""
        plan, candidate = self._document.plan, self._document.candidate
        self.candidates.offer([one.name for one in plan.candidates], candidate)
        self._places = places_for(plan, candidate, self._kind)
        kept = max(0, min(self.places.currentIndex(), len(self._places) - 1))
        self.places.offer([one.words for one in self._places], kept if self._places else -1)
        material = self._kind == "material"
        several = len(self._places) > 1
        if material:
            self.places.setMinimumContentsLength(MATERIAL_LETTERS)
        for widget in (self.instead, self.places):
            widget.setVisible(several)
        for widget in (self.into, self.candidates):
            widget.setVisible(not material)
        self.changed.emit()

    def _choose(self, index: int) -> None:
        self._document.choose(candidate=index)

    def _tell(self) -> None:
        """Say the verdict at the seat looked at."""
        seat = self._seat()
        if seat is None:
            self.mark.clear()
            self.answer.setText(self.tr("No answer: the plan contradicts itself, as its window says."))
            return
        icon = verdict_icon(seat.verdict, colours_of(self.palette()), MARK_PX)
        self.mark.setPixmap(icon.pixmap(QSize(MARK_PX, MARK_PX), self.devicePixelRatioF()))
        text = self.tr("{word}: {headroom} dB at {seat}")
        self.answer.setToolTip(self.tr("The headroom of the candidate as the plan has it now"))
        self.answer.setText(
            text.format(word=verdict_word(seat.verdict), headroom=signed(seat.headroom_db), seat=seat.name)
        )

    def _seat(self) -> SeatOutcome | None:
        outcome = self._document.outcome
        if outcome is None or self._document.stale:
            return None
        return outcome.seats[min(self._document.seat, len(outcome.seats) - 1)]

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._tell()
