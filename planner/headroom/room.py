"""The room's statistical field by band: absorption, reverberation time, build-up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from planner.acoustics import absorption, reverberation
from planner.acoustics.bands import OCTAVE_KEYS, interpolate
from planner.headroom.outcome import Caution
from planner.headroom.scene import BAND_HZ, Scene
from planner.plan.fields import Octaves
from planner.plan.model import Plan
from planner.plan.room import FACES, Furnishing, OwnMaterial, Room, Surface
from planner.resources import furnishings, materials

__all__ = ["TABLE_KEYS", "RoomField", "absorption_area", "room_field"]

FloatArray = NDArray[np.float64]
MOST_ABSORPTION = 0.99
MOST_MODES = 5000.0
LOWEST_TABLE_HZ = 125.0
TABLE_KEYS = ("125", "250", "500", "1000", "2000", "4000", "8000")
TABLE_HZ = np.array([OCTAVE_KEYS[key] for key in TABLE_KEYS])
_T60_BAND_HZ = 500.0


@dataclass(frozen=True, slots=True, eq=False)
class RoomField:
    """Arrays over bands (B): mean absorption, exponent x of the decay, T60 [s], share built up.

    ``crossover_hz`` is the middle of the octave in which modes give way to the statistical field:
    the Schroeder frequency, unless that would ask for too many modes.
    """

    volume_m3: float
    surface_m2: float
    mean_absorption: FloatArray
    exponent: FloatArray
    t60_s: FloatArray
    built_up: FloatArray
    schroeder_hz: float
    crossover_hz: float
    cautions: tuple[Caution, ...]


def room_field(plan: Plan, scene: Scene) -> RoomField | None:
    """The statistical field of the plan's room; None in open air."""
    if plan.room is None:
        return None
    return _field(plan.room, scene, plan.programme.transient_ms / 1000.0)


def _field(room: Room, scene: Scene, transient_s: float) -> RoomField:
    length, width, height = room.dimensions_m
    volume = length * width * height
    surface = 2.0 * (length * width + length * height + width * height)
    mean = absorption_area(room) / surface
    held = np.minimum(mean, MOST_ABSORPTION)
    air_per_m = scene.air_db_m * np.log(10.0) / 10.0
    if room.measured_t60_s is None:
        exponent = absorption.absorption_exponent(volume, surface, held, air_per_m)
    else:
        measured = room.measured_t60_s.at(scene.band_hz)
        exponent = absorption.exponent_from_t60(volume, surface, measured, sound_speed=scene.sound_speed)
    t60 = absorption.t60_from_exponent(volume, surface, exponent, sound_speed=scene.sound_speed)
    middle = int(np.argmin(np.abs(np.log(scene.band_hz / _T60_BAND_HZ))))
    schroeder = float(reverberation.schroeder_frequency(t60[middle], volume))
    crossover = min(schroeder, _highest_crossover(volume, scene.sound_speed))
    return RoomField(
        volume_m3=volume,
        surface_m2=surface,
        mean_absorption=held,
        exponent=np.asarray(exponent),
        t60_s=t60,
        built_up=np.asarray(reverberation.build_up(transient_s, t60)),
        schroeder_hz=schroeder,
        crossover_hz=crossover,
        cautions=tuple(_cautions(room, mean, schroeder, crossover)),
    )


def _highest_crossover(volume_m3: float, sound_speed: float) -> float:
    """The crossover at whose upper end the room has :data:`MOST_MODES` modes (Kuttruff, 4πVf³/3c³) [Hz]."""
    top = sound_speed * (3.0 * MOST_MODES / (4.0 * np.pi * volume_m3)) ** (1.0 / 3.0)
    return float(top / np.sqrt(2.0))


def _cautions(room: Room, mean: FloatArray, schroeder: float, crossover: float) -> Iterator[Caution]:
    if room.measured_t60_s is None and np.any(mean > MOST_ABSORPTION):
        yield Caution("absorption_held", MOST_ABSORPTION)
    if not _known_below(room, LOWEST_TABLE_HZ):
        yield Caution("absorption_flat", LOWEST_TABLE_HZ)
    if crossover < schroeder:
        yield Caution("modes_held", crossover)


def _known_below(room: Room, frequency_hz: float) -> bool:
    """Whether a measured T60, or every surface, is given below a frequency."""
    if room.measured_t60_s is not None:
        return _lowest(room.measured_t60_s) < frequency_hz
    return all(
        isinstance(patch.material, OwnMaterial)
        and isinstance(patch.material.absorption, Octaves)
        and _lowest(patch.material.absorption) < frequency_hz
        for face in FACES
        for patch in getattr(room.surfaces, face)
    )


def _lowest(values: Octaves) -> float:
    return min(OCTAVE_KEYS[key] for key in values)


def absorption_area(room: Room) -> FloatArray:
    """Absorption area of faces and furnishings [m²], (B,)."""
    patches = [patch for face in FACES for patch in getattr(room.surfaces, face)]
    areas = np.array([area for face in FACES for area in _patch_areas(room, face)])
    coefficients = np.array([_coefficients(patch) for patch in patches])
    items = [_item_area(furnishing) * furnishing.count for furnishing in room.furnishings]
    return np.asarray(areas @ coefficients + np.sum(items, axis=0, initial=0.0))


def _patch_areas(room: Room, face: str) -> list[float]:
    patches: tuple[Surface, ...] = getattr(room.surfaces, face)
    rest = room.face_area_m2(face) - sum(patch.area_m2 or 0.0 for patch in patches)
    return [rest if patch.area_m2 is None else patch.area_m2 for patch in patches]


def _coefficients(patch: Surface) -> FloatArray:
    material = patch.material
    if isinstance(material, str):
        return _of_material(material)
    if isinstance(material.absorption, float):
        return np.full(BAND_HZ.shape, material.absorption)
    return material.absorption.at(BAND_HZ)


@cache
def _of_material(name: str) -> FloatArray:
    return np.asarray(interpolate(BAND_HZ, TABLE_HZ, np.array(materials()[name].absorption)))


def _item_area(furnishing: Furnishing) -> FloatArray:
    item = furnishing.item
    if isinstance(item, str):
        return _of_furnishing(item)
    if isinstance(item.area_m2, float):
        return np.full(BAND_HZ.shape, item.area_m2)
    return item.area_m2.at(BAND_HZ)


@cache
def _of_furnishing(name: str) -> FloatArray:
    return np.asarray(interpolate(BAND_HZ, TABLE_HZ, np.array(furnishings()[name].area_m2)))
