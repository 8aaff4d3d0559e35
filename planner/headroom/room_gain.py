"""Room gain at a seat as a curve, with the modes that make it and the regions in which to read it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.modes import mode_frequencies
from planner.headroom.scene import BAND_HZ
from planner.headroom.system import System, system_at
from planner.plan import Plan
from planner.plan.model import Seat, Stand
from planner.plan.room import Room

__all__ = ["Region", "RoomGain", "room_gain"]

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
_HALF_BAND = 10.0**0.05


@dataclass(frozen=True, slots=True)
class Region:
    """A range of frequencies in which a room behaves in one way.

    Below its first mode the air is one spring (``pressure``), up to the crossover single modes decide
    (``modal``), above they are so many that a mean field holds (``statistical``).
    """

    kind: Literal["pressure", "modal", "statistical"]
    low_hz: float
    high_hz: float


@dataclass(frozen=True, slots=True, eq=False)
class RoomGain:
    """Level at a seat less what the stands would make there in free field, by band (B,) [dB].

    ``mode_hz`` (n,) and ``mode_orders`` (n, 3) are the modes up to ``crossover_hz``, ascending, and
    ``coupling`` (n,) how strongly stands and seat meet in each: 1 where a stand and the seat are both at
    its loudest, 0 where either is in its node. ``crossover_hz`` is the middle of the octave in which modes
    give way: the Schroeder frequency, or less where that would ask for too many modes.
    """

    band_hz: FloatArray
    gain_db: FloatArray
    mode_hz: FloatArray
    mode_orders: IntArray
    coupling: FloatArray
    schroeder_hz: float
    crossover_hz: float
    regions: tuple[Region, ...]


def room_gain(plan: Plan, candidate: int = 0, seat: int = 0) -> RoomGain | None:
    """The curve of one candidate at one seat; None in open air.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    system = system_at(plan, candidate)
    field = system.stage.room
    if plan.room is None or field is None:
        return None
    mode_hz, orders = mode_frequencies(
        plan.room.dimensions_m, field.crossover_hz, system.stage.scene.sound_speed
    )
    return RoomGain(
        band_hz=BAND_HZ,
        gain_db=_gain_db(system, seat),
        mode_hz=mode_hz,
        mode_orders=orders,
        coupling=_coupling(plan.stands_of(candidate), plan.seats[seat], plan.room, orders),
        schroeder_hz=field.schroeder_hz,
        crossover_hz=field.crossover_hz,
        regions=_regions(plan.room, system.stage.scene.sound_speed, field.crossover_hz),
    )


def _gain_db(system: System, seat: int) -> FloatArray:
    tiny = np.finfo(float).tiny
    steady, direct = (np.maximum(part[seat], tiny) for part in (system.arrival.steady, system.arrival.direct))
    return np.asarray(10.0 * np.log10(steady / direct))


def _coupling(stands: tuple[Stand, ...], seat: Seat, room: Room, orders: IntArray) -> FloatArray:
    """Largest |ψ(stand)·ψ(seat)| of each mode over the stands, of cosines that reach 1, (n,)."""
    places = np.array([stand.position_m for stand in stands])
    waves = np.pi * orders / np.array(room.dimensions_m)
    fed = np.cos(waves * places[:, None, :]).prod(axis=-1)
    heard = np.cos(waves * np.array(seat.position_m)).prod(axis=-1)
    return np.asarray(np.abs(fed * heard).max(axis=0))


def _regions(room: Room, sound_speed: float, crossover_hz: float) -> tuple[Region, ...]:
    """The regions that the bands reach into, without gaps."""
    lowest, highest = float(BAND_HZ[0] / _HALF_BAND), float(BAND_HZ[-1] * _HALF_BAND)
    first_mode = min(sound_speed / (2.0 * max(room.dimensions_m)), crossover_hz)
    edges = np.clip([lowest, first_mode, crossover_hz, highest], lowest, highest).tolist()
    kinds: tuple[Literal["pressure", "modal", "statistical"], ...] = ("pressure", "modal", "statistical")
    return tuple(
        Region(kind, low, high)
        for kind, low, high in zip(kinds, edges[:-1], edges[1:], strict=True)
        if low < high
    )
