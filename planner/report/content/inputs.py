"""All inputs of the plan with their units: the room and the question first, then each candidate's system."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.headroom.weight import CODE_LOADS
from planner.plan import Plan
from planner.plan.fields import Part
from planner.plan.model import Candidate, Seat, Stand
from planner.plan.units import Preference, show
from planner.report.cautions import FLOOR_CAUTION
from planner.report.content.blocks import Block, Column, Heading, Side, Table, Terms, Text
from planner.report.content.fields import curve_text, curves_of, fields_of, side_by_side, value_text
from planner.report.content.measures import NOTHING, figure, plain
from planner.report.content.room_inputs import room_inputs
from planner.report.gather import Case
from planner.report.language import tr

__all__ = ["question_inputs", "system_inputs"]

CURVE_WORDS = {
    "response": "{name}, response",
    "table": "{name}, impedance",
    "coherence": "Coherence of the channels",
    "bands": "Recording, level by third octave re full scale",
}


def question_inputs(plan: Plan, preference: Preference) -> Iterator[Block]:
    """What all candidates share: room, seats, stands, target, programme."""
    yield Heading(tr("The room and the question"), 1)
    if plan.notes:
        yield Text(plan.notes, "note")
    asked = [
        *fields_of(plan.target, preference),
        *fields_of(plan.programme, preference),
        *_recorded_sections(plan, preference),
        (tr("Ratings count up to"), tr("{pct} % distortion", pct=plain(plan.at_distortion_pct))),
    ]
    room: list[tuple[str, str]] = [(tr("Room"), tr("open air"))]
    if plan.room is not None:
        room = list(fields_of(plan.room, preference))
    left: tuple[Block, ...] = (Heading(tr("Room"), 3), _pairs(room))
    right: tuple[Block, ...] = (Heading(tr("Target and programme"), 3), _pairs(asked))
    yield Side((left, right), (1.0, 1.0))
    yield from _curve_terms(("", plan.programme))
    if plan.room is not None:
        yield from room_inputs(plan.room, preference)
    yield from _places(plan, preference)


def _recorded_sections(plan: Plan, preference: Preference) -> Iterator[tuple[str, str]]:
    """Crest factors of a recording as each section of a loudspeaker gets it."""
    recording = plan.programme.recording
    for section in () if recording is None else recording.sections:
        low, high = (
            NOTHING if edge is None else f"{plain(edge)} Hz" for edge in (section.low_hz, section.high_hz)
        )
        label = tr("Crest factor between {low} and {high}", low=low, high=high)
        yield label, value_text(section, "crest_db", preference)


def _pairs(pairs: list[tuple[str, str]]) -> Table:
    return Table((Column(tr("Quantity"), side="left"), Column(tr("Value"))), tuple(pairs))


def _places(plan: Plan, preference: Preference) -> Iterator[Block]:
    yield Heading(tr("Seats and stands"), 3)
    yield _place_table((*plan.seats, *plan.stands), preference)
    text = tr(
        "x from the front wall along the length, y from the left wall along the width, z above the floor."
    )
    yield Text(text, "note")


def _place_table(things: Sequence[Seat | Stand], preference: Preference) -> Table:
    us = preference is Preference.US
    columns = (
        Column(tr("Name"), side="left"),
        *(Column(axis, "m") for axis in "xyz"),
        *((Column(axis, "ft, in") for axis in "xyz") if us else ()),
        Column(tr("Points at"), side="left"),
        Column(tr("Carries"), side="left"),
    )
    rows = []
    for thing in things:
        metres = [figure(value, 2) for value in thing.position_m]
        if us:
            metres += [show(value, "m", preference) for value in thing.position_m]
        aim = (
            (_aim(thing), ", ".join(thing.carries or (tr("all"),))) if isinstance(thing, Stand) else ("", "")
        )
        rows.append((thing.name, *metres, *aim))
    return Table(columns, tuple(rows))


def _aim(stand: Stand) -> str:
    aim = stand.aim
    if aim.seat is not None:
        return aim.seat
    return f"{plain(aim.azimuth_deg or 0.0)}°, {plain(aim.elevation_deg or 0.0)}°"


def system_inputs(case: Case, preference: Preference) -> Iterator[Block]:
    """The loudspeaker, its sections, the amplifiers and what connects them, as the plan gives them."""
    candidate, loudspeaker = case.candidate, case.candidate.loudspeaker
    yield Heading(tr("The system as the plan gives it"))
    whole: list[Block] = [
        Heading(tr("Loudspeaker: {name}", name=loudspeaker.name), 3),
        _pairs(list(fields_of(loudspeaker, preference))),
    ]
    if loudspeaker.note:
        whole.append(Text(loudspeaker.note, "note"))
    beside = (*_connected(candidate, preference), *_weight(case))
    if beside:
        yield Side((tuple(whole), beside), (1.0, 1.0))
    else:
        yield from whole
    yield Heading(tr("Sections"), 3)
    yield from side_by_side([(one.name, list(fields_of(one, preference))) for one in loudspeaker.sections])
    yield from _curve_terms(
        (loudspeaker.name, loudspeaker), *((one.name, one) for one in loudspeaker.sections)
    )
    yield from _amplifiers(candidate, preference)
    if candidate.stands is not None:
        yield Heading(tr("Stands of its own"), 3)
        yield _place_table(candidate.stands, preference)


def _connected(candidate: Candidate, preference: Preference) -> Iterator[Block]:
    """Cable and source, where the plan names them."""
    for title, part in ((tr("Cable"), candidate.cable), (tr("Source"), candidate.source)):
        if part is not None:
            yield Heading(title, 3)
            yield _pairs(list(fields_of(part, preference)))


def _weight(case: Case) -> Iterator[Block]:
    """Loads on the floor beside what codes ask of common floors, where masses and footprints are given."""
    if not case.answer.floor_loads:
        return
    yield Heading(tr("Weight on the floor"), 3)
    columns = (
        Column(tr("Thing"), side="left"),
        Column(tr("Mass"), "kg"),
        Column(tr("On"), "m²"),
        Column(tr("Mean load"), "kN/m²"),
        Column(tr("The same"), "psf"),
    )
    rows = tuple(
        (
            one.name,
            plain(one.mass_kg),
            figure(one.area_m2, 2),
            figure(one.load_kn_m2, 2),
            figure(one.load_psf),
        )
        for one in case.answer.floor_loads
    )
    yield Table(columns, rows)
    sources = "; ".join(one.source for one in CODE_LOADS)
    yield Text(f"{sources}. {tr(FLOOR_CAUTION)}", "note")


def _curve_terms(*parts: tuple[str, Part]) -> Iterator[Terms]:
    pairs = tuple(
        (tr(CURVE_WORDS.get(kind, kind)).format(name=name), curve_text(rows, kind))
        for name, part in parts
        for rows, kind in curves_of(part)
    )
    if pairs:
        yield Terms(pairs)


def _amplifiers(candidate: Candidate, preference: Preference) -> Iterator[Block]:
    """What each amplifier is, and beside it or below what its taps give."""
    facts = [(one.name, list(fields_of(one, preference))) for one in candidate.amplifiers]
    yield Heading(tr("Amplifiers"), 3)
    if len(facts) == 1:
        yield Side((tuple(side_by_side(facts)), (_taps(candidate, named=False),)), (1.0, 1.0))
    else:
        yield from side_by_side(facts)
        yield _taps(candidate, named=True)


def _taps(candidate: Candidate, *, named: bool) -> Table:
    columns = (
        *((Column(tr("Amplifier"), side="left"),) if named else ()),
        Column(tr("Tap"), "Ω"),
        Column(tr("Continuous sine"), "W"),
        Column(tr("At distortion"), "%"),
        Column(tr("Output impedance"), "Ω"),
    )
    rows = tuple(
        (
            *((one.name if number == 0 else "",) if named else ()),
            plain(tap.ohm),
            plain(tap.watts),
            plain(tap.distortion_pct),
            plain(tap.output_ohm),
        )
        for one in candidate.amplifiers
        for number, tap in enumerate(one.taps)
    )
    return Table(columns, rows)
