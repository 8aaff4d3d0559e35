"""The bass that many placements of seat and stands would give, all at once, and what it is worth.

The same physics as every other answer, from the loudspeaker's own response through the room to the seat;
only the number of lines a band and of head points may be fewer while a search looks around.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.modes import transfer
from planner.headroom.drive import load_of
from planner.headroom.field import arrive
from planner.headroom.modal import (
    LINES,
    ModalField,
    band_lines,
    head_points,
    modal_weight,
    of_sources,
    off_walls,
)
from planner.headroom.room import RoomField
from planner.headroom.scene import BAND_HZ, sight
from planner.headroom.sources import sources_of
from planner.headroom.system import System
from planner.plan.room import Room

__all__ = ["Bass", "Placements", "bass_levels", "played_bands"]

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
ComplexArray = NDArray[np.complex128]

LOWEST_HZ, HIGHEST_HZ = 31.0, 201.0
"""Between these lie the third octaves from 31.5 to 200 Hz."""
PLAYED_DB = 10.0


@dataclass(frozen=True, slots=True, eq=False)
class Placements:
    """Positions to try: ``stands_m`` and their ``axes`` (P, N, 3), ``seat_m`` (P, 3)."""

    stands_m: FloatArray
    axes: FloatArray
    seat_m: FloatArray

    def some(self, rows: slice | IntArray) -> Placements:
        """A part of them."""
        return Placements(self.stands_m[rows], self.axes[rows], self.seat_m[rows])


@dataclass(frozen=True, slots=True, eq=False)
class Bass:
    """Levels (P, b) at the seat in the bands that are judged, for 1 V in each third octave [dB re 20 µPa]."""

    level_db: FloatArray

    @property
    def strength_db(self) -> FloatArray:
        """Energy mean over the bands, (P,) [dB]."""
        return np.asarray(10.0 * np.log10(np.mean(10.0 ** (self.level_db / 10.0), axis=-1)))

    @property
    def unevenness_db(self) -> FloatArray:
        """Standard deviation of the bands' levels, (P,) [dB]."""
        return np.asarray(self.level_db.std(axis=-1))

    @property
    def score_db(self) -> FloatArray:
        """Strength less unevenness, (P,) [dB]: common sense, no published source."""
        return self.strength_db - self.unevenness_db


def played_bands(system: System) -> IntArray:
    """The third octaves from 31.5 to 200 Hz that the loudspeaker itself plays, (b,).

    Those in which it is at most 10 dB below its loudest there: below, no place of the room can help it.
    """
    bass = np.flatnonzero((BAND_HZ > LOWEST_HZ) & (BAND_HZ < HIGHEST_HZ))
    own_db = 20.0 * np.log10(_volt_pressure(system).sum(axis=0)[bass])
    return np.asarray(bass[own_db >= own_db.max() - PLAYED_DB])


def bass_levels(
    room: Room, system: System, bands: IntArray, places: Placements, *, lines: int = LINES, head: bool = True
) -> Bass:
    """The steady levels of a system at every placement, in some of the bands.

    With all :data:`LINES` and the neighbourhood of the *head* they are those of the full answer.
    """
    scene, field = system.stage.scene, system.stage.room
    assert field is not None, "places are searched in rooms"
    distance, azimuth, elevation, angle = sight(places.seat_m[:, None, :] - places.stands_m, places.axes)
    seen = replace(scene, distance_m=distance, azimuth_deg=azimuth, elevation_deg=elevation, angle_deg=angle)
    loads = [load_of(system.candidate, amplifier) for amplifier in system.candidate.amplifiers]
    sources = sources_of(system.candidate.loudspeaker, [loads[index] for index in system.driven_by], seen)
    weight = modal_weight(BAND_HZ, field.crossover_hz)
    ruled = bands[weight[bands] > 0.0]
    cross = _cross(room, system, field, ruled, places, lines, head)
    modal = ModalField(weight, cross, places.stands_m.shape[1])
    arrival = arrive(_volt_pressure(system), system.carried, sources, seen, field, modal)
    return Bass(10.0 * np.log10(np.maximum(arrival.steady[:, bands], np.finfo(float).tiny)))


def _volt_pressure(system: System) -> FloatArray:
    """On-axis pressure of the sections at 1 m for 1 V of EMF in each band, (S, B)."""
    return np.asarray(system.pressure / np.sqrt(system.stage.shares))


def _cross(
    room: Room,
    system: System,
    field: RoomField,
    bands: IntArray,
    places: Placements,
    lines: int,
    head: bool,
) -> FloatArray:
    """Re pᵢpⱼ* of the stands at the seat of each placement, (P, M, M, B), zero outside *bands*."""
    count, stands, _ = places.stands_m.shape
    dipoles = bool(system.sources.dipole.any())
    sources = stands * (2 if dipoles else 1)
    cross = np.zeros((count, sources, sources, BAND_HZ.size))
    if not bands.size:
        return cross
    size, speed = np.array(room.dimensions_m), system.stage.scene.sound_speed
    ears = head_points(places.seat_m).reshape(count, -1, 3) if head else places.seat_m[:, None, :]
    ears = off_walls(ears, size)[:, :, None, :]
    hz, t60 = band_lines(BAND_HZ[bands], lines).ravel(), np.repeat(field.t60_s[bands], lines)

    def heard(points: FloatArray) -> ComplexArray:
        at = points[:, :, None, None, :]
        return transfer(room.dimensions_m, at, ears, hz, t60, speed, leak_hz=room.leak_hz)

    axes = places.axes.swapaxes(0, 1) if dipoles else None
    pressure = of_sources(heard, places.stands_m.swapaxes(0, 1), axes, size, 2.0 * np.pi * hz / speed)
    pressure = pressure.reshape(sources, count, -1, bands.size, lines)
    points = pressure.shape[2]
    cross[..., bands] = np.einsum("iphbl,jphbl->pijb", pressure, pressure.conj()).real / (points * lines)
    return cross
