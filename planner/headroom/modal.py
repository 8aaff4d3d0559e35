"""The room below its Schroeder frequency: what the modes make of every stand at every seat.

The sum over stands is kept as cross powers, so that candidates, trims and spectra cost nothing more
once the geometry is known; the geometry's part is remembered for plans that share it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.modes import transfer
from planner.headroom.room import RoomField
from planner.headroom.scene import BAND_HZ, Scene
from planner.plan.loudspeaker import Dipole
from planner.plan.model import Plan

__all__ = [
    "HEAD_M",
    "LINES",
    "ModalField",
    "band_lines",
    "head_points",
    "modal_field",
    "modal_weight",
    "of_sources",
    "off_walls",
]

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]
Complex = TypeVar("Complex", bound=np.complexfloating[Any, Any])

LINES = 24
HEAD_M = 0.1
DIPOLE_M = 0.1
WALL_M = 0.01
MOST_MODES = 5000.0
_HALF_BAND = 10.0**0.05


@dataclass(frozen=True, slots=True, eq=False)
class ModalField:
    """Cross powers of the stands at the seats, re the free field of each at 1 m.

    ``weight`` (B,) is the share of the modal field in each band, ``cross`` (K, M, M, B) the mean of
    Re pᵢpⱼ* over the lines of a band and the neighbourhood of a seat, zero where the weight is. The
    sources M are the stands as monopoles, then, if there are dipoles, the stands as dipoles.
    """

    weight: FloatArray
    cross: FloatArray
    monopoles: int

    def power(self, strength: FloatArray, coherence: FloatArray) -> FloatArray:
        """Mean square pressure of sources of given strength (M, B) at the seats, (K, B)."""
        strength = strength[: self.cross.shape[1]]
        together = np.einsum("ib,jb,kijb->kb", strength, strength, self.cross)
        apart = self.alone(strength).sum(axis=1)
        return np.asarray(np.maximum(coherence * together + (1.0 - coherence) * apart, 0.0))

    def alone(self, strength: FloatArray) -> FloatArray:
        """What each stand makes by itself, monopole and dipole together, (K, N, B)."""
        stands, sources = self.monopoles, self.cross.shape[1]
        parts = strength[:sources].reshape(-1, stands, strength.shape[-1])
        ways = sources // stands
        grid = self.cross.reshape(-1, ways, stands, ways, stands, strength.shape[-1])
        own = np.einsum("kanbnf->knabf", grid)
        return np.asarray(np.einsum("anf,bnf,knabf->knf", parts, parts, own))


@dataclass(frozen=True, slots=True)
class _Geometry:
    """All that the modal sum depends on; equal geometries share one result."""

    dimensions_m: tuple[float, float, float]
    sources_m: tuple[tuple[float, ...], ...]
    axes: tuple[tuple[float, ...], ...] | None
    seats_m: tuple[tuple[float, ...], ...]
    bands: tuple[int, ...]
    t60_s: tuple[float, ...]
    sound_speed: float
    leak_hz: float


def modal_field(plan: Plan, scene: Scene, room: RoomField | None) -> ModalField | None:
    """The modal field of the plan's stands at its seats; None in open air."""
    if plan.room is None or room is None:
        return None
    weight = modal_weight(BAND_HZ, room.crossover_hz)
    bands = np.nonzero(weight > 0.0)[0]
    dipoles = any(
        isinstance(section.radiator, Dipole)
        for candidate in plan.candidates
        if candidate.stands is None
        for section in candidate.loudspeaker.sections
    )
    geometry = _Geometry(
        dimensions_m=plan.room.dimensions_m,
        sources_m=tuple(stand.position_m for stand in plan.stands),
        axes=tuple(map(tuple, scene.axis.tolist())) if dipoles else None,
        seats_m=tuple(seat.position_m for seat in plan.seats),
        bands=tuple(bands.tolist()),
        t60_s=tuple(room.t60_s[bands].tolist()),
        sound_speed=scene.sound_speed,
        leak_hz=plan.room.leak_hz,
    )
    return ModalField(weight, _cross_powers(geometry), len(plan.stands))


