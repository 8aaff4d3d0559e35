"""One stand of a loudspeaker as a card: where it is, where it points, which sections it carries."""

from __future__ import annotations

from typing import Any

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.cards import CARD_PX, Card
from planner.desktop.editors.part import Editor, Rows, Variant, row_of
from planner.desktop.fields import ChoiceField, Form, Note, NumberField, Place, label_for
from planner.desktop.fields.button import MenuButton
from planner.plan import Plan, get
from planner.plan.edit import Path
from planner.plan.model import Stand
from planner.plan.reshape import (
    add_stand,
    aim_along,
    aim_at,
    carry,
    duplicate_stand,
    move_stand,
    remove_stand,
)
from planner.report.language import tr

__all__ = ["StandCard", "StandsEditor"]

ALONG = ("angles",)
"""What the chooser of aims holds for given angles; a seat may have any name, so this is no text."""


class StandsEditor(Editor):
    """A card for each stand of the plan, or for each of a candidate's own."""

    def __init__(self, document: PlanDocument, entries: Place) -> None:
        super().__init__(document)
        self._entries = entries
        self.rows = self.keep(Rows(document, entries, self._make))
        self.add = QPushButton(self.tr("Add sta&nd"))
        self.add.clicked.connect(self._add)
        self.box.addWidget(self.rows)
        self.box.addWidget(self.add)

    def _make(self, index: int) -> Editor:
        return StandCard(self._document, self._entries, index)

    def _add(self) -> None:
        after = add_stand(self._document.plan, _whose(self._entries.path))
        self.change(after, self.tr("Add stand"))


class StandCard(Card):
    """A card with the aim below the place."""

    def __init__(self, document: PlanDocument, entries: Place, index: int) -> None:
        super().__init__(document, entries, index)
        self.buttons["double"].setToolTip(
            self.tr("Double: its mirror image across the room, where there is space")
        )
        form = Form(inset_px=CARD_PX)
        self.aim = self.keep(
            ChoiceField(
                document,
                self.place.to("aim"),
                self.tr("Aims at"),
                self._aims(),
                tip=self.tr("The seat it points at, or angles"),
                read=_aim,
                write=_with_aim,
            )
        )
        form.add(self.aim)
        self.carries = CarriesButton(document, self.place)
        form.add_pair(self.tr("Carries"), [self.carries])
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._along, self._make_angles)))
        self.box.addWidget(Note(self.place.to("carries")))

    def doubled(self) -> Plan:
        return duplicate_stand(self._document.plan, self._index, _whose(self.place.path))

    def taken_away(self) -> Plan:
        return remove_stand(self._document.plan, self._index, _whose(self.place.path))

    def moved(self, to: int) -> Plan:
        return move_stand(self._document.plan, self._index, to, _whose(self.place.path))

    def pull(self) -> None:
        self.aim.offer(self._aims())
        self.carries.refresh()
        super().pull()

    def _aims(self) -> list[tuple[object, str]]:
        names = [seat.name for seat in self._document.plan.seats]
        aimed = get(self._document.plan, self.place.path).aim.seat
        lost = [] if aimed is None or aimed in names else [(aimed, self.tr("{0} (not there)").format(aimed))]
        return [*((name, name) for name in names), *lost, (ALONG, self.tr("Given angles"))]

    def _along(self) -> bool:
        return _aim(self._document.plan, self.place.to("aim").path) == ALONG

    def _make_angles(self, along: Any) -> Editor | None:
        if not along:
            return None
        editor = Editor(self._document)
        azimuth = editor.keep(NumberField(self._document, self.place.to("aim", "azimuth_deg"), plain=True))
        elevation = editor.keep(
            NumberField(self._document, self.place.to("aim", "elevation_deg"), plain=True)
        )
        labels = label_for(azimuth, azimuth.name), label_for(elevation, elevation.name)
        line = row_of(labels[0], azimuth, labels[1], elevation, stretch=1)
        line.setStretch(3, 1)
        editor.box.addLayout(line)
        note = Note()
        note.watch(azimuth, elevation)
        editor.box.addWidget(note)
        return editor


class CarriesButton(MenuButton):
    """Which sections of the loudspeaker stand here, as a menu of marks."""

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(
            tr("Carries"), tr("The sections of the loudspeaker that stand here; the others stand elsewhere")
        )
        self._document, self._place = document, place
        self.menu.aboutToShow.connect(self._fill)
        self.menu.triggered.connect(self._choose)
        self.refresh()

    def refresh(self) -> None:
        """Show what the stand carries now."""
        carries = self._stand().carries
        self.setText(self.tr("The whole loudspeaker") if carries is None else ", ".join(carries))

    def _stand(self) -> Stand:
        stand = get(self._document.plan, self._place.path)
        assert isinstance(stand, Stand)
        return stand

    def _sections(self) -> list[str]:
        candidate = self._document.plan.candidates[self._document.candidate]
        return [section.name for section in candidate.loudspeaker.sections]

    def _fill(self) -> None:
        self.menu.clear()
        carries = self._stand().carries
        self._mark(self.tr("The whole loudspeaker"), None, carries is None)
        self.menu.addSeparator()
        for name in dict.fromkeys([*self._sections(), *(carries or ())]):
            self._mark(name, name, carries is not None and name in carries)

    def _mark(self, text: str, name: str | None, marked: bool) -> None:
        action = self.menu.addAction(text.replace("&", "&&"))
        action.setCheckable(True)
        action.setChecked(marked)
        action.setProperty("section", name or "")

    def _choose(self, action: QAction) -> None:
        name, carries = action.property("section"), self._stand().carries or ()
        if not name:
            names = None
        elif name in carries:
            names = tuple(one for one in carries if one != name) or None
        else:
            order = self._sections()
            names = tuple(
                sorted({*carries, name}, key=lambda one: order.index(one) if one in order else len(order))
            )
        self._document.close_gesture()
        text = self.tr("Change what {0} carries").format(self._stand().name)
        path = self._place.path
        self._document.replace(carry(self._document.plan, int(path[-1]), names, _whose(path)), text)
        self._document.close_gesture()


def _aim(plan: Plan, path: Path) -> object:
    seat = get(plan, path).seat
    return ALONG if seat is None else seat


def _with_aim(plan: Plan, path: Path, aim: object) -> Plan:
    index, whose = int(path[-2]), _whose(path)
    return aim_along(plan, index, whose) if aim == ALONG else aim_at(plan, index, str(aim), whose)


def _whose(path: Path) -> int | None:
    """Whose stands a path leads to: those of the plan (None), or the own ones of a candidate."""
    return int(path[1]) if path[0] == "candidates" else None
