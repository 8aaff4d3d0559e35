"""The bar above the list: what the entries of a kind must do."""

from __future__ import annotations

from dataclasses import replace
from math import inf, isinf
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QTableView, QVBoxLayout, QWidget

from planner.desktop.catalogue.asked import Asked
from planner.desktop.catalogue.words import origin_word
from planner.desktop.fields import AccessKeys, Note, NumberField, Place, label_for
from planner.desktop.fields.box import field_height
from planner.desktop.window.chooser import Chooser
from planner.headroom.catalogue_search import Wants
from planner.plan.amplifier import Rating
from planner.plan.edit import Path
from planner.plan.fields import Spec, spec_of
from planner.plan.loudspeaker import Sensitivity

__all__ = ["WantsBar"]

GAP_PX = 14
SIDE = Spec("Side", "m", 0.01, 20.0, 0.05, "Width and depth on the floor, turned either way")
SPECS = {
    "least_sensitivity_db": spec_of(Sensitivity, "level_db"),
    "least_watts": spec_of(Rating, "watts"),
    "into_ohm": spec_of(Rating, "ohm"),
    "at_distortion_pct": spec_of(Rating, "distortion_pct"),
    "most_mass_kg": Spec("Mass", "kg", 0.1, 10_000.0, 1.0, "Entries that do not say theirs are left out"),
}
STARTS = {"least_sensitivity_db": 95.0, "least_watts": 5.0, "most_mass_kg": 50.0}
"""Where stepping begins in a field that asks nothing yet."""
SIDE_START_M = 0.5
HALF_A_STEP_DB = 0.05
"""Levels are read to a tenth, so what reads as 100.0 dB is as loud as 100 dB."""
MOVES = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
EVERY, BUILT_IN, OWN = range(3)


