"""Cross-checks: what only goes wrong between the parts of a plan.

Such a plan can be opened, shown and saved; it cannot be computed until they are mended.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Iterator

import numpy as np

from planner.plan.errors import Finding
from planner.plan.loudspeaker import Diaphragm, Dipole, Loudspeaker, Section
from planner.plan.model import Candidate, Plan, Seat, Stand
from planner.plan.room import FACES, Room

__all__ = ["LEAST_DISTANCE_M", "WALL_GAP_M", "cross_checks"]

LEAST_DISTANCE_M = 0.3
WALL_GAP_M = 0.05
_SAME_AREA = 1e-6


def cross_checks(plan: Plan) -> tuple[Finding, ...]:
    """Every finding of the plan, in the order of its keys; empty if it can be computed."""
    return (
        *(() if plan.room is None else _surfaces(plan.room)),
        *_names("seats", (seat.name for seat in plan.seats)),
        *_names("stands", (stand.name for stand in plan.stands)),
        *_inside(plan.room, "seats", plan.seats),
        *_inside(plan.room, "stands", plan.stands),
        *_aims(plan, "stands", plan.stands),
        *_seats_too_near(plan),
        *(finding for index, one in enumerate(plan.candidates) for finding in _candidate(plan, index, one)),
    )


def _names(where: str, names: Iterable[str]) -> Iterator[Finding]:
    for name, count in Counter(names).items():
        if count > 1:
            yield Finding(where, f'"{name}" {count} times', "a different name for each")


def _surfaces(room: Room) -> Iterator[Finding]:
    for face in FACES:
        patches = getattr(room.surfaces, face)
        where, whole = f"room.surfaces.{face}", room.face_area_m2(face)
        open_patches = sum(patch.area_m2 is None for patch in patches)
        given = sum(patch.area_m2 or 0.0 for patch in patches)
        if open_patches > 1:
            yield Finding(where, f"{open_patches} without", "at most one material without area_m2")
        if given > whole * (1 + _SAME_AREA):
            yield Finding(where, f"{given:g} m²", f"areas of at most {whole:g} m², the size of this face")
        elif not open_patches and given < whole * (1 - _SAME_AREA):
            expected = (
                f"areas that fill this face of {whole:g} m², or one material without area_m2 for the rest"
            )
            yield Finding(where, f"{given:g} m²", expected)


def _inside(room: Room | None, where: str, things: tuple[Seat | Stand, ...]) -> Iterator[Finding]:
    if room is None:
        return
    for index, thing in enumerate(things):
        for key, limit in zip(("x_m", "y_m", "z_m"), room.dimensions_m, strict=True):
            value = getattr(thing, key)
            if not 0.0 <= value <= limit:
                expected = f"a place in the room, 0 to {limit:g} m"
                yield Finding(f"{where}[{index}].{key}", f"{value:g}", expected)


def _aims(plan: Plan, where: str, stands: tuple[Stand, ...]) -> Iterator[Finding]:
    names = [seat.name for seat in plan.seats]
    for index, stand in enumerate(stands):
        if stand.aim.seat is not None and stand.aim.seat not in names:
            expected = f"a seat of this plan: {', '.join(names)}"
            yield Finding(f"{where}[{index}].aim.seat", f'"{stand.aim.seat}"', expected)


def _too_near(plan: Plan, stands: tuple[Stand, ...]) -> Iterator[tuple[int, int, str]]:
    """Seat and stand, by their numbers, that are too near one another, and by how far they are apart."""
    seats = np.array([seat.position_m for seat in plan.seats])
    distance = np.linalg.norm(seats[:, None] - np.array([one.position_m for one in stands]), axis=-1)
    for seat, stand in np.argwhere(distance < LEAST_DISTANCE_M).tolist():
        yield seat, stand, f"{distance[seat, stand]:.2f} m"


def _seats_too_near(plan: Plan) -> Iterator[Finding]:
    expected = f"a seat at least {LEAST_DISTANCE_M:g} m from every stand"
    for seat, stand, apart in _too_near(plan, plan.stands):
        yield Finding(f"seats[{seat}]", f"{apart} from {plan.stands[stand].name}", expected)


def _own_stands(plan: Plan, where: str, stands: tuple[Stand, ...]) -> Iterator[Finding]:
    """What is wrong with the places that only one candidate stands in."""
    yield from _names(where, (stand.name for stand in stands))
    yield from _inside(plan.room, where, stands)
    yield from _aims(plan, where, stands)
    expected = f"a stand at least {LEAST_DISTANCE_M:g} m from every seat"
    for seat, stand, apart in _too_near(plan, stands):
        yield Finding(f"{where}[{stand}]", f"{apart} from {plan.seats[seat].name}", expected)


def _candidate(plan: Plan, index: int, candidate: Candidate) -> Iterator[Finding]:
    where = f"candidates[{index}]"
    loudspeaker, stands = candidate.loudspeaker, plan.stands_of(index)
    at = "stands" if candidate.stands is None else f"{where}.stands"
    if candidate.stands is not None:
        yield from _own_stands(plan, at, stands)
    yield from _names(f"{where}.loudspeaker.sections", (section.name for section in loudspeaker.sections))
    yield from _names(f"{where}.amplifiers", (amplifier.name for amplifier in candidate.amplifiers))
    yield from _edges(f"{where}.loudspeaker.sections", loudspeaker.sections)
    yield from _wired(f"{where}.loudspeaker.sections", loudspeaker.sections)
    yield from _radiation(f"{where}.loudspeaker", loudspeaker)
    yield from _drives(where, candidate)
    yield from _taps(where, candidate)
    yield from _carried(at, stands, where, loudspeaker)
    if loudspeaker.baffle_width_m == "wall":
        yield from _wall_stands(plan.room, at, stands, where)


def _edges(where: str, sections: tuple[Section, ...]) -> Iterator[Finding]:
    for index, (lower, upper) in enumerate(itertools.pairwise(sections), start=1):
        if (upper.low_hz, upper.high_hz) <= (lower.low_hz, lower.high_hz):
            yield Finding(
                f"{where}[{index}]", upper.name, f"sections listed from low to high, after {lower.name}"
            )
        elif upper.low_hz > lower.high_hz:
            gap = f"{lower.high_hz:g} to {upper.low_hz:g} Hz"
            yield Finding(
                f"{where}[{index}].low_hz", f"{upper.low_hz:g}", f"no gap between sections, as at {gap}"
            )
        lower_slope, upper_slope = lower.slopes_db_per_octave[1], upper.slopes_db_per_octave[0]
        if lower_slope != upper_slope:
            found = f"{lower_slope:g} and {upper_slope:g} dB per octave"
            expected = f"the slope that {lower.name} has at the edge they share"
            yield Finding(f"{where}[{index}].slopes_db_per_octave[0]", found, expected)


def _radiation(where: str, loudspeaker: Loudspeaker) -> Iterator[Finding]:
    dipole = any(isinstance(section.radiator, Dipole) for section in loudspeaker.sections)
    if dipole and loudspeaker.radiates_into != "free_field":
        yield Finding(f"{where}.radiates_into", loudspeaker.radiates_into, '"free_field" for a dipole')


def _wired(where: str, sections: tuple[Section, ...]) -> Iterator[Finding]:
    for index, section in enumerate(sections):
        at = f"{where}[{index}]"
        if section.wiring is not None and not isinstance(section.radiator, Diaphragm):
            yield Finding(
                f"{at}.wiring", f'"{section.wiring}"', "wiring only where radiator.count says of how many"
            )
        elif section.wiring is not None and section.sensitivity.drive == "1 W" and section.impedance is None:
            yield Finding(f"{at}.impedance", "", "the impedance of one driver, into which its 1 W goes")


def _drives(where: str, candidate: Candidate) -> Iterator[Finding]:
    loudspeaker = candidate.loudspeaker
    names = [section.name for section in loudspeaker.sections]
    driven = [amplifier.drives for amplifier in candidate.amplifiers]
    for index, name in enumerate(driven):
        if name != "all" and name not in names:
            expected = f'"all" or a section of the loudspeaker: {", ".join(names)}'
            yield Finding(f"{where}.amplifiers[{index}].drives", f'"{name}"', expected)
    if "all" in driven:
        if len(driven) > 1:
            yield Finding(
                f"{where}.amplifiers", f"{len(driven)} amplifiers", "one that drives all, or one a section"
            )
        if loudspeaker.impedance is None:
            yield Finding(
                f"{where}.loudspeaker.impedance", "", "the impedance of the whole, which one amplifier drives"
            )
        return
    for index, section in enumerate(loudspeaker.sections):
        if driven.count(section.name) != 1:
            found = f"{driven.count(section.name)} amplifiers on {section.name}"
            yield Finding(f"{where}.amplifiers", found, "one amplifier for each section")
        if section.impedance is None:
            at = f"{where}.loudspeaker.sections[{index}].impedance"
            yield Finding(at, "", "the impedance of this section, which has its own amplifier")


def _taps(where: str, candidate: Candidate) -> Iterator[Finding]:
    for index, amplifier in enumerate(candidate.amplifiers):
        ohms = sorted({rating.ohm for rating in amplifier.taps})
        if amplifier.tap_ohm is not None and amplifier.tap_ohm not in ohms:
            expected = f"a tap of {amplifier.name}: {', '.join(f'{ohm:g}' for ohm in ohms)} ohm"
            yield Finding(f"{where}.amplifiers[{index}].tap_ohm", f"{amplifier.tap_ohm:g}", expected)


def _carried(at: str, stands: tuple[Stand, ...], where: str, loudspeaker: Loudspeaker) -> Iterator[Finding]:
    names = {section.name for section in loudspeaker.sections}
    carried: set[str] = set()
    for index, stand in enumerate(stands):
        carried |= names if stand.carries is None else set(stand.carries)
        for name in set(stand.carries or ()) - names:
            expected = f"sections of {where}: {', '.join(sorted(names))}"
            yield Finding(f"{at}[{index}].carries", f'"{name}"', expected)
    for name in sorted(names - carried):
        yield Finding(at, f"no stand carries {name}", f"each section of {where} on some stand")


def _wall_stands(room: Room | None, at: str, stands: tuple[Stand, ...], where: str) -> Iterator[Finding]:
    if room is None:
        return
    length, width, _ = room.dimensions_m
    expected = f"a place within {WALL_GAP_M:g} m of a wall, for the loudspeaker of {where} flush in a wall"
    for index, stand in enumerate(stands):
        gap = min(stand.x_m, length - stand.x_m, stand.y_m, width - stand.y_m)
        if gap > WALL_GAP_M:
            yield Finding(f"{at}[{index}]", f"{gap:.2f} m from a wall", expected)
