"""Sound over the whole floor at one height: the physics of :mod:`planner.headroom.field`, for many places.

All of it is relative to the loudspeaker's own level on its axis at 1 m in each band, and in single
precision, which is far finer than a decibel.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.field import low_strength
from planner.headroom.floor_modal import Floor, floor_modes
from planner.headroom.floor_patterns import patterns
from planner.headroom.room import RoomField
from planner.headroom.scene import BAND_HZ, Scene, sight
from planner.headroom.system import System
from planner.plan import Plan
from planner.plan.checks import LEAST_DISTANCE_M

__all__ = ["FloorField", "floor_field"]

FloatArray = NDArray[np.float64]
SingleArray = NDArray[np.float32]
FAINTEST = 1e-4
"""Least modal power, re its mean over the floor: what 40 dB less is, is not computed here."""


@dataclass(frozen=True, slots=True, eq=False)
class FloorField:
    """Mean square pressure over a floor, re that on the axis at 1 m: ``direct``, ``steady``, ``peak``.

    Each is (B, X, Y), 0 where ``masked`` (X, Y): nearer to a stand than a seat may be. ``own`` (B,) is
    the mean square on the axis at 1 m, re (20 µPa)², for a programme of 1 V EMF.
    """

    own: FloatArray
    direct: SingleArray
    steady: SingleArray
    peak: SingleArray
    masked: NDArray[np.bool_]

    def total(self, part: SingleArray) -> FloatArray:
        """The energy sum of all bands of one of its parts, re (20 µPa)², (X, Y)."""
        return np.asarray(np.einsum("b,bxy->xy", self.own, part, optimize=True))

    def mean(self, part: SingleArray) -> FloatArray:
        """The mean over the open floor of one of its parts, (B,)."""
        return np.asarray(part.sum(axis=(1, 2), dtype=float) / max(1, np.count_nonzero(~self.masked)))


def floor_field(plan: Plan, scene: Scene, system: System, floor: Floor) -> FloorField:
    """The field over a floor of one candidate, whose *system* may stand anywhere, in the plan's *scene*."""
    room = system.stage.room
    on_axis = np.maximum(system.pressure.sum(axis=0), np.finfo(float).tiny)
    share = system.pressure / on_axis
    way = _ways(plan, floor)
    distance, azimuth, elevation, angle = sight(way, scene.axis[:, None, :])
    heard = patterns(system.candidate.loudspeaker, share, system.carried, scene, azimuth, elevation, angle)
    shape = (BAND_HZ.size, floor.columns, floor.rows)
    masked = (distance < LEAST_DISTANCE_M).any(axis=0)
    near = distance.astype(np.float32)
    direct = np.where(masked, np.float32(0.0), _direct(heard, near, scene)).reshape(shape)
    masked = masked.reshape(shape[1:])
    if room is None:
        return FloorField(on_axis**2, direct, direct, direct, masked)
    reverberant = _reverberant(share, system, room, near).reshape(shape)
    steady, peak = direct + reverberant, direct + reverberant * _column(room.built_up)
    _fade(plan, scene, system, share, floor, (steady, peak))
    for part in (steady, peak):
        part[:, masked] = 0.0
    return FloorField(on_axis**2, direct, steady, peak, masked)


def _ways(plan: Plan, floor: Floor) -> FloatArray:
    """Vectors from each stand to each place, (N, P, 3)."""
    x, y = np.meshgrid(floor.columns_m, floor.rows_m, indexing="ij")
    places = np.stack([x.ravel(), y.ravel(), np.full(x.size, floor.height_m)], axis=-1)
    stands = np.array([stand.position_m for stand in plan.stands])
    way = places - stands[:, None, :]
    # A place in a stand itself is masked later; until then it only must not divide by zero.
    way[(way == 0.0).all(axis=-1)] = 1e-3
    return np.asarray(way)


def _direct(heard: SingleArray, distance: SingleArray, scene: Scene) -> SingleArray:
    """Direct sound of all stands, (B, N, P) at 1 m → (B, P)."""
    air = (-np.log(10.0) / 20.0 * scene.air_db_m).astype(np.float32)
    heard *= np.exp(air[:, None, None] * distance)
    heard /= distance
    coherence = scene.coherence.astype(np.float32)[:, None]
    together = heard.sum(axis=1)
    together *= together
    apart = np.einsum("bnp,bnp->bp", heard, heard)
    mixed = coherence * together + (np.float32(1.0) - coherence) * apart
    return np.asarray(np.maximum(mixed, np.float32(0.0)))


def _reverberant(share: FloatArray, system: System, room: RoomField, distance: SingleArray) -> SingleArray:
    """Steady reverberant sound of all stands, (B, P)."""
    strength = (system.carried @ share) * (system.carried @ (share / system.sources.directivity_factor))
    strength *= 16.0 * np.pi / (room.surface_m2 * room.exponent)
    decay = (-room.surface_m2 / (4.0 * room.volume_m3) * room.exponent).astype(np.float32)
    decayed = np.exp(decay[:, None, None] * distance)
    return np.asarray(np.einsum("nb,bnp->bp", strength.astype(np.float32), decayed))


def _fade(
    plan: Plan,
    scene: Scene,
    system: System,
    share: FloatArray,
    floor: Floor,
    parts: tuple[SingleArray, ...],
) -> None:
    """Put the modal field into *parts* where it rules, and mix it in across the octave in between."""
    room, sources = system.stage.room, system.sources
    assert room is not None, "without a room there are no modes"
    dipoles = bool(sources.dipole.any())
    modes = floor_modes(plan, scene, room, floor, dipoles)
    if not modes.bands.size:
        return
    strength = low_strength(share, system.carried, sources)
    power = modes.power(strength if dipoles else strength[: modes.stands], scene.coherence)
    power = np.maximum(power, FAINTEST * power.mean(axis=(1, 2), keepdims=True))
    weight = _column(modes.weight[modes.bands])
    for part in parts:
        part[modes.bands] = weight * power + (np.float32(1.0) - weight) * part[modes.bands]


def _column(values: FloatArray) -> SingleArray:
    return values.astype(np.float32)[:, None, None]
