"""The single changes that may clear a seat: what each moves, how far, and the plan that it makes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from planner.headroom.drive import load_of, rating_in_use
from planner.headroom.room import TABLE_KEYS, absorption_area
from planner.headroom.scene import BAND_HZ
from planner.headroom.system import system_at
from planner.plan import Plan, put
from planner.plan.checks import LEAST_DISTANCE_M, WALL_GAP_M
from planner.plan.fields import Octaves
from planner.plan.model import Stand
from planner.plan.room import FACES, Furnishing, OwnItem, OwnMaterial, Room, Surface, Surfaces
from planner.resources import furnishings, materials

__all__ = ["CHANGES", "Change"]

MOST_WATTS = 99_000.0
MOST_SENSITIVITY_DB = 130.0
MOST_BAFFLE_M = 6.0
MOST_STANDS = 4
BESIDE_M = 0.6
LEAST_ABSORPTION = 0.25
_LESS = "{name}, absorbing less"
_MIDDLE = int(np.argmin(np.abs(np.log(BAND_HZ / 500.0))))


@dataclass(frozen=True, slots=True)
class Change:
    """One kind of change; all functions take the plan, the candidate and the seat by index.

    ``bounds`` gives the value now and the farthest to try, ``apply`` the plan with a value put in.
    """

    key: str
    unit: str
    applies: Callable[[Plan, int, int], bool]
    bounds: Callable[[Plan, int, int], tuple[float, float]]
    apply: Callable[[Plan, int, int, float], Plan]
    points: int = 1
    ratio: bool = False
    whole: bool = False

    def places(self, start: float, end: float) -> list[float]:
        """Where to look in turn, from now to the farthest: values, or their logarithms for a ratio."""
        if self.whole:
            return [float(value) for value in range(int(start), int(end) + 1)]
        first, last = (float(np.log(start)), float(np.log(end))) if self.ratio else (start, end)
        return [float(place) for place in np.linspace(first, last, self.points + 1)]

    def value_at(self, place: float) -> float:
        """The value that a place of :meth:`places` stands for."""
        return float(np.exp(place)) if self.ratio else place


def _always(plan: Plan, candidate: int, seat: int) -> bool:
    return True


@lru_cache(maxsize=4)
def _limiting_amplifier(plan: Plan, candidate: int) -> int:
    return system_at(plan, candidate).limiting_amplifier


def _rated(plan: Plan, candidate: int, amplifier: int) -> float:
    chosen = plan.candidates[candidate].amplifiers[amplifier]
    nominal = load_of(plan.candidates[candidate], chosen).nominal_ohm
    return rating_in_use(chosen, nominal, plan.at_distortion_pct).watts


def _watts_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    amplifier = _limiting_amplifier(plan, candidate)
    most = max(tap.watts for tap in plan.candidates[candidate].amplifiers[amplifier].taps)
    rated = _rated(plan, candidate, amplifier)
    return rated, MOST_WATTS * rated / most


def _with_watts(plan: Plan, candidate: int, seat: int, watts: float) -> Plan:
    """All ratings of the amplifier that gives out first, in proportion."""
    amplifier = _limiting_amplifier(plan, candidate)
    path = ("candidates", candidate, "amplifiers", amplifier, "taps")
    factor = watts / _rated(plan, candidate, amplifier)
    taps = plan.candidates[candidate].amplifiers[amplifier].taps
    return _as_plan(put(plan, path, tuple(put(tap, ("watts",), tap.watts * factor) for tap in taps)))


def _sensitivity_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    levels = [section.sensitivity.level_db for section in plan.candidates[candidate].loudspeaker.sections]
    return levels[0], levels[0] + MOST_SENSITIVITY_DB - max(levels)


def _with_sensitivity(plan: Plan, candidate: int, seat: int, level_db: float) -> Plan:
    """The first section at a level, the others raised as much."""
    sections = plan.candidates[candidate].loudspeaker.sections
    more = level_db - sections[0].sensitivity.level_db
    raised = tuple(
        put(section, ("sensitivity", "level_db"), section.sensitivity.level_db + more) for section in sections
    )
    return _as_plan(put(plan, ("candidates", candidate, "loudspeaker", "sections"), raised))


def _nearest_stand(plan: Plan, seat: int) -> Stand:
    place = np.array(plan.seats[seat].position_m)
    return min(plan.stands, key=lambda stand: float(np.linalg.norm(place - stand.position_m)))


def _distance_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    stand, place = _nearest_stand(plan, seat), plan.seats[seat]
    now = float(np.linalg.norm(np.subtract(place.position_m, stand.position_m)))
    return now, max(LEAST_DISTANCE_M, abs(place.z_m - stand.z_m)) * 1.05


def _can_come_nearer(plan: Plan, candidate: int, seat: int) -> bool:
    now, nearest = _distance_bounds(plan, candidate, seat)
    return nearest < now


def _with_distance(plan: Plan, candidate: int, seat: int, distance_m: float) -> Plan:
    """The seat moved level toward its nearest loudspeaker until it is so far from it."""
    stand, place = _nearest_stand(plan, seat), plan.seats[seat]
    way = np.subtract(place.position_m, stand.position_m)[:2]
    level = np.sqrt(max(distance_m**2 - (place.z_m - stand.z_m) ** 2, 0.0)) / np.linalg.norm(way)
    x, y = np.array(stand.position_m)[:2] + way * level
    moved = put(put(place, ("x_m",), float(x)), ("y_m",), float(y))
    return _as_plan(put(plan, ("seats", seat), moved))


def _target_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    held = plan.target.peak_db if plan.target.peak_db is not None else plan.target.average_db
    return held or 0.0, 0.0


def _with_target(plan: Plan, candidate: int, seat: int, level_db: float) -> Plan:
    key = "peak_db" if plan.target.peak_db is not None else "average_db"
    return _as_plan(put(plan, ("target", key), level_db))


def _holds_average(plan: Plan, candidate: int, seat: int) -> bool:
    return plan.target.average_db is not None and plan.programme.crest_db > 0.0


def _crest_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    return plan.programme.crest_db, 0.0


def _with_crest(plan: Plan, candidate: int, seat: int, crest_db: float) -> Plan:
    return _as_plan(put(plan, ("programme", "crest_db"), crest_db))


def _has_step(plan: Plan, candidate: int, seat: int) -> bool:
    loudspeaker = plan.candidates[candidate].loudspeaker
    width = loudspeaker.baffle_width_m
    return loudspeaker.radiates_into == "half_space" and width != "wall" and width < MOST_BAFFLE_M


def _baffle_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    width = plan.candidates[candidate].loudspeaker.baffle_width_m
    return float(width), MOST_BAFFLE_M


def _with_baffle(plan: Plan, candidate: int, seat: int, width_m: float) -> Plan:
    return _as_plan(put(plan, ("candidates", candidate, "loudspeaker", "baffle_width_m"), width_m))


def _stands_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    return float(len(plan.stands)), float(len(plan.stands) * MOST_STANDS)


def _with_stands(plan: Plan, candidate: int, seat: int, count: float) -> Plan:
    """More loudspeakers of the same kind, each beside one that stands already, toward the middle."""
    stands = list(plan.stands)
    for extra in range(int(count) - len(plan.stands)):
        twin = plan.stands[extra % len(plan.stands)]
        steps = extra // len(plan.stands) + 1
        stands.append(_beside(plan, twin, steps, len(stands) + 1))
    return plan.model_copy(update={"stands": tuple(stands)})


def _beside(plan: Plan, twin: Stand, steps: int, number: int) -> Stand:
    """A stand some steps beside another, along the width, or along the length at a side wall."""
    moved = {"name": f"{twin.name}, {number}"}
    if plan.room is None:
        return twin.model_copy(update={**moved, "y_m": twin.y_m + steps * BESIDE_M})
    length, width, _ = plan.room.dimensions_m
    at_side = min(twin.y_m, width - twin.y_m) <= WALL_GAP_M
    key, size = ("x_m", length) if at_side else ("y_m", width)
    place = getattr(twin, key)
    toward_middle = BESIDE_M if place < size / 2.0 else -BESIDE_M
    return twin.model_copy(update={**moved, key: float(np.clip(place + steps * toward_middle, 0.0, size))})


def _in_a_room(plan: Plan, candidate: int, seat: int) -> bool:
    return plan.room is not None


def _absorption_bounds(plan: Plan, candidate: int, seat: int) -> tuple[float, float]:
    assert plan.room is not None
    area = float(absorption_area(plan.room)[_MIDDLE])
    return area, area * LEAST_ABSORPTION


def _with_absorption(plan: Plan, candidate: int, seat: int, area_m2: float) -> Plan:
    """Surfaces and furnishings absorb less, all in proportion; a measured T60 grows as they do."""
    room = plan.room
    assert room is not None
    factor = area_m2 / float(absorption_area(room)[_MIDDLE])
    faces = {face: tuple(_harder(one, factor) for one in getattr(room.surfaces, face)) for face in FACES}
    update: dict[str, object] = {
        "surfaces": Surfaces(**faces),
        "furnishings": tuple(_emptier(one, factor) for one in room.furnishings),
    }
    if room.measured_t60_s is not None:
        update["measured_t60_s"] = Octaves({k: min(t / factor, 30.0) for k, t in room.measured_t60_s.items()})
    return plan.model_copy(update={"room": Room.model_copy(room, update=update)})


def _harder(surface: Surface, factor: float) -> Surface:
    material = surface.material
    if isinstance(material, str):
        table = dict(zip(TABLE_KEYS, materials()[material].absorption, strict=True))
        material = OwnMaterial(name=material, absorption=Octaves(table))
    name = _LESS.format(name=material.name.removesuffix(_LESS.format(name="")))
    less = OwnMaterial.model_construct(name=name, absorption=_times(material.absorption, factor))
    return surface.model_copy(update={"material": less})


def _emptier(furnishing: Furnishing, factor: float) -> Furnishing:
    item = furnishing.item
    if isinstance(item, str):
        table = dict(zip(TABLE_KEYS, furnishings()[item].area_m2, strict=True))
        item = OwnItem(name=item, area_m2=Octaves(table))
    name = _LESS.format(name=item.name.removesuffix(_LESS.format(name="")))
    less = OwnItem.model_construct(name=name, area_m2=_times(item.area_m2, factor))
    return furnishing.model_copy(update={"item": less})


def _times(value: float | Octaves, factor: float) -> float | Octaves:
    if isinstance(value, float):
        return value * factor
    return Octaves({key: one * factor for key, one in value.items()})


def _as_plan(part: object) -> Plan:
    assert isinstance(part, Plan)
    return part


CHANGES = (
    Change("watts", "W", _always, _watts_bounds, _with_watts, points=4, ratio=True),
    Change("sensitivity", "dB", _always, _sensitivity_bounds, _with_sensitivity),
    Change("distance", "m", _can_come_nearer, _distance_bounds, _with_distance, points=8, ratio=True),
    Change("target", "dB", _always, _target_bounds, _with_target),
    Change("crest", "dB", _holds_average, _crest_bounds, _with_crest),
    Change("baffle_width", "m", _has_step, _baffle_bounds, _with_baffle, points=2, ratio=True),
    Change("stands", "", _always, _stands_bounds, _with_stands, whole=True),
    Change("absorption", "m2", _in_a_room, _absorption_bounds, _with_absorption, points=3, ratio=True),
)
