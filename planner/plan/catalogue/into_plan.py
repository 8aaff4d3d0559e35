"""From the catalogue into a plan, as full copies that remember their entry, and from a plan back."""

from __future__ import annotations

from math import log10

from planner.plan.amplifier import Amplifier
from planner.plan.catalogue.entry import (
    AmplifierEntry,
    CableEntry,
    Entry,
    LoudspeakerEntry,
    MaterialEntry,
    SourceEntry,
    entry_of,
)
from planner.plan.edit import Path
from planner.plan.loudspeaker import Diaphragm, Loudspeaker, Section
from planner.plan.model import Candidate, Plan
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.parts import changed, placed, swapped, without

__all__ = ["from_candidate", "put_into", "put_material"]

EIGHT_OHM = 8.0
"""What the trade's 2.83 V make 1 W in."""
LEAST_TRIM_DB = -60.0


def put_into(plan: Plan, candidate: int, entry: Entry, amplifier: int | None = None) -> Plan:
    """The plan with one part of a candidate replaced by a copy of an entry.

    A new loudspeaker keeps the amplifiers where they still fit: one for all, or one for each of sections
    with the same names. Where they do not, the first of them drives all, or, if the loudspeaker gives no
    impedance of the whole but one of each section, each of these has a copy of it. Amplifiers of sections
    are trimmed so that all sections are as loud as the least sensitive. An amplifier takes the place of one
    of several (*amplifier*), or, where none is named, of each; what it drives and its trim stay. Stands
    stay as they are: what they carry is the plan's, and a section that no longer exists is a finding there.

    Raises
    ------
    TypeError
        If the entry is a material, which belongs to a surface: see :func:`put_material`.
    """
    system = plan.candidates[candidate]
    match entry:
        case LoudspeakerEntry():
            loudspeaker = changed(entry.data, catalogue_id=entry.id)
            amplifiers = _fitting(system.amplifiers, loudspeaker)
            after = changed(system, loudspeaker=loudspeaker, amplifiers=amplifiers)
        case AmplifierEntry():
            given = changed(entry.data, catalogue_id=entry.id)
            after = changed(system, amplifiers=_with_amplifier(system.amplifiers, given, amplifier))
        case CableEntry():
            after = changed(system, cable=changed(entry.data, catalogue_id=entry.id))
        case SourceEntry():
            after = changed(system, source=changed(entry.data, catalogue_id=entry.id))
        case MaterialEntry():
            raise TypeError("a material belongs to a surface, not to a candidate")
    return placed(plan, ("candidates", candidate), after)


def put_material(plan: Plan, path: Path, entry: MaterialEntry) -> Plan:
    """The plan with the surface at *path* (``room.surfaces.floor[0]``) of the entry's material."""
    return placed(plan, (*path, "material"), entry.data)


def from_candidate(
    candidate: Candidate, kind: str, name: str | None = None, note: str | None = None, amplifier: int = 0
) -> Entry:
    """An entry made of a candidate's part; cable and source take the candidate's name if none is given.

    Raises
    ------
    LookupError
        If the candidate has no such part.
    """
    part = candidate.amplifiers[amplifier] if kind == "amplifier" else getattr(candidate, kind, None)
    if kind not in ("loudspeaker", "amplifier", "cable", "source") or part is None:
        raise LookupError(f"{candidate.name} has no {kind}")
    return entry_of(part, name or getattr(part, "name", candidate.name), note)


def _fitting(amplifiers: tuple[Amplifier, ...], loudspeaker: Loudspeaker) -> tuple[Amplifier, ...]:
    """The amplifiers as they can drive a loudspeaker; see :func:`put_into`."""
    names = [section.name for section in loudspeaker.sections]
    drives = [one.drives for one in amplifiers]
    by_section = all(section.impedance is not None for section in loudspeaker.sections)
    as_one = loudspeaker.impedance is not None or not by_section
    if as_one and drives == ["all"]:
        return amplifiers
    if not by_section or sorted(drives) != sorted(names):
        first = amplifiers[0]
        name = first.name.removesuffix(f", {first.drives}")
        one = changed(first, name=name, drives="all", trim_db=0.0)
        if as_one:
            return (one,)
        amplifiers = tuple(_on_section(one, section) for section in names)
    return _trimmed(amplifiers, loudspeaker)


def _on_section(amplifier: Amplifier, section: str) -> Amplifier:
    return changed(amplifier, name=f"{amplifier.name}, {section}", drives=section)


def _trimmed(amplifiers: tuple[Amplifier, ...], loudspeaker: Loudspeaker) -> tuple[Amplifier, ...]:
    """An amplifier for each section, turned down to what the section that makes least of a volt makes."""
    level_db = {section.name: _volt_level_db(section) for section in loudspeaker.sections}
    least_db = min(level_db.values())
    trims_db = {name: max(round(least_db - level, 2), LEAST_TRIM_DB) for name, level in level_db.items()}
    return tuple(changed(one, trim_db=trims_db[one.drives]) for one in amplifiers)


def _volt_level_db(section: Section) -> float:
    """Level at 1 m for 1 V at the terminals of a section that has an impedance of its own [dB]."""
    assert section.impedance is not None
    ohm = section.impedance.nominal_ohm if section.sensitivity.drive == "1 W" else EIGHT_OHM
    count = section.radiator.count if isinstance(section.radiator, Diaphragm) else 1
    coupled_db = 20.0 * log10(count) if section.wiring == "parallel" else 0.0
    return section.sensitivity.level_db + coupled_db - 10.0 * log10(ohm)


def _with_amplifier(
    amplifiers: tuple[Amplifier, ...], given: Amplifier, index: int | None
) -> tuple[Amplifier, ...]:
    """Amplifiers with another one in the place of one of them, or of each."""
    if index is None and len(amplifiers) > 1:
        return tuple(changed(_on_section(given, old.drives), trim_db=old.trim_db) for old in amplifiers)
    index = index or 0
    old = amplifiers[index]
    name = unique_name(given.name, (one.name for one in without(amplifiers, index)))
    kept = {} if old.drives == "all" else {"trim_db": old.trim_db}
    return swapped(amplifiers, index, changed(given, name=name, drives=old.drives, **kept))
