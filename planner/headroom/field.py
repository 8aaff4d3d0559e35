"""Sound at the seats: direct from every stand, and what the room adds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.room import RoomField
from planner.headroom.scene import Scene
from planner.headroom.sources import Sources

__all__ = ["Arrival", "arrive", "direct_amplitudes", "sum_of_stands"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Arrival:
    """Mean square pressure at the seats, re (20 µPa)²: ``direct``, ``steady`` and ``peak`` are (K, B).

    ``alone`` (K, N, B) is the part of ``peak`` that each stand makes when it plays alone.
    """

    direct: FloatArray
    steady: FloatArray
    peak: FloatArray
    alone: FloatArray


def arrive(
    pressure: FloatArray, carried: FloatArray, sources: Sources, scene: Scene, room: RoomField | None
) -> Arrival:
    """The field of sections of given on-axis pressure at 1 m (S, B), re 20 µPa, at every seat."""
    amplitudes = direct_amplitudes(pressure, carried, sources, scene)
    direct = sum_of_stands(amplitudes, scene.coherence)
    if room is None:
        return Arrival(direct, direct, direct, amplitudes**2)
    reverberant = _reverberant(pressure, carried, sources, scene, room)
    return Arrival(
        direct=direct,
        steady=direct + reverberant.sum(axis=1),
        peak=direct + reverberant.sum(axis=1) * room.built_up,
        alone=amplitudes**2 + reverberant * room.built_up,
    )


def direct_amplitudes(
    pressure: FloatArray, carried: FloatArray, sources: Sources, scene: Scene
) -> FloatArray:
    """Pressure of the direct sound of every stand at every seat, (K, N, B); sections add in amplitude."""
    at_a_metre = np.einsum("ns,sb,sknb->knb", carried, pressure, sources.loss)
    distance = scene.distance_m[..., None]
    return np.asarray(at_a_metre / distance * 10.0 ** (-scene.air_db_m * distance / 20.0))


def sum_of_stands(amplitudes: FloatArray, coherence: FloatArray) -> FloatArray:
    """Σp² + 2ρ Σ pᵢpⱼ over the stands, (K, N, B) → (K, B); never below zero."""
    powers = (amplitudes**2).sum(axis=1)
    together = amplitudes.sum(axis=1) ** 2
    return np.asarray(np.maximum((1.0 - coherence) * powers + coherence * together, 0.0))


def _reverberant(
    pressure: FloatArray, carried: FloatArray, sources: Sources, scene: Scene, room: RoomField
) -> FloatArray:
    """Steady mean square reverberant pressure from every stand, (K, N, B)."""
    on_axis = carried @ pressure
    weighted = carried @ (pressure / sources.directivity_factor)
    # L1² / Q with 1/Q averaged by on-axis amplitude: amplitude times the weighted sum.
    strength = on_axis * weighted
    decayed = scene.distance_m[..., None] * room.surface_m2 / (4.0 * room.volume_m3) * room.exponent
    gain = 16.0 * np.pi / (room.surface_m2 * room.exponent) * np.exp(-decayed)
    return np.asarray(strength * gain)
