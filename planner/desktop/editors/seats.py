"""One seat as a card; whoever edits it looks at its answer."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.cards import Card, below
from planner.desktop.fields import Place
from planner.plan import Plan
from planner.plan.edit import Path
from planner.plan.reshape import duplicate_seat, move_seat, remove_seat, rename_seat

__all__ = ["SeatCard"]


class SeatCard(Card):
    """A bar at its left marks the seat that verdict and charts show."""

    def __init__(self, document: PlanDocument, index: int) -> None:
        super().__init__(document, Place("seats"), index, rename=_rename)
        self.name.setToolTip(self.tr("Name of the seat; loudspeakers that aim at it follow when it changes"))
        document.chosen.connect(self.update)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._follow_focus)

    def doubled(self) -> Plan:
        return duplicate_seat(self._document.plan, self._index)

    def taken_away(self) -> Plan:
        return remove_seat(self._document.plan, self._index)

    def moved(self, to: int) -> Plan:
        return move_seat(self._document.plan, self._index, to)

    def marked(self) -> bool:
        return self._document.seat == self._index

    def _follow_focus(self, before: QWidget | None, now: QWidget | None) -> None:
        if now is not None and below(now, self):
            self._document.choose(seat=self._index)


def _rename(plan: Plan, path: Path, name: str) -> Plan:
    return rename_seat(plan, int(path[1]), name)
