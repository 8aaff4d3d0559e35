"""The room: there or not, what its faces are made of, what stands in it, what was measured in it."""

from __future__ import annotations

from typing import Any

from planner.plan.edit import Path, get
from planner.plan.fields import Octaves
from planner.plan.model import Plan
from planner.plan.presets import preset
from planner.plan.reshape.parts import changed, placed, without
from planner.plan.room import Furnishing, OwnItem, OwnMaterial, Room, RoomNoise, Surface
from planner.resources import OCTAVES, furnishings, materials

__all__ = [
    "add_furnishing",
    "add_patch",
    "describe_own",
    "noise_kind",
    "open_air",
    "remove_furnishing",
    "remove_patch",
    "set_octave",
    "with_room",
]

TYPICAL = "living_room"
WALL_GAP_M = 0.5
QUIET_ROOM = {"nc": 20.0, "dba": 28.0}
"""A quiet living room by either measure: common practice, no published source."""
NEW_PATCH_SHARE = 0.25


def open_air(plan: Plan) -> Plan:
    """The plan without a room."""
    return changed(plan, room=None)


def with_room(plan: Plan, room: Room | None = None) -> Plan:
    """The plan in a room: the one given, or a typical one that is made to hold every seat and stand."""
    if room is None:
        typical = preset(TYPICAL).plan().room
        assert typical is not None, "this preset has a room"
        room = _holding(plan, typical)
    return changed(plan, room=room)


def add_patch(plan: Plan, face: str, material: str | OwnMaterial) -> Plan:
    """The plan with a quarter of a face's rest, or of its largest patch, made of another material."""
    room = _room(plan)
    patches = list(getattr(room.surfaces, face))
    taken_m2 = sum(patch.area_m2 or 0.0 for patch in patches)
    rest_m2 = room.face_area_m2(face) - taken_m2
    if any(patch.area_m2 is None for patch in patches):
        area_m2 = _tidy_area(rest_m2 * NEW_PATCH_SHARE)
    else:
        largest = max(range(len(patches)), key=lambda index: patches[index].area_m2 or 0.0)
        area_m2 = _tidy_area((patches[largest].area_m2 or 0.0) * NEW_PATCH_SHARE)
        patches[largest] = Surface(material=patches[largest].material)
    return _with_patches(plan, face, (Surface(material=material, area_m2=area_m2), *patches))


def remove_patch(plan: Plan, face: str, index: int) -> Plan:
    """The plan without one material of a face; the last one left covers what remains of it."""
    patches = [one for place, one in enumerate(getattr(_room(plan).surfaces, face)) if place != index]
    if patches and all(patch.area_m2 is not None for patch in patches):
        patches[-1] = Surface(material=patches[-1].material)
    return _with_patches(plan, face, tuple(patches))


def add_furnishing(plan: Plan, item: str | OwnItem) -> Plan:
    """The plan with one piece more of something: another row, or one more in the row that has it."""
    rows = _room(plan).furnishings
    for index, row in enumerate(rows):
        if row.item == item:
            return placed(plan, ("room", "furnishings", index, "count"), row.count + 1)
    return _with_room(plan, furnishings=(*rows, Furnishing(item=item, count=1)))


def remove_furnishing(plan: Plan, index: int) -> Plan:
    """The plan without one row of furnishings."""
    rows = _room(plan).furnishings
    return _with_room(plan, furnishings=without(rows, index))


def describe_own(plan: Plan, path: Path) -> Plan:
    """The plan with the material or item at *path* described by its own octaves, to be changed from there."""
    known = get(plan, path)
    own: OwnMaterial | OwnItem
    if path[-1] == "material":
        own = OwnMaterial(name=_title(known), absorption=_octaves(known))
    else:
        own = OwnItem(name=_title(known), area_m2=_octaves(known))
    return placed(plan, path, own)


def set_octave(plan: Plan, path: Path, octave: str, value: float | None) -> Plan:
    """The plan with one octave of a table set, or left out for None; an empty table is left out whole."""
    table = dict(get(plan, path) or {})
    if value is None:
        table.pop(octave, None)
    else:
        table[octave] = value
    # The field itself says what a value may be, so it is handed the plain table.
    return placed(plan, path, table or None)


def noise_kind(plan: Plan, kind: str | None) -> Plan:
    """The plan with the room's noise by NC curve ("nc") or A-weighted level ("dba"), or unknown for None."""
    noise = None if kind is None else RoomNoise(**{kind: QUIET_ROOM[kind]})
    return _with_room(plan, noise=noise)


def _holding(plan: Plan, room: Room) -> Room:
    """The room, larger where it must be to hold every seat and stand with some space behind."""
    own = (stand for one in plan.candidates for stand in one.stands or ())
    places = [thing.position_m for thing in (*plan.seats, *plan.stands, *own)]
    needed = (max(place[axis] for place in places) + WALL_GAP_M for axis in range(3))
    names = ("length_m", "width_m", "height_m")
    sizes = {
        name: max(here, round(need, 2))
        for name, here, need in zip(names, room.dimensions_m, needed, strict=True)
    }
    return changed(room, **sizes)


def _tidy_area(area_m2: float) -> float:
    """To a tenth of a square metre where that is fine enough, and never nothing."""
    return round(area_m2, 1) or round(area_m2, 4) or 0.1


def _title(known: str | OwnMaterial | OwnItem) -> str:
    if not isinstance(known, str):
        return known.name
    return (materials().get(known) or furnishings()[known]).description


def _octaves(known: str | OwnMaterial | OwnItem) -> Octaves:
    if isinstance(known, str):
        entry = materials().get(known)
        values = entry.absorption if entry else furnishings()[known].area_m2
        return Octaves(dict(zip(OCTAVES, values, strict=True)))
    given = known.absorption if isinstance(known, OwnMaterial) else known.area_m2
    return given if isinstance(given, Octaves) else Octaves(dict.fromkeys(OCTAVES, given))


def _room(plan: Plan) -> Room:
    assert plan.room is not None, "only asked about a plan with a room"
    return plan.room


def _with_room(plan: Plan, **changes: Any) -> Plan:
    return changed(plan, room=changed(_room(plan), **changes))


def _with_patches(plan: Plan, face: str, patches: tuple[Surface, ...]) -> Plan:
    return _with_room(plan, surfaces=changed(_room(plan).surfaces, **{face: patches}))
