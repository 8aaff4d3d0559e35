"""What the modes make of every stand over the whole floor at one height.

A band's power is a smooth pattern: away from the stands it holds no cosine along a side of more than
twice the orders that play in the band. So the modal sum is taken on a grid just fine enough for that, and
the map's own grid is filled in by cosines, which bring the neighbourhood of a head along for nothing.
The rise toward each stand would need a far finer grid; it is taken out before and put back after.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.modes import floor_transfer
from planner.headroom.modal import HEAD_M, LINES, band_lines, modal_weight, of_sources, off_walls
from planner.headroom.room import RoomField
from planner.headroom.scene import BAND_HZ, Scene
from planner.plan import Plan

__all__ = ["Floor", "FloorModes", "floor_modes"]

FloatArray = NDArray[np.float64]
SingleArray = NDArray[np.float32]

LEAST_LINES = 6
RESONANCES_A_LINE = 1.2
"""Spacing of the lines in half-power widths of a mode: its energy then comes out within 0.6 dB."""
SPARE_ORDERS = 5
RISE_M = 1.0
_BAND = 10.0**0.05 - 10.0**-0.05


@dataclass(frozen=True, slots=True)
class Floor:
    """A level grid of *columns* along x and *rows* along y: places in the middle of equal cells."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float
    height_m: float
    columns: int
    rows: int

    @property
    def columns_m(self) -> FloatArray:
        """x of the columns [m]."""
        return self.x_m + self.length_m * _middles(self.columns)

    @property
    def rows_m(self) -> FloatArray:
        """y of the rows [m]."""
        return self.y_m + self.width_m * _middles(self.rows)


@dataclass(frozen=True, slots=True, eq=False)
class FloorModes:
    """Cross powers of the stands over a floor, re the free field of each at 1 m.

    ``weight`` (B,) is the share of the modal field, ``bands`` (b,) are those where it has one, and
    ``cross`` (pairs, b, X, Y) is Re pᵢpⱼ* of each pair of sources, i ≤ j; sources as in
    :class:`planner.headroom.modal.ModalField`.
    """

    weight: FloatArray
    bands: NDArray[np.int64]
    cross: SingleArray
    stands: int

    def power(self, strength: FloatArray, coherence: FloatArray) -> SingleArray:
        """Mean square pressure of sources of given strength (M, B), for the bands, (b, X, Y)."""
        first, second = _pairs(self.cross.shape[0])
        together = np.where(
            (first % self.stands == second % self.stands)[:, None], 1.0, coherence[self.bands]
        )
        twice = np.where(first == second, 1.0, 2.0)[:, None]
        share = twice * together * strength[first][:, self.bands] * strength[second][:, self.bands]
        summed = np.einsum("pb,pbxy->bxy", share.astype(np.float32), self.cross)
        return np.asarray(np.maximum(summed, np.float32(0.0)))


@dataclass(frozen=True, slots=True)
class _Air:
    """All that the field of one source depends on, beside its place and the grid's height."""

    dimensions_m: tuple[float, float, float]
    columns: int
    rows: int
    line_hz: tuple[float, ...]
    t60_s: tuple[float, ...]
    sound_speed: float
    leak_hz: float


@dataclass(frozen=True, slots=True)
class _Geometry:
    """All that the cross powers depend on; equal geometries share one result."""

    air: _Air
    lines: tuple[int, ...]
    sources_m: tuple[tuple[float, ...], ...]
    axes: tuple[tuple[float, ...], ...] | None
    floor: Floor


def floor_modes(plan: Plan, scene: Scene, room: RoomField, floor: Floor, dipoles: bool) -> FloorModes:
    """The modal field of the plan's stands over a floor that fills the plan's room.

    Dipoles are left out unless asked for: they cost twice as much again.
    """
    assert plan.room is not None, "a room's field needs a room"
    weight = modal_weight(BAND_HZ, room.crossover_hz)
    bands = np.nonzero(weight > 0.0)[0]
    counts = _line_counts(BAND_HZ[bands], weight[bands], room.t60_s[bands])
    lines = [band_lines(BAND_HZ[[band]], count)[0] for band, count in zip(bands, counts, strict=True)]
    line_hz = np.concatenate([*lines, []])
    columns, rows = _enough(plan.room.dimensions_m, line_hz, scene.sound_speed)
    geometry = _Geometry(
        air=_Air(
            dimensions_m=plan.room.dimensions_m,
            columns=min(columns, floor.columns),
            rows=min(rows, floor.rows),
            line_hz=tuple(line_hz.tolist()),
            t60_s=tuple(np.repeat(room.t60_s[bands], counts).tolist()),
            sound_speed=scene.sound_speed,
            leak_hz=plan.room.leak_hz,
        ),
        lines=tuple(counts.tolist()),
        sources_m=tuple(stand.position_m for stand in plan.stands),
        axes=tuple(map(tuple, scene.axis.tolist())) if dipoles else None,
        floor=floor,
    )
    return FloorModes(weight, bands, _cross(geometry), len(plan.stands))


def _line_counts(band_hz: FloatArray, weight: FloatArray, t60_s: FloatArray) -> NDArray[np.int64]:
    """Lines a band: enough to follow its resonances, 2.2/T60 wide, as far as the band counts; (b,)."""
    asked = np.sqrt(weight) * _BAND * band_hz * t60_s / (2.2 * RESONANCES_A_LINE)
    return np.clip(np.ceil(asked), LEAST_LINES, LINES).astype(np.int64)


