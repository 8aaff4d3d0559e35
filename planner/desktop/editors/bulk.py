"""Mass and footprint of a loudspeaker or an amplifier, and how they load a floor."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Form, Hint, Note, NumberField, Place
from planner.desktop.fields.specs import inner_spec
from planner.desktop.settings import settings
from planner.headroom.weight import CODE_LOADS, kn_per_m2, psf
from planner.plan import get
from planner.plan.amplifier import Amplifier
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.reshape import set_side, side_of
from planner.plan.units import Preference, show
from planner.report.cautions import FLOOR_CAUTION
from planner.report.language import tr

__all__ = ["BulkEditor", "bulk_words"]

START_KG, START_M = 20.0, 0.4
Thing = Loudspeaker | Amplifier


class BulkEditor(Editor):
    """All may be left out; a footprint has both sides or none."""

    def __init__(self, document: PlanDocument, place: Place, *, inset_px: int = 0) -> None:
        super().__init__(document)
        self._place = place
        form = Form(inset_px=inset_px)
        mass = self.keep(NumberField(document, place.to("mass_kg"), optional=True))
        mass.start, mass.placeholder = START_KG, self.tr("not known")
        form.add(mass)
        self.sides = [self._side(0, self.tr("Width")), self._side(1, self.tr("Depth"))]
        sides = [self.sides[0], QLabel("×"), self.sides[1]]
        form.add_pair(self.tr("Footprint"), sides, even=True)
        note = Note(place.to("footprint_m"))
        note.watch(*self.sides)
        form.add_wide(note)
        self.box.addWidget(form)
        self.hint = Hint()
        self.box.addWidget(self.hint)
        self._tell()

    def _side(self, side: int, name: str) -> NumberField:
        thing = type(get(self._document.plan, self._place.path))
        field = NumberField(
            self._document,
            self._place.to("footprint_m", side),
            spec=inner_spec(thing, "footprint_m"),
            unit="cm",
            name=self.tr("{0} of the footprint").format(name),
            read=side_of,
            write=set_side,
            optional=True,
            plain=True,
        )
        field.start, field.placeholder = START_M, name.lower()
        return self.keep(field)

    def pull(self) -> None:
        super().pull()
        self._tell()

    def answer(self) -> None:
        super().answer()
        self._tell()

    def _tell(self) -> None:
        words = _load_words(get(self._document.plan, self._place.path), settings().units)
        self.hint.say(words)
        self.hint.setToolTip(FLOOR_CAUTION if words else "")


def bulk_words(thing: Thing) -> str:
    """The mass in short."""
    return tr("not known") if thing.mass_kg is None else show(thing.mass_kg, "kg", settings().units)


def _load_words(thing: Thing, units: Preference) -> str:
    """How it loads what it stands on, beside what floors are built for; nothing while that is not known."""
    if thing.mass_kg is None or thing.footprint_m is None:
        return ""
    load = kn_per_m2(thing.mass_kg, thing.footprint_m[0] * thing.footprint_m[1])
    codes = {one.key: one for one in CODE_LOADS}
    rooms, dwellings = codes["rooms"], codes["dwellings"]
    if units is Preference.US:
        figures = f"{psf(load):.0f} psf", f"{psf(rooms.high_kn_m2):.0f} psf"
    else:
        code = f"{dwellings.low_kn_m2:.1f} to {dwellings.high_kn_m2:.1f} kN/m²"
        figures = f"{load:.2f} kN/m²", code
    return tr(
        "Loads what is under it with {load}; floors of dwellings are built for {code}. No structural check.",
        load=figures[0],
        code=figures[1],
    )
