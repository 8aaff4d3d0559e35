"""Above the grid: which loudspeakers and amplifiers, in what order, at which seat."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QHBoxLayout, QLabel, QLineEdit, QWidget

from planner.desktop.catalogue.asked import Asked
from planner.desktop.fields import MarkButton, Note, NumberField, Place, label_for
from planner.desktop.fields.box import field_height
from planner.desktop.pairings.wanted import Order, Wanted
from planner.desktop.window.chooser import Chooser
from planner.plan.amplifier import Rating
from planner.plan.fields import spec_of

__all__ = ["PairsBar", "SideBar"]

WATTS_START = 10.0
WORDS_LETTERS, ORDER_LETTERS = 26, 18
ORIGINS = ("built in", "own", "plan")
LOUDSPEAKER_KINDS = ("", "horn", "direct", "dipole", *ORIGINS)
AMPLIFIER_KINDS = ("", "transformer", "direct", *ORIGINS)
ORDERS = ("figure", "headroom", "needed", "name")


class SideBar(QObject):
    """What is wanted of one side: words, kind, order; ``changed`` fires with each of them."""

    changed = Signal()

    def __init__(
        self, name: str, kinds: dict[str, str], orders: dict[str, str], title: str, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._kinds, self._orders = tuple(kinds), tuple(orders)
        self._order_words = list(orders.values())
        self.other = ""
        """The key of the one on the other side that this side is sorted by."""
        self.title = QLabel(title)
        self.words = QLineEdit(placeholderText=self.tr("Search by name"))
        self.words.setAccessibleName(self.tr("Search by name: {0}").format(name))
        self.words.setClearButtonEnabled(True)
        self.words.setMinimumHeight(field_height(self.words))
        self.words.setMinimumWidth(WORDS_LETTERS * self.words.fontMetrics().averageCharWidth())
        self.title.setBuddy(self.words)
        self.kind = Chooser(self.tr("Which {0}").format(name), self.tr("Which of them take part"))
        self.kind.offer(list(kinds.values()), 0)
        self.order = Chooser(self.tr("Order of {0}").format(name), self.tr("What they are sorted by"))
        self.order.offer(self._order_words, 0)
        self.order.setMinimumContentsLength(ORDER_LETTERS)
        self.turn = MarkButton("down", self.tr("The other way round: {0}").format(name))
        self.turn.setCheckable(True)
        self.words.textChanged.connect(self.changed)
        self.kind.activated.connect(self.changed)
        self.order.activated.connect(self._choose_order)
        self.turn.toggled.connect(self._turn)

    @property
    def kind_wanted(self) -> str:
        """The build or origin that is wanted, empty for all."""
        return self._kinds[max(0, self.kind.currentIndex())]

    @property
    def order_wanted(self) -> Order:
        """How this side is sorted."""
        place = self.order.currentIndex()
        by = self._orders[place] if place < len(self._orders) else "with"
        return Order(by, self.other if by == "with" else "", self.turn.isChecked())

    def sort_with(self, key: str, name: str) -> None:
        """Sort by the headroom with one of the other side; the same again turns it round."""
        if self.order_wanted.by == "with" and self.other == key:
            self.turn.setChecked(not self.turn.isChecked())
            return
        self.other = key
        words = self.tr("Headroom with {0}").format(name)
        self.order.offer([*self._order_words, words], len(self._order_words))
        self.order.setMinimumContentsLength(ORDER_LETTERS)
        self.order.setToolTip(words)
        self.turn.setChecked(False)
        self.changed.emit()

    def _choose_order(self) -> None:
        self.turn.setChecked(False)
        self.changed.emit()

    def _turn(self, turned: bool) -> None:
        self.turn.mark = "up" if turned else "down"
        self.changed.emit()


class PairsBar(QWidget):
    """Both sides, the range of watts, the seat, and whether only what clears is wanted."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.asked = Asked(Wanted(), self)
        self.loudspeakers, self.amplifiers = self._made_sides()
        self.least = self._watts("least_watts", self.tr("Least watts"))
        self.most = self._watts("most_watts", self.tr("Most watts"))
        self.seat = Chooser(self.tr("Seat"), self.tr("At which seat the pairs are judged"))
        self.only_clear = QCheckBox(self.tr("Only &what clears"))
        self.only_clear.setToolTip(
            self.tr("Leave out loudspeakers and amplifiers that clear with no partner; grey the other pairs")
        )
        self.note = Note()
        self.note.watch(self.least, self.most)
        self._lay_out()
        for side in (self.loudspeakers, self.amplifiers):
            side.changed.connect(self.changed)
        for signal in (self.asked.changed, self.seat.activated, self.only_clear.toggled):
            signal.connect(self.changed)
        self.offer_seats(())

    def _made_sides(self) -> tuple[SideBar, SideBar]:
        origins = (self.tr("Built in"), self.tr("My own"), self.tr("Of this plan"))
        builds = (self.tr("All loudspeakers"), self.tr("With a horn"))
        others = (self.tr("Direct radiators"), self.tr("Open baffles"))
        outputs = (self.tr("All amplifiers"), self.tr("With a transformer"), self.tr("Direct output"))
        orders = (self.tr("Best headroom"), self.tr("Watts needed"), self.tr("Name"))
        loudspeakers = SideBar(
            self.tr("loudspeakers"),
            dict(zip(LOUDSPEAKER_KINDS, (*builds, *others, *origins), strict=True)),
            dict(zip(ORDERS, (self.tr("Sensitivity"), *orders), strict=True)),
            self.tr("&Loudspeakers"),
            self,
        )
        amplifiers = SideBar(
            self.tr("amplifiers"),
            dict(zip(AMPLIFIER_KINDS, (*outputs, *origins), strict=True)),
            dict(zip(ORDERS, (self.tr("Rated watts"), *orders), strict=True)),
            self.tr("&Amplifiers"),
            self,
        )
        return loudspeakers, amplifiers

    def _watts(self, key: str, name: str) -> NumberField:
        return self.asked.field(Place(key), spec_of(Rating, "watts"), name, self.tr("any"), WATTS_START)

    @property
    def wanted(self) -> Wanted:
        """All that is asked."""
        seat = self.seat.currentIndex() - 1
        return replace(
            self.asked.plan,
            loudspeaker_words=self.loudspeakers.words.text(),
            loudspeaker_kind=self.loudspeakers.kind_wanted,
            loudspeaker_order=self.loudspeakers.order_wanted,
            amplifier_words=self.amplifiers.words.text(),
            amplifier_kind=self.amplifiers.kind_wanted,
            amplifier_order=self.amplifiers.order_wanted,
            only_clear=self.only_clear.isChecked(),
            seat=seat if seat >= 0 else None,
        )

    def offer_seats(self, names: tuple[str, ...]) -> None:
        """Offer these seats, and keep the one chosen if it is still among them."""
        before = self.seat.currentText() if self.seat.currentIndex() > 0 else ""
        kept = names.index(before) + 1 if before in names else 0
        self.seat.offer([self.tr("Worst seat"), *names], kept)

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(6)
        for row, side in enumerate((self.loudspeakers, self.amplifiers)):
            by = QLabel((self.tr("&by"), self.tr("b&y"))[row])
            by.setBuddy(side.order)
            for column, widget in enumerate((side.title, side.words, side.kind, by, side.order, side.turn)):
                grid.addWidget(widget, row, column)
        grid.setColumnStretch(1, 1)
        grid.setColumnMinimumWidth(6, 14)
        seat = QLabel(self.tr("at &seat"))
        seat.setBuddy(self.seat)
        grid.addWidget(seat, 0, 7)
        grid.addWidget(self.seat, 0, 8)
        grid.addWidget(self.only_clear, 0, 9)
        grid.addWidget(label_for(self.least, self.tr("rated &from")), 1, 7)
        watts = QHBoxLayout()
        watts.setSpacing(6)
        watts.addWidget(self.least)
        watts.addWidget(label_for(self.most, self.tr("&to")))
        watts.addWidget(self.most)
        watts.addStretch(1)
        grid.addLayout(watts, 1, 8)
        grid.addWidget(self.note, 2, 0, 1, 10)
