"""Cards of things that stand in the room: a name, three coordinates, buttons to double, move and remove."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, row_of
from planner.desktop.fields import MarkButton, Note, NumberField, Place, TextField, label_for
from planner.desktop.fields.bound import Write
from planner.desktop.theme import colours_of
from planner.plan import Plan, get, put

__all__ = ["Card", "placed_fields"]

CARD_PX = 10
BAR_PX = 3.0


class Card(Editor):
    """One entry of a list of *entries*; Alt with up or down moves it, as its buttons do.

    What doubling, taking away and moving make of the plan, each kind of card says itself.
    """

    def __init__(self, document: PlanDocument, entries: Place, index: int, rename: Write = put) -> None:
        super().__init__(document)
        self._entries, self._index = entries, index
        self._told: tuple[int, str] | None = None
        self.place = entries.to(index)
        self.box.setContentsMargins(CARD_PX, 6, 6, 8)
        self.box.setSpacing(4)
        self.name = self.keep(TextField(document, self.place.to("name"), self.tr("Name"), write=rename))
        self.buttons = self._make_buttons()
        line = row_of(self.name, *self.buttons.values())
        line.setSpacing(1)
        self.box.addLayout(line)
        self.fields = placed_fields(document, self.place)
        for field in self.fields:
            self.keep(field)
        self.box.addLayout(_coordinates(self.fields))
        self.note = Note(self.place)
        self.note.watch(self.name, *self.fields)
        self.box.addWidget(self.note)
        self._tell()

    def doubled(self) -> Plan:
        """The plan with this entry twice."""
        raise NotImplementedError

    def taken_away(self) -> Plan:
        """The plan without this entry."""
        raise NotImplementedError

    def moved(self, to: int) -> Plan:
        """The plan with this entry at another place of its list."""
        raise NotImplementedError

    def _make_buttons(self) -> dict[str, MarkButton]:
        acts = {
            "double": (self.tr("Double"), self._do_double),
            "up": (self.tr("Move up (Alt+Up)"), self._do_up),
            "down": (self.tr("Move down (Alt+Down)"), self._do_down),
            "remove": (self.tr("Take away"), self._do_remove),
        }
        buttons = {}
        for mark, (name, act) in acts.items():
            buttons[mark] = MarkButton(mark, name)
            buttons[mark].clicked.connect(act)
        return buttons

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        count, name = self._count(), self._entry_name()
        if (count, name) == self._told:
            return
        self._told = count, name
        self.buttons["up"].setEnabled(self._index > 0)
        self.buttons["down"].setEnabled(self._index < count - 1)
        self.buttons["remove"].setEnabled(count > 1)
        for field, axis in zip(self.fields, "xyz", strict=True):
            field.name = self.tr("{0} of {1}").format(axis, name)
            field.setAccessibleName(field.name)
        self.name.name = self.tr("Name of {0}").format(name)
        words = {
            "double": self.tr("Double {0}"),
            "up": self.tr("Move {0} up"),
            "down": self.tr("Move {0} down"),
            "remove": self.tr("Take {0} away"),
        }
        for key, button in self.buttons.items():
            button.setAccessibleName(words[key].format(name))

    def _count(self) -> int:
        return len(get(self._document.plan, self._entries.path))

    def _entry_name(self) -> str:
        return str(get(self._document.plan, (*self.place.path, "name")))

    def _do_double(self) -> None:
        self.change(self.doubled(), self.tr("Double {0}").format(self._entry_name()))

    def _do_remove(self) -> None:
        self.change(self.taken_away(), self.tr("Take {0} away").format(self._entry_name()))

    def _do_up(self) -> None:
        self._shift(-1)

    def _do_down(self) -> None:
        self._shift(1)

    def _shift(self, step: int) -> None:
        to = self._index + step
        if 0 <= to < self._count():
            self.change(self.moved(to), self.tr("Move {0}").format(self._entry_name()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        in_name = isinstance(self.window().focusWidget(), QLineEdit)
        if in_name and event.modifiers() == Qt.KeyboardModifier.AltModifier and event.key() in steps:
            self._shift(steps[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def marked(self) -> bool:
        """Whether this is the entry that is looked at."""
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colours.pick("rule"), 1.0))
            painter.setBrush(colours.pick("raised"))
            box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
            painter.drawRoundedRect(box, 5.0, 5.0)
            if self.marked():
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(colours.pick("accent"))
                painter.drawRoundedRect(QRectF(0.0, 4.0, BAR_PX, self.height() - 8.0), 1.5, 1.5)


def placed_fields(document: PlanDocument, place: Place) -> list[NumberField]:
    """Fields for x, y and z of something that stands at *place*."""
    make = partial(NumberField, document, plain=True)
    return [make(place.to(f"{axis}_m")) for axis in "xyz"]


def _coordinates(fields: list[NumberField]) -> QHBoxLayout:
    line = QHBoxLayout()
    line.setSpacing(4)
    for number, (axis, field) in enumerate(zip("xyz", fields, strict=True)):
        if number:
            line.addSpacing(4)
        line.addWidget(label_for(field, axis))
        line.addWidget(field, 1)
    return line


def below(widget: QWidget, ancestor: QWidget) -> bool:
    """Whether a widget is inside another one."""
    return widget is ancestor or ancestor.isAncestorOf(widget)
