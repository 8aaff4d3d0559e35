"""The room: open air or a shoebox with its size, air, measured decay, noise and leak."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.decay import DecayEditor, decay_words
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.furnishings import FurnishingsEditor
from planner.desktop.editors.noise import NoiseEditor
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.surfaces import SurfacesEditor
from planner.desktop.fields import ChoiceField, Form, Hint, NumberField, Place
from planner.desktop.settings import settings
from planner.plan import Plan
from planner.plan.edit import Path
from planner.plan.reshape import open_air, with_room
from planner.plan.room import Room
from planner.plan.units import show

__all__ = ["RoomGroup"]

ROOM = Place("room")


class RoomGroup(Editor):
    """Whether there is a room, and all about it."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self._last: Room | None = document.plan.room
        form = Form()
        kinds = [(True, self.tr("A room")), (False, self.tr("Open air"))]
        self.kind = ChoiceField(
            document,
            ROOM,
            self.tr("Place"),
            kinds,
            tip=self.tr("In a room walls give sound back; in the open air only the direct sound arrives"),
            read=_has_room,
            write=self._with_room,
        )
        form.add(self.kind)
        self.keep(self.kind)
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._indoors, self._make)))

    def _indoors(self) -> bool:
        if self._document.plan.room is not None:
            self._last = self._document.plan.room
        return self._document.plan.room is not None

    def _with_room(self, plan: Plan, path: Path, wanted: bool) -> Plan:
        return with_room(plan, self._last) if wanted else open_air(plan)

    def _make(self, indoors: Any) -> Editor | None:
        return _Indoors(self._document) if indoors else None


class _Indoors(Editor):
    """What only a room has."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        covers = {
            "size": [ROOM.to("length_m"), ROOM.to("width_m"), ROOM.to("height_m")],
            "air": [ROOM.to("temperature_c"), ROOM.to("humidity_pct"), ROOM.to("pressure_kpa")],
            "noise": [ROOM.to("noise"), ROOM.to("leak_hz")],
        }
        self._fold(self.tr("Size"), "size", self._size, covers["size"], self._size_words)
        self._fold(self.tr("Surfaces"), "surfaces", self._surfaces, [ROOM.to("surfaces")])
        self._fold(
            self.tr("Furnishings"), "furnishings", self._furnishings, [ROOM.to("furnishings")], self._things
        )
        decay = [ROOM.to("measured_t60_s")]
        self._fold(self.tr("Reverberation"), "decay", self._decay, decay, self._decay_words, shut=True)
        self._fold(self.tr("Air"), "air", self._air, covers["air"], self._air_words, shut=True)
        self._fold(
            self.tr("Noise and leak"), "noise", self._noise, covers["noise"], self._noise_words, shut=True
        )

    def _fold(
        self,
        title: str,
        key: str,
        make: Callable[[], Editor],
        covers: list[Place],
        summary: Callable[[], str] | None = None,
        shut: bool = False,
    ) -> None:
        fold = Fold(self._document, title, f"room/{key}", make, covers, summary=summary, shut=shut)
        self.box.addWidget(self.keep(fold))

    @property
    def _room(self) -> Room:
        room = self._document.plan.room
        assert room is not None, "this part is there only with a room"
        return room

    def _size(self) -> Editor:
        return SizeEditor(self._document)

    def _surfaces(self) -> Editor:
        return SurfacesEditor(self._document)

    def _furnishings(self) -> Editor:
        return FurnishingsEditor(self._document)

    def _decay(self) -> Editor:
        return DecayEditor(self._document)

    def _air(self) -> Editor:
        return NumbersEditor(self._document, covers_of("temperature_c", "humidity_pct", "pressure_kpa"))

    def _noise(self) -> Editor:
        return NoiseEditor(self._document)

    def _size_words(self) -> str:
        sizes = [show(size, "m", settings().units) for size in self._room.dimensions_m]
        return " × ".join(sizes)

    def _things(self) -> str:
        count = sum(row.count for row in self._room.furnishings)
        if count == 1:
            return self.tr("1 piece")
        return self.tr("{0} pieces").format(count) if count else self.tr("none")

    def _decay_words(self) -> str:
        return decay_words(self._document)

    def _air_words(self) -> str:
        degrees = show(self._room.temperature_c, "degC", settings().units)
        return f"{degrees}, {show(self._room.humidity_pct, '%')}"

    def _noise_words(self) -> str:
        noise = self._room.noise
        if noise is None:
            return self.tr("noise not known")
        return f"NC {noise.nc:g}" if noise.nc is not None else show(noise.dba or 0.0, "dBA")


def covers_of(*names: str) -> list[Place]:
    """Places of the room by their keys."""
    return [ROOM.to(name) for name in names]


class NumbersEditor(Editor):
    """Plain numbers, one below another."""

    def __init__(self, document: PlanDocument, places: list[Place]) -> None:
        super().__init__(document)
        form = Form()
        for place in places:
            form.add(self.keep(NumberField(document, place)))
        self.box.addWidget(form)


class SizeEditor(NumbersEditor):
    """Length, width and height, and what follows from them."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document, covers_of("length_m", "width_m", "height_m"))
        self.hint = Hint()
        self.box.addWidget(self.hint)
        settings().units_changed.connect(self._tell)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        room, units = self._document.plan.room, settings().units
        if room is None:
            return
        length, width, height = room.dimensions_m
        volume = show(length * width * height, "m3", units)
        surface = show(2.0 * (length * width + length * height + width * height), "m2", units)
        self.hint.say(self.tr("Volume {0}, surface {1}").format(volume, surface))


def _has_room(plan: Plan, path: Path) -> bool:
    return plan.room is not None
