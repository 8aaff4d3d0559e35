"""The left half of the dialog: who may move, for whose ears, and the area, drawn and in figures."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields import AccessKeys
from planner.desktop.placing.fields import LABEL_LETTERS, AreaFields
from planner.desktop.placing.plan_view import PlanView
from planner.desktop.placing.quest import Mover, Quest, area_about, movers
from planner.headroom.placed import in_its_places
from planner.report.drawing.places import Place

__all__ = ["Question"]


class Question(QWidget):
    """Asks for everything that a search needs; ``changed`` fires whenever it is asked otherwise."""

    changed = Signal()

    def __init__(self, document: PlanDocument, keys: AccessKeys, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._movers: list[Mover] = []
        self.mover, self.seat = QComboBox(self), QComboBox(self)
        self.mirrored = QCheckBox(self)
        self.view = PlanView(self)
        self._dress(keys)
        labels = self._made_labels(keys)
        self.fields = AreaFields(document, self.view.area, keys, self)
        self._lay_out(labels)
        self.mover.activated.connect(self._begin_anew)
        self.seat.activated.connect(self._tell)
        self.mirrored.toggled.connect(self._tell)
        self.view.drawn.connect(self._take_drawn)
        self.fields.changed.connect(self._take_typed)
        self.follow()

    @property
    def chosen(self) -> Mover:
        """Who may move."""
        return self._movers[max(self.mover.currentIndex(), 0)]

    def quest(self) -> Quest:
        """The search as it is asked for now."""
        document, mover = self._document, self.chosen
        return Quest(
            plan=document.plan,
            candidate=document.candidate,
            mover=mover,
            seat=mover.places[0].index if mover.is_seat else max(self.seat.currentIndex(), 0),
            area=self.view.area,
            mirrored=mover.is_pair and self.mirrored.isChecked(),
        )

    def choose(self, place: Place) -> None:
        """Let a seat or stand move; of stands that may go in pairs the pair."""
        found = [number for number, one in enumerate(self._movers) if place in one.places]
        if found:
            self.mover.setCurrentIndex(found[0])
            self._begin_anew()

    def follow(self) -> None:
        """Offer what the plan has; who was chosen and the area stay, if that one is still there."""
        document, first = self._document, not self._movers
        drawn = in_its_places(document.plan, document.candidate)
        kept = None if first else self.chosen
        self._movers = movers(document.plan, document.candidate)
        _offer(self.mover, [one.name(drawn) for one in self._movers])
        _offer(self.seat, [seat.name for seat in document.plan.seats], document.seat if first else None)
        if kept in self._movers:
            self.mover.setCurrentIndex(self._movers.index(kept))
            self._tell()
        else:
            self._begin_anew()

    def refresh(self) -> None:
        """Draw the plan as it is, without a better place."""
        quest = self.quest()
        drawn = in_its_places(quest.plan, quest.candidate)
        self.view.show_plan(drawn, quest.candidate, quest.seat, quest.mover, quest.mirrored)
        self.seat.setEnabled(not quest.mover.is_seat)
        self.mirrored.setVisible(quest.mover.is_pair)

    def _begin_anew(self) -> None:
        """Begin with the area about what was chosen."""
        area = area_about(self._document.plan, self._document.candidate, self.chosen)
        self.view.show_area(area)
        self.fields.show_area(area)
        self._tell()

    def _take_drawn(self) -> None:
        self.fields.show_area(self.view.area)
        self._tell()

    def _take_typed(self) -> None:
        self.view.show_area(self.fields.area)
        self._tell()

    def _tell(self) -> None:
        self.refresh()
        self.changed.emit()

    def _dress(self, keys: AccessKeys) -> None:
        self.mover.setAccessibleName(self.tr("What may move"))
        self.mover.setToolTip(
            self.tr("The seat, the loudspeaker or the two loudspeakers to find a place for")
        )
        self.seat.setAccessibleName(self.tr("Seat that hears it"))
        self.seat.setToolTip(self.tr("At which seat the bass shall be strong and even"))
        self.mirrored.setText(keys.mark(self.tr("Mirror across the middle of the room")))
        self.mirrored.setToolTip(
            self.tr("Seek the first within the area, and keep the second opposite to it across the width")
        )
        self.mirrored.setChecked(True)

    def _made_labels(self, keys: AccessKeys) -> list[QLabel]:
        labels = []
        for text, box in ((self.tr("Move"), self.mover), (self.tr("Heard at"), self.seat)):
            label = QLabel(keys.mark(text), self)
            label.setBuddy(box)
            labels.append(label)
        return labels

    def _lay_out(self, labels: list[QLabel]) -> None:
        form = QGridLayout()
        for row, (label, box) in enumerate(zip(labels, (self.mover, self.seat), strict=True)):
            form.addWidget(label, row, 0)
            form.addWidget(box, row, 1)
        form.addWidget(self.mirrored, 2, 1)
        form.setColumnMinimumWidth(0, LABEL_LETTERS * self.fontMetrics().averageCharWidth())
        form.setColumnStretch(1, 1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(form)
        lines.addWidget(self.view, 1)
        lines.addWidget(self.fields)


def _offer(box: QComboBox, names: list[str], index: int | None = None) -> None:
    """Offer these names, with the same number chosen as before unless another is asked for."""
    number = max(box.currentIndex(), 0) if index is None else index
    if names != [box.itemText(one) for one in range(box.count())]:
        box.clear()
        box.addItems(names)
    box.setCurrentIndex(min(number, len(names) - 1))