class WantsBar(QWidget):
    """Words to search for, whose entries, and the figures that a kind can be chosen by.

    ``changed`` fires when something else is asked. Up and down in the words move in *table*, Return goes
    there.
    """

    changed = Signal()

    def __init__(self, keys: AccessKeys, table: QTableView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._table = table
        self.asked = Asked(Wants(), self)
        self._kind = ""
        self.words = QLineEdit(placeholderText=self.tr("Search by name"))
        self.words.setAccessibleName(self.tr("Search by name"))
        self.words.setToolTip(self.tr("Words that must all stand in the name (Ctrl+F)"))
        self.words.setClearButtonEnabled(True)
        self.words.setMinimumHeight(field_height(self.words))
        self.words.installEventFilter(self)
        self.whose = Chooser(self.tr("Whose entries"), self.tr("Whose entries are listed"))
        self.whose.offer([self.tr("All entries"), origin_word(False), origin_word(True)], EVERY)
        find = QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self)
        find.activated.connect(self._find)
        self._keys = keys
        self._figures: dict[str, QWidget] = {}
        self._fields: dict[str, NumberField] = {}
        self.note = Note()
        self._lay_out()
        self.words.textChanged.connect(self._search)
        self.whose.activated.connect(self.changed)
        self.asked.changed.connect(self.changed)

    @property
    def wants(self) -> Wants:
        """What is asked, without what only entries of other kinds could do."""
        asked: Wants = self.asked.plan
        keep = {"loudspeaker": ("least_watts",), "amplifier": ("least_sensitivity_db",)}
        drop = keep.get(
            self._kind, ("least_watts", "least_sensitivity_db", "most_mass_kg", "most_footprint_m")
        )
        changes: dict[str, Any] = {"kind": self._kind, **dict.fromkeys(drop)}
        if asked.least_sensitivity_db is not None and self._kind == "loudspeaker":
            changes["least_sensitivity_db"] = asked.least_sensitivity_db - HALF_A_STEP_DB
        return replace(asked, **changes)

    @property
    def own_only(self) -> bool | None:
        """Whether only the user's entries are wanted, only the others, or (None) all."""
        return {EVERY: None, BUILT_IN: False, OWN: True}[self.whose.currentIndex()]

    def field(self, key: str) -> NumberField:
        """The field of a figure; of a footprint it is ``width`` or ``depth``."""
        return self._fields[key]

    def show_kind(self, kind: str) -> None:
        """Ask what entries of this kind can answer."""
        self._kind = kind
        for name, widget in self._figures.items():
            widget.setVisible(name == kind or (name == "body" and kind in ("loudspeaker", "amplifier")))
        self._line.setVisible(kind in ("loudspeaker", "amplifier"))

    def clear(self) -> None:
        """Ask nothing any more."""
        asked = self.asked.plan
        self.whose.setCurrentIndex(EVERY)
        self.asked.replace(Wants(into_ohm=asked.into_ohm, at_distortion_pct=asked.at_distortion_pct))
        self.pull()
        self.words.clear()

    def expect(self, ohm: float | None, distortion_pct: float) -> None:
        """Ask for watts into another load, at another distortion."""
        self.asked.change(into_ohm=ohm or self.asked.plan.into_ohm, at_distortion_pct=distortion_pct)
        self.pull()

    def pull(self) -> None:
        """Show what is asked."""
        for field in self._fields.values():
            field.pull()

    def _lay_out(self) -> None:
        first = QHBoxLayout()
        first.addWidget(self.words, 1)
        first.addWidget(self.whose)
        self._line = QWidget()
        second = QHBoxLayout(self._line)
        second.setContentsMargins(0, 0, 0, 0)
        second.setSpacing(GAP_PX)
        for name, made in (("loudspeaker", self._level), ("amplifier", self._watts), ("body", self._body)):
            self._figures[name] = widget = QWidget()
            line = QHBoxLayout(widget)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(6)
            made(line)
            second.addWidget(widget)
        second.addStretch(1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addLayout(first)
        lines.addWidget(self._line)
        lines.addWidget(self.note)
        self.note.watch(*self._fields.values())

    def _level(self, line: QHBoxLayout) -> None:
        self._add(line, self.tr("At least"), "least_sensitivity_db", self.tr("Least sensitivity"))
        line.addWidget(QLabel(self.tr("for 1 W at 1 m")))

    def _watts(self, line: QHBoxLayout) -> None:
        self._add(line, self.tr("At least"), "least_watts", self.tr("Least watts"))
        self._add(line, self.tr("into"), "into_ohm", self.tr("Into a load of"), empty=False)
        self._add(line, self.tr("at up to"), "at_distortion_pct", self.tr("At a distortion of"), empty=False)

    def _body(self, line: QHBoxLayout) -> None:
        self._add(line, self.tr("Mass up to"), "most_mass_kg", self.tr("Greatest mass"))
        line.addSpacing(GAP_PX - line.spacing())
        width = self._side("width", self.tr("Width of the floor"), 0)
        line.addWidget(label_for(width, self._keys.mark(self.tr("On a floor of"))))
        line.addWidget(width)
        line.addWidget(QLabel("×"))
        line.addWidget(self._side("depth", self.tr("Depth of the floor"), 1))

    def _add(self, line: QHBoxLayout, text: str, key: str, name: str, empty: bool = True) -> None:
        word = self.tr("any") if empty else ""
        field = self.asked.field(Place(key), SPECS[key], name, word, STARTS.get(key))
        self._fields[key] = field
        line.addWidget(label_for(field, self._keys.mark(text)))
        line.addWidget(field)

    def _side(self, key: str, name: str, side: int) -> NumberField:
        place = Place("most_footprint_m", side)
        field = self.asked.field(place, SIDE, name, self.tr("any"), SIDE_START_M, _side, _with_side)
        self._fields[key] = field
        return field

    def _find(self) -> None:
        self.words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.words.selectAll()

    def _search(self, text: str) -> None:
        self.asked.change(words=text)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.words and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in MOVES:
                self._table.keyPressEvent(event)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._table.setFocus(Qt.FocusReason.OtherFocusReason)
                return True
        return super().eventFilter(watched, event)


def _side(wants: Any, path: Path) -> float | None:
    """One side of the floor that there is; a side that may be as long as it likes is left out."""
    side = float((wants.most_footprint_m or (inf, inf))[int(path[1])])
    return None if isinf(side) else side


def _with_side(wants: Any, path: Path, value: float | None) -> Any:
    sides = list(wants.most_footprint_m or (inf, inf))
    sides[int(path[1])] = inf if value is None else value
    return replace(wants, most_footprint_m=None if sides == [inf, inf] else tuple(sides))
