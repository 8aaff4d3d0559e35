"""The drawing in words: what stands where, for the tooltip, the line below and those who cannot see it."""

from __future__ import annotations

import math

from PySide6.QtCore import QCoreApplication

from planner.headroom.coverage import LeastDistance
from planner.plan.model import Seat, Stand
from planner.plan.room import Room
from planner.plan.units import Preference, show
from planner.report.drawing.hints import material_name
from planner.report.drawing.look import Look, place_of
from planner.report.drawing.places import Place, Position
from planner.report.drawing.reach import Outside
from planner.report.drawing.walls import Strip

__all__ = [
    "any_outside",
    "coordinates_text",
    "distance_m",
    "fault_text",
    "frequency_text",
    "length_text",
    "reach_text",
    "status_text",
    "summary",
    "thing_text",
    "tr",
    "wall_text",
]


def tr(text: str) -> str:
    """The text in the language of the window."""
    return QCoreApplication.translate("RoomDrawing", text)


def length_text(length_m: float, preference: Preference) -> str:
    """A length as drawings write it: to the centimetre, or to the inch."""
    return show(length_m, "m", preference, decimals=0 if preference is Preference.US else 2)


def distance_m(seat: Seat, stand: Stand) -> float:
    """From a seat to a stand, through the air [m]."""
    return math.dist(seat.position_m, stand.position_m)


def coordinates_text(position_m: Position, preference: Preference, axes: tuple[int, ...] = (0, 1, 2)) -> str:
    """A position as x, y and z, or as some of them."""
    return ", ".join(f"{'xyz'[axis]} {show(position_m[axis], 'm', preference)}" for axis in axes)


def thing_text(look: Look, place: Place) -> str:
    """Name, coordinates and distance of a seat or stand; of a seat also what the horns do not give it."""
    thing = place.of(look.plan)
    text = f"{thing.name}: {coordinates_text(thing.position_m, look.preference)}"
    if isinstance(thing, Seat):
        return "; ".join((text, *_notes(look, place.index)))
    away = length_text(distance_m(look.listener, thing), look.preference)
    return text + tr("; {distance} from {seat}").format(distance=away, seat=look.listener.name)


def frequency_text(frequency_hz: float) -> str:
    """A frequency of the fans: ``2 kHz``."""
    return f"{frequency_hz / 1000.0:g} kHz"


def any_outside(look: Look) -> bool:
    """Whether some horn does not reach some seat at the frequency of the fans."""
    return any(one.frequency_hz == look.fan_hz for one in look.reach.outside)


def _notes(look: Look, seat: int) -> list[str]:
    """What is to be said of a seat: a horn does not reach it, or it is too near for one source."""
    return [note for note in (_beyond_note(look, seat), _near_note(look, seat)) if note]


def _beyond_note(look: Look, seat: int) -> str:
    beyond = look.reach.beyond(seat, look.fan_hz)
    return _outside_text(look, beyond) if beyond else ""


def _near_note(look: Look, seat: int) -> str:
    near = look.reach.too_near(look.plan.seats[seat].name)
    return "" if near is None else _near_text(near, look.preference)


def _outside_text(look: Look, beyond: tuple[Outside, ...]) -> str:
    figures = {
        "frequency": frequency_text(look.fan_hz),
        "loss": f"{beyond[0].loss_db:.1f}".replace("-", "−"),
        "stand": beyond[0].stand,
    }
    if len(beyond) == len(look.plan.stands):
        return tr("outside the coverage at {frequency}: {loss} dB").format(**figures)
    return tr("outside the coverage of {stand} at {frequency}: {loss} dB").format(**figures)


def _near_text(near: LeastDistance, preference: Preference) -> str:
    if near.rule == "piston":
        text = tr("nearer than {distance} to {stand}: the far field of {part}")
    elif ", " in near.part:
        text = tr("nearer than {distance} to {stand}: 3 × the spacing of {part}")
    else:
        text = tr("nearer than {distance} to {stand}: 3 × the size of {part}")
    return text.format(stand=near.stand, distance=length_text(near.distance_m, preference), part=near.part)


def reach_text(look: Look) -> str:
    """The first thing to be said of a seat, and how many more there are; empty if there is none."""
    notes = [
        f"{seat.name}: {note}"
        for note_of in (_beyond_note, _near_note)
        for number, seat in enumerate(look.plan.seats)
        if (note := note_of(look, number))
    ]
    if not notes:
        return ""
    text, more = notes[0], len(notes) - 1
    return text + (tr(" (and {count} more)").format(count=more) if more else "")


def wall_text(strip: Strip, preference: Preference) -> str:
    """A face and the material met on it."""
    area = strip.patch.area_m2
    size = tr("the rest") if area is None else show(area, "m2", preference)
    return f"{face_name(strip.face)}: {material_name(strip.patch)}, {size}"


def face_name(face: str) -> str:
    """One of the six faces as people say it."""
    return {
        "floor": tr("Floor"),
        "ceiling": tr("Ceiling"),
        "front": tr("Front wall"),
        "back": tr("Back wall"),
        "left": tr("Left wall"),
        "right": tr("Right wall"),
    }[face]


def fault_text(look: Look) -> str:
    """The first finding about a seat or stand, in a sentence; empty if there is none."""
    faults = [(finding, place) for finding in look.findings if (place := place_of(finding)) is not None]
    known = [(finding, place) for finding, place in faults if _exists(look, place)]
    if not known:
        return ""
    finding, place = known[0]
    text = tr("{name}: {found}; expected {expected}").format(
        name=place.of(look.plan).name, found=finding.value, expected=finding.expected
    )
    more = len(known) - 1
    return text + (tr(" (and {count} more)").format(count=more) if more else "")


def _exists(look: Look, place: Place) -> bool:
    """Whether the plan still has it: findings may be those of a plan a moment older."""
    return place.index < len(getattr(look.plan, place.kind))


def status_text(look: Look) -> str:
    """The line below the drawing: what is at fault, else what is selected, else how to begin."""
    fault = fault_text(look)
    if fault:
        return fault
    if look.on_paper:
        return look.plan.title
    if look.selected is not None:
        return thing_text(look, look.selected)
    return reach_text(look) or tr("Drag what you would move, or choose it with Tab and use the arrow keys.")


def summary(look: Look) -> str:
    """The whole drawing in words."""
    plan, preference = look.plan, look.preference
    parts = [_room_text(plan.room, preference)]
    parts += [
        tr("Seat {text}.").format(text=thing_text(look, Place("seats", n))) for n in range(len(plan.seats))
    ]
    parts += [
        tr("Stand {text}.").format(text=thing_text(look, Place("stands", n))) for n in range(len(plan.stands))
    ]
    if look.selected is not None:
        parts.append(tr("Selected: {name}.").format(name=look.selected.of(plan).name))
    fault = fault_text(look)
    return " ".join([*parts, fault] if fault else parts)


def _room_text(room: Room | None, preference: Preference) -> str:
    if room is None:
        return tr("Open air.")
    length, width, height = (length_text(value, preference) for value in room.dimensions_m)
    return tr("Room {length} long, {width} wide and {height} high.").format(
        length=length, width=width, height=height
    )