def modal_weight(frequency_hz: FloatArray, schroeder_hz: float) -> FloatArray:
    """Share of the modal field: 1 to 0 as a half cosine over the octave about the Schroeder frequency."""
    octaves = np.clip(np.log2(frequency_hz / schroeder_hz) + 0.5, 0.0, 1.0)
    return np.asarray(0.5 * (1.0 + np.cos(np.pi * octaves)))


def band_lines(band_hz: FloatArray, lines: int = LINES) -> FloatArray:
    """Log-spaced lines within each third octave, (bands, lines) [Hz]."""
    within = (2.0 * np.arange(lines) + 1.0 - lines) / lines
    return np.asarray(band_hz[:, None] * _HALF_BAND**within)


@lru_cache(maxsize=16)
def _cross_powers(geometry: _Geometry) -> FloatArray:
    """Re pᵢpⱼ* averaged over lines and neighbourhood, (K, M, M, B)."""
    seats, ways = len(geometry.seats_m), 1 if geometry.axes is None else 2
    sources = len(geometry.sources_m) * ways
    cross = np.zeros((seats, sources, sources, BAND_HZ.size))
    if not geometry.bands:
        return cross
    bands = list(geometry.bands)
    pressure = _pressures(geometry).reshape(sources, seats, -1, len(bands), LINES)
    points = pressure.shape[2]
    powers = np.einsum("ikpbl,jkpbl->kijb", pressure, pressure.conj()) / (points * LINES)
    cross[..., bands] = powers.real
    return cross


def _pressures(geometry: _Geometry) -> ComplexArray:
    """4πG of every source at every head point and line, (M, K·P, bands·LINES)."""
    size = np.array(geometry.dimensions_m)
    heads = off_walls(head_points(np.array(geometry.seats_m)), size)
    hz = band_lines(BAND_HZ[list(geometry.bands)]).ravel()
    t60 = np.repeat(geometry.t60_s, LINES)

    def field(points: FloatArray) -> ComplexArray:
        return transfer(
            geometry.dimensions_m,
            points[:, None, None, :],
            heads[None, :, None, :],
            hz,
            t60,
            geometry.sound_speed,
            leak_hz=geometry.leak_hz,
        )

    axes = None if geometry.axes is None else np.array(geometry.axes)
    wavenumber = 2.0 * np.pi * hz / geometry.sound_speed
    return of_sources(field, np.array(geometry.sources_m), axes, size, wavenumber)


def of_sources(
    field: Callable[[FloatArray], NDArray[Complex]],
    stands: FloatArray,
    axes: FloatArray | None,
    size: FloatArray,
    wavenumber: NDArray[np.floating[Any]],
) -> NDArray[Complex]:
    """Pressures of stands (N, ..., 3) as monopoles, then, given axes (N, ..., 3), as dipoles along them.

    *field* gives what point sources (N, ..., 3) make, with a leading axis N that the result keeps or
    doubles; *wavenumber* [1/m] broadcasts with it.
    """
    if axes is None:
        return field(off_walls(stands, size))
    stands = off_walls(stands, size)
    half = axes * DIPOLE_M / 2.0
    points = np.concatenate([stands, off_walls(stands + half, size), off_walls(stands - half, size)])
    pressure, count = field(points), len(stands)
    # -j brings the gradient in phase with a monopole on its axis, far away.
    pressure[count:-count] -= pressure[-count:]
    pressure[count:-count] *= -1j / (wavenumber * DIPOLE_M)
    return pressure[:-count]


def head_points(seats: FloatArray) -> FloatArray:
    """The seat and a head's width along each axis, (K·7, 3)."""
    steps = HEAD_M * np.concatenate([np.zeros((1, 3)), np.eye(3), -np.eye(3)])
    return np.asarray((seats[:, None, :] + steps).reshape(-1, 3))


def off_walls(points: FloatArray, size: FloatArray) -> FloatArray:
    """Points nearer than 1 cm to a wall are moved to 1 cm."""
    return np.asarray(np.clip(points, WALL_M, size - WALL_M))
