"""Who listens where: the seats, and the stands of the loudspeakers that play to them."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.part import Editor, Rows
from planner.desktop.editors.seats import SeatCard
from planner.desktop.editors.stands import StandsEditor
from planner.desktop.fields import Hint, Place
from planner.plan.reshape import add_seat

__all__ = ["PeopleGroup"]


class PeopleGroup(Editor):
    """Seats above, stands below."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self.seats = Fold(
            document,
            self.tr("Seats"),
            "people/seats",
            self._seats,
            [Place("seats")],
            summary=self._seat_names,
        )
        self.stands = Fold(
            document,
            self.tr("Loudspeaker stands"),
            "people/stands",
            self._stands,
            [Place("stands")],
            summary=self._stand_names,
        )
        for fold in (self.seats, self.stands):
            self.box.addWidget(self.keep(fold))

    def _seats(self) -> Editor:
        return SeatsEditor(self._document)

    def _stands(self) -> Editor:
        return PlanStands(self._document)

    def _seat_names(self) -> str:
        return ", ".join(seat.name for seat in self._document.plan.seats)

    def _stand_names(self) -> str:
        return ", ".join(stand.name for stand in self._document.plan.stands)


class SeatsEditor(Editor):
    """A card for each seat."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self.rows = self.keep(Rows(document, Place("seats"), self._make))
        self.add = QPushButton(self.tr("Add &seat"))
        self.add.clicked.connect(self._add)
        self.box.addWidget(self.rows)
        self.box.addWidget(self.add)

    def _make(self, index: int) -> Editor:
        return SeatCard(self._document, index)

    def _add(self) -> None:
        self.change(add_seat(self._document.plan), self.tr("Add seat"))


class PlanStands(StandsEditor):
    """The stands of the plan, and a word where the candidate that is looked at does not stand on them."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document, Place("stands"))
        self.elsewhere = Hint()
        self.box.insertWidget(0, self.elsewhere)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        candidate = self._document.plan.candidates[self._document.candidate]
        words = self.tr("{0} does not stand here, but in places of its own (see With what).")
        self.elsewhere.say("" if candidate.stands is None else words.format(candidate.name))
