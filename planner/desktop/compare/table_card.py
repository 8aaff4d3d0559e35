"""The table of candidates on its card, with the seat that is compared and what can be done above it."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QToolButton, QWidget

from planner.desktop.card import Card
from planner.desktop.charts.panel import three_dots
from planner.desktop.compare.commands import Candidates
from planner.desktop.compare.model import CompareModel
from planner.desktop.compare.table import CompareTable
from planner.desktop.fields import MarkButton
from planner.desktop.theme import colours_of
from planner.desktop.window.chooser import Chooser

__all__ = ["TableCard"]


class TableCard(Card):
    """``seat_chosen`` fires when another seat is to be compared."""

    seat_chosen = Signal()

    def __init__(self, model: CompareModel, candidates: Candidates, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("TableCard", "Candidates side by side"), parent)
        self._candidates = candidates
        self.table = CompareTable(model, candidates)
        self.seats = Chooser(
            self.tr("Seat compared"),
            self.tr("At which seat the candidates are compared, here and in the curves"),
        )
        self.duplicate = MarkButton("double", self.tr("Duplicate this candidate (Ctrl+D)"))
        self.up = MarkButton("up", self.tr("Move this candidate up (Alt+Up)"))
        self.down = MarkButton("down", self.tr("Move this candidate down (Alt+Down)"))
        self.remove = MarkButton("remove", self.tr("Remove this candidate (Delete)"))
        self.more = QToolButton()
        self.switch = QToolButton()
        self._lay_out()
        self.seats.activated.connect(self.seat_chosen)
        self.duplicate.clicked.connect(candidates.duplicate)
        self.up.clicked.connect(self._move_up)
        self.down.clicked.connect(self._move_down)
        self.remove.clicked.connect(candidates.remove)

    def _lay_out(self) -> None:
        self.switch.setText(self.tr("Show C&urves"))
        self.switch.setToolTip(self.tr("Show the curves of all candidates in place of the table"))
        self.more.setAutoRaise(True)
        self.more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.more.setMenu(self.table.menu)
        self.more.setAccessibleName(self.table.menu.accessibleName())
        self.more.setToolTip(self.tr("Rename, copy, save, show prices"))
        self._restyle()
        self.top.addWidget(self.more, 0, Qt.AlignmentFlag.AlignTop)
        label = QLabel(self.tr("A&t"))
        label.setBuddy(self.seats)
        row = QHBoxLayout()
        row.setSpacing(4)
        for widget in (label, self.seats, self.duplicate, self.up, self.down, self.remove):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.switch)
        self.body.addLayout(row)
        self.body.addWidget(self.table, 1)

    @property
    def place(self) -> int | None:
        """The seat compared, None for each candidate's own worst."""
        index = self.seats.currentIndex()
        return index - 1 if index > 0 else None

    def offer_seats(self, names: list[str]) -> None:
        """Offer these seats, and each one's worst; what is chosen stays if it can."""
        chosen = self.seats.currentIndex()
        choices = [self.tr("its worst seat"), *names]
        self.seats.offer(choices, max(0, chosen) if chosen < len(choices) else 0)

    def refresh(self) -> None:
        """Offer what can be done now."""
        self.up.setEnabled(self._candidates.may_move(-1))
        self.down.setEnabled(self._candidates.may_move(1))
        self.remove.setEnabled(self._candidates.may_remove())

    def _move_up(self) -> None:
        self._candidates.move(-1)

    def _move_down(self) -> None:
        self._candidates.move(1)

    def _restyle(self) -> None:
        self.more.setIcon(three_dots(colours_of(self.palette()).pick("muted")))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._restyle()