def _enough(size: tuple[float, ...], line_hz: FloatArray, sound_speed: float) -> tuple[int, int]:
    """Columns and rows that hold twice the orders which propagate at the highest line, and some to spare."""
    orders = 2.0 * line_hz.max(initial=0.0) / sound_speed * np.array(size[:2])
    columns, rows = np.ceil(2.0 * orders + SPARE_ORDERS).astype(int).tolist()
    return columns, rows


@lru_cache(maxsize=4)
def _cross(geometry: _Geometry) -> SingleArray:
    """Re pᵢpⱼ* over the floor, averaged over lines and neighbourhood, (pairs, b, X, Y)."""
    air, floor = geometry.air, geometry.floor
    size = np.array(air.dimensions_m)
    first, second = np.triu_indices(len(geometry.sources_m) * (1 if geometry.axes is None else 2))
    if not geometry.lines:
        return np.zeros((first.size, 0, floor.columns, floor.rows), np.float32)
    wavenumber = (2.0 * np.pi * np.array(air.line_hz) / air.sound_speed).astype(np.float32)

    def field(points: FloatArray) -> NDArray[np.complex64]:
        return np.stack([_one(air, floor.height_m, tuple(point)) for point in points.tolist()])

    stands = np.array(geometry.sources_m)
    axes = None if geometry.axes is None else np.array(geometry.axes)
    pressure = of_sources(field, stands, axes, size, wavenumber[:, None, None])
    real, imaginary = np.ascontiguousarray(pressure.real), np.ascontiguousarray(pressure.imag)
    powers = real[first] * real[second]
    powers += imaginary[first] * imaginary[second]
    starts = np.cumsum((0, *geometry.lines[:-1]))
    mean = np.add.reduceat(powers, starts, axis=1) / np.array(geometry.lines, np.float32)[:, None, None]
    steep = (second >= len(stands))[:, None, None, None]
    return _filled_in(np.asarray(mean, np.float32), stands, steep, floor, size)


@lru_cache(maxsize=16)
def _one(air: _Air, height_m: float, point: tuple[float, ...]) -> NDArray[np.complex64]:
    """4πG of one point source on the coarse grid, (F, columns, rows)."""
    length, width, height = air.dimensions_m
    field = floor_transfer(
        air.dimensions_m,
        [point],
        length * _middles(air.columns),
        width * _middles(air.rows),
        float(off_walls(np.array(height_m), np.array(height))),
        air.line_hz,
        np.array(air.t60_s),
        air.sound_speed,
        leak_hz=air.leak_hz,
    )
    return np.asarray(field[0].astype(np.complex64))


def _filled_in(
    powers: SingleArray, stands: FloatArray, steep: NDArray[np.bool_], floor: Floor, size: FloatArray
) -> SingleArray:
    """Powers (pairs, b, columns, rows) on the coarse grid brought to the floor's own, (pairs, b, X, Y).

    *steep* (pairs, 1, 1, 1) are those that rise as 1/r⁴ toward the stands, as dipoles do.
    """
    columns, rows = powers.shape[-2:]
    coarse = Floor(0.0, 0.0, size[0], size[1], floor.height_m, columns, rows)
    along, across = _cosines(columns, columns), _cosines(rows, rows)
    order = np.where(steep, 2, 1)
    tamed = powers * _tamer(stands, coarse) ** order
    amounts = (along.T * _norm(columns)[:, None]) @ tamed @ (across * _norm(rows))
    amounts *= (
        _neighbourhood(columns, size[0])[:, None] / 7.0 + _neighbourhood(rows, size[1]) / 7.0 + 3.0 / 7.0
    )
    filled = _cosines(floor.columns, columns) @ amounts @ _cosines(floor.rows, rows).T
    return (filled / _tamer(stands, floor) ** order).astype(np.float32)


def _tamer(stands: FloatArray, floor: Floor) -> FloatArray:
    """A gain that takes the rise 1/r² toward every stand away, 1 far from all, (X, Y)."""
    x, y = floor.columns_m[:, None], floor.rows_m
    gain = np.ones((floor.columns, floor.rows))
    for stand in stands:
        squared = (x - stand[0]) ** 2 + (y - stand[1]) ** 2 + (floor.height_m - stand[2]) ** 2 + 1e-4
        gain *= squared / (squared + RISE_M**2)
    return gain


def _cosines(places: int, orders: int) -> FloatArray:
    """cos(nπx) at the middles of equal cells, (places, orders)."""
    return np.cos(np.pi * np.outer(_middles(places), np.arange(orders)))


def _norm(count: int) -> FloatArray:
    """What makes the transposed cosines their own inverse."""
    return np.where(np.arange(count) == 0, 1.0, 2.0) / count


def _neighbourhood(orders: int, side_m: float) -> FloatArray:
    """Sum of each cosine a head's width before and behind, re the cosine itself."""
    return np.asarray(2.0 * np.cos(np.pi * HEAD_M / side_m * np.arange(orders)))


def _pairs(count: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First and second of each pair i ≤ j, from the number of pairs."""
    sources = round(float(np.sqrt(8.0 * count + 1.0) - 1.0) / 2.0)
    return np.triu_indices(sources)


def _middles(count: int) -> FloatArray:
    return (np.arange(count) + 0.5) / count
