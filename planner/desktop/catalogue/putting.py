"""Where in the plan an entry can go, and the plan with it there."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from planner.plan import Plan
from planner.plan.catalogue import Entry, MaterialEntry, put_into, put_material, title_of
from planner.plan.edit import Path
from planner.plan.room import FACES, OwnMaterial
from planner.report.drawing.words import face_name
from planner.resources import materials

__all__ = ["PutPlace", "catalogue_id_at", "places_for", "plan_with", "put_text"]

translate = QCoreApplication.translate


@dataclass(frozen=True, slots=True)
class PutPlace:
    """One place that an entry can take: an amplifier by its number, or a surface by its path.

    With neither it is the candidate's only part of that kind, or each of its amplifiers.
    """

    words: str
    amplifier: int | None = None
    surface: Path | None = None


def places_for(plan: Plan, candidate: int, kind: str) -> list[PutPlace]:
    """The places for an entry of a kind; empty if there is none."""
    if kind == "material":
        return _surfaces(plan)
    if kind != "amplifier":
        return [PutPlace("")]
    amplifiers = plan.candidates[candidate].amplifiers
    if len(amplifiers) == 1:
        return [PutPlace(amplifiers[0].name)]
    each = PutPlace(translate("Catalogue", "each amplifier"))
    return [each, *(PutPlace(one.name, amplifier=index) for index, one in enumerate(amplifiers))]


def plan_with(plan: Plan, candidate: int, entry: Entry, place: PutPlace) -> Plan:
    """The plan with a copy of the entry at a place."""
    if isinstance(entry, MaterialEntry):
        assert place.surface is not None, "a material goes to a surface"
        return put_material(plan, place.surface, entry)
    return put_into(plan, candidate, entry, place.amplifier)


def put_text(plan: Plan, candidate: int, entry: Entry, place: PutPlace) -> str:
    """What undo calls the step."""
    where = place.words if isinstance(entry, MaterialEntry) else plan.candidates[candidate].name
    return translate("Catalogue", "Put {0} into {1}").format(title_of(entry), where)


def catalogue_id_at(plan: Plan, candidate: int, kind: str, amplifier: int | None = None) -> str:
    """The entry that a candidate's part was copied from, or nothing."""
    if kind == "material":
        return ""
    system = plan.candidates[candidate]
    part = system.amplifiers[amplifier or 0] if kind == "amplifier" else getattr(system, kind)
    return getattr(part, "catalogue_id", None) or ""


def _surfaces(plan: Plan) -> list[PutPlace]:
    if plan.room is None:
        return []
    found = []
    for face in FACES:
        for index, patch in enumerate(getattr(plan.room.surfaces, face)):
            words = f"{face_name(face)}: {_material_words(patch.material)}"
            found.append(PutPlace(words, surface=("room", "surfaces", face, index)))
    return found


def _material_words(material: str | OwnMaterial) -> str:
    return material.name if isinstance(material, OwnMaterial) else materials()[material].description
