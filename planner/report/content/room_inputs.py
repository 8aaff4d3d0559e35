"""What a room is made of: materials on its faces, furnishings and people, with what they absorb."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.plan.room import FACES, OwnItem, OwnMaterial, Room, Surface
from planner.plan.units import Preference, show
from planner.report.content.blocks import Block, Column, Heading, Table, Text
from planner.report.content.measures import figure, in_both
from planner.report.language import tr
from planner.resources import OCTAVES, furnishings, materials

__all__ = ["room_inputs"]


def room_inputs(room: Room, preference: Preference) -> Iterator[Block]:
    """Surfaces, then furnishings, each with its absorption by octave."""
    yield from _surfaces(room, preference)
    yield from _furnishings(room, preference)


def _surfaces(room: Room, preference: Preference) -> Iterator[Block]:
    yield Heading(tr("Surfaces"), 3)
    columns = (
        Column(tr("Face"), side="left"),
        Column(tr("Material"), side="left"),
        Column(tr("Area"), "m²"),
        *_octave_columns(tr("Absorption by octave")),
    )
    rows = []
    for face in FACES:
        patches: tuple[Surface, ...] = getattr(room.surfaces, face)
        rest = room.face_area_m2(face) - sum(patch.area_m2 or 0.0 for patch in patches)
        for number, patch in enumerate(patches):
            area = rest if patch.area_m2 is None else patch.area_m2
            text = in_both(figure(area), area, "m2", preference)
            rows.append((face_word(face) if number == 0 else "", *_surface_cells(patch, text)))
    yield Table(columns, tuple(rows))


def face_word(face: str) -> str:
    """One of the six faces as people say it."""
    return {
        "floor": tr("Floor"),
        "ceiling": tr("Ceiling"),
        "front": tr("Front wall"),
        "back": tr("Back wall"),
        "left": tr("Left wall"),
        "right": tr("Right wall"),
    }[face]


def _octave_columns(over: str) -> tuple[Column, ...]:
    return tuple(Column(octave, "Hz", over=over) for octave in OCTAVES)


def _surface_cells(patch: Surface, area: str) -> tuple[str, ...]:
    material = patch.material
    if isinstance(material, OwnMaterial):
        return (material.name, area, *_own_octaves(material.absorption))
    known = materials()[material]
    return (known.description, area, *(figure(value, 2) for value in known.absorption))


def _own_octaves(value: float | Mapping[str, float]) -> tuple[str, ...]:
    """What the plan gives of its own: one value for all octaves, or those that it names."""
    if isinstance(value, Mapping):
        return tuple(figure(value.get(octave), 2) for octave in OCTAVES)
    return (figure(value, 2),) * len(OCTAVES)


def _furnishings(room: Room, preference: Preference) -> Iterator[Block]:
    if not room.furnishings:
        return
    yield Heading(tr("Furnishings and people"), 3)
    octave_columns = _octave_columns(tr("Absorption area of one, m², by octave"))
    columns = (Column(tr("Thing"), side="left"), Column(tr("Count")), *octave_columns)
    rows = []
    for one in room.furnishings:
        if isinstance(one.item, OwnItem):
            name, areas = one.item.name, _own_octaves(one.item.area_m2)
        else:
            known = furnishings()[one.item]
            name, areas = known.description, tuple(figure(value, 2) for value in known.area_m2)
        rows.append((name, f"{one.count}", *areas))
    yield Table(columns, tuple(rows))
    if preference is Preference.US:
        yield Text(tr("1 m² is {area}.", area=show(1.0, "m2", preference, 2)), "note")
