"""Sections of a candidate's loudspeaker: added, split, renamed and taken away.

Sections are listed from low to high. With an amplifier per section each change of the sections
brings, renames or takes the amplifier that belongs to it; stands go on carrying what they carried.
"""

from __future__ import annotations

from math import log2, sqrt

from planner.plan.amplifier import Amplifier
from planner.plan.loudspeaker import Section
from planner.plan.model import Plan, Stand
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.own_places import stands_at, whose_stands, with_stands
from planner.plan.reshape.parts import changed, inserted, placed, swapped, without

__all__ = ["add_section", "remove_section", "rename_section", "split_section"]

LOWEST_HZ, HIGHEST_HZ = 20.0, 20_000.0
LEAST_GAP = 1.25
"""An end of the audible band that no section covers counts as open if it is wider than this ratio."""


def add_section(plan: Plan, candidate: int) -> Plan:
    """Another section: where the band is open above or below, else the widest one is split."""
    sections = plan.candidates[candidate].loudspeaker.sections
    lowest, highest = sections[0], sections[-1]
    if HIGHEST_HZ / highest.high_hz > LEAST_GAP:
        slope = highest.slopes_db_per_octave[1]
        upper = changed(
            highest, low_hz=highest.high_hz, high_hz=HIGHEST_HZ, slopes_db_per_octave=(slope, slope)
        )
        return _joined(plan, candidate, len(sections), highest, upper)
    if lowest.low_hz / LOWEST_HZ > LEAST_GAP:
        slope = lowest.slopes_db_per_octave[0]
        lower = changed(lowest, low_hz=LOWEST_HZ, high_hz=lowest.low_hz, slopes_db_per_octave=(slope, slope))
        return _joined(plan, candidate, 0, lowest, lower)
    widths = [log2(section.high_hz / section.low_hz) for section in sections]
    return split_section(plan, candidate, widths.index(max(widths)))


def split_section(plan: Plan, candidate: int, index: int) -> Plan:
    """A section cut in two near the geometric middle of its band."""
    section = plan.candidates[candidate].loudspeaker.sections[index]
    middle_hz = _rounder(sqrt(section.low_hz * section.high_hz), section)
    slope = section.slopes_db_per_octave[1]
    lower = changed(section, high_hz=middle_hz)
    upper = changed(section, low_hz=middle_hz, slopes_db_per_octave=(slope, slope))
    after = _with_sections(plan, candidate, swapped(_sections(plan, candidate), index, lower))
    return _joined(after, candidate, index + 1, section, upper)


def remove_section(plan: Plan, candidate: int, index: int) -> Plan:
    """The plan without a section; the one below it takes its band if there is one above it too."""
    gone, sections = _sections(plan, candidate)[index], without(_sections(plan, candidate), index)
    if 0 < index < len(sections):
        below = sections[index - 1]
        slopes = below.slopes_db_per_octave[0], gone.slopes_db_per_octave[1]
        wider = changed(below, high_hz=gone.high_hz, slopes_db_per_octave=slopes)
        sections = swapped(sections, index - 1, wider)
    amplifiers = plan.candidates[candidate].amplifiers
    kept = tuple(one for one in amplifiers if one.drives != gone.name)
    after = _with_sections(plan, candidate, sections, kept or amplifiers)
    return _no_longer_carried(after, whose_stands(plan, candidate), gone.name)


def rename_section(plan: Plan, candidate: int, index: int, name: str) -> Plan:
    """The plan with a section renamed; its amplifier and the stands that carry it keep it."""
    section, amplifiers = _sections(plan, candidate)[index], plan.candidates[candidate].amplifiers
    sections = swapped(_sections(plan, candidate), index, changed(section, name=name))
    if section.name in (one.name for one in sections):
        return _with_sections(plan, candidate, sections)
    driving = tuple(changed(one, drives=name) if one.drives == section.name else one for one in amplifiers)
    stands = tuple(_renamed(stand, section.name, name) for stand in plan.stands_of(candidate))
    after = _with_sections(plan, candidate, sections, driving)
    return with_stands(after, whose_stands(plan, candidate), stands)


def _rounder(hertz: float, section: Section) -> float:
    """A frequency of two figures near one, if it still lies inside the section."""
    rounded = float(f"{hertz:.2g}")
    return rounded if section.low_hz < rounded < section.high_hz else hertz


def _joined(plan: Plan, candidate: int, index: int, like: Section, new: Section) -> Plan:
    """The plan with a new section at *index*, driven and carried as the section that it is like."""
    sections = _sections(plan, candidate)
    name = unique_name(like.name, (section.name for section in sections))
    amplifiers = _with_twin(plan.candidates[candidate].amplifiers, like.name, name)
    after = _with_sections(plan, candidate, inserted(sections, index, changed(new, name=name)), amplifiers)
    stands = tuple(_carrying(stand, like.name, name) for stand in plan.stands_of(candidate))
    return with_stands(after, whose_stands(plan, candidate), stands)


def _with_twin(amplifiers: tuple[Amplifier, ...], like: str, name: str) -> tuple[Amplifier, ...]:
    """The amplifiers with a second one like that which drives *like*, for the section *name*."""
    for place, amplifier in enumerate(amplifiers):
        if amplifier.drives == like:
            title = unique_name(amplifier.name, (one.name for one in amplifiers))
            return inserted(amplifiers, place + 1, changed(amplifier, name=title, drives=name))
    return amplifiers


def _no_longer_carried(plan: Plan, whose: int | None, name: str) -> Plan:
    """The plan whose stands carry a section no longer, unless somebody there still has one of that name."""
    there = [plan.candidates[whose]] if whose is not None else [c for c in plan.candidates if not c.stands]
    if any(one.name == name for system in there for one in system.loudspeaker.sections):
        return plan
    before = stands_at(plan, whose)
    stands = tuple(
        changed(stand, carries=tuple(one for one in stand.carries if one != name)) if stand.carries else stand
        for stand in before
        if stand.carries != (name,)
    )
    return with_stands(plan, whose, stands or (changed(before[0], carries=None),))


def _carrying(stand: Stand, like: str, name: str) -> Stand:
    if stand.carries is None or like not in stand.carries:
        return stand
    return changed(stand, carries=(*stand.carries, name))


def _renamed(stand: Stand, old: str, new: str) -> Stand:
    if stand.carries is None or old not in stand.carries:
        return stand
    return changed(stand, carries=tuple(new if name == old else name for name in stand.carries))


def _sections(plan: Plan, candidate: int) -> tuple[Section, ...]:
    return plan.candidates[candidate].loudspeaker.sections


def _with_sections(
    plan: Plan,
    candidate: int,
    sections: tuple[Section, ...],
    amplifiers: tuple[Amplifier, ...] | None = None,
) -> Plan:
    system = plan.candidates[candidate]
    loudspeaker = changed(system.loudspeaker, sections=sections)
    after = changed(system, loudspeaker=loudspeaker, amplifiers=amplifiers or system.amplifiers)
    return placed(plan, ("candidates", candidate), after)
