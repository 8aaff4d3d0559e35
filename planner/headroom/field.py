"""Sound at the seats: direct from every stand, and what the room adds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.modal import ModalField
from planner.headroom.room import RoomField
from planner.headroom.scene import Scene
from planner.headroom.sources import Sources

__all__ = ["Arrival", "arrive", "direct_amplitudes", "reverberant_strength", "sum_of_stands"]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Arrival:
    """Mean square pressure at the seats, re (20 µPa)²: ``direct``, ``steady`` and ``peak`` are (K, B).

    ``alone`` (K, N, B) is the part of ``peak`` that each stand makes when it plays alone, ``modal``
    (K, B) what the modes make by themselves, None where they are not looked at.
    """

    direct: FloatArray
    steady: FloatArray
    peak: FloatArray
    alone: FloatArray
    modal: FloatArray | None = None


def arrive(
    pressure: FloatArray,
    carried: FloatArray,
    sources: Sources,
    scene: Scene,
    room: RoomField | None,
    modal: ModalField | None = None,
) -> Arrival:
    """The field of sections of given on-axis pressure at 1 m (S, B), re 20 µPa, at every seat.

    Without *modal* the statistical field holds at all frequencies.
    """
    amplitudes = direct_amplitudes(pressure, carried, sources, scene)
    direct = sum_of_stands(amplitudes, scene.coherence)
    if room is None:
        return Arrival(direct, direct, direct, amplitudes**2)
    reverberant = _reverberant(pressure, carried, sources, scene, room)
    arrival = Arrival(
        direct=direct,
        steady=direct + reverberant.sum(axis=1),
        peak=direct + reverberant.sum(axis=1) * room.built_up,
        alone=amplitudes**2 + reverberant * room.built_up,
    )
    return (
        arrival if modal is None else _faded(arrival, modal, low_strength(pressure, carried, sources), scene)
    )


def _faded(arrival: Arrival, modal: ModalField, strength: FloatArray, scene: Scene) -> Arrival:
    """The modal field below, the statistical one above, mixed by energy in between.

    What modes make is used unreduced for peaks: build-up is a matter of the statistical part.
    """
    power = modal.power(strength, scene.coherence)
    low, high = power * modal.weight, 1.0 - modal.weight
    return Arrival(
        direct=arrival.direct,
        steady=low + high * arrival.steady,
        peak=low + high * arrival.peak,
        alone=modal.alone(strength) * modal.weight + high * arrival.alone,
        modal=power,
    )


def low_strength(pressure: FloatArray, carried: FloatArray, sources: Sources) -> FloatArray:
    """Amplitude at 1 m of the stands' sources of low frequencies, re 20 µPa, (2N, B).

    First as monopoles of the loudspeaker's power: on-axis amplitude over the root of Q, and half of
    that power flush in a wall, whose image gives it back; then as dipoles of their on-axis amplitude.
    """
    monopole = pressure * ~sources.dipole[:, None]
    over_factor = carried @ (monopole / sources.directivity_factor)
    power = (carried @ monopole) * over_factor * sources.wall_share
    return np.concatenate([np.sqrt(power), carried @ (pressure * sources.dipole[:, None])])


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


def reverberant_strength(pressure: FloatArray, carried: FloatArray, sources: Sources) -> FloatArray:
    """Mean square pressure at 1 m over the directivity factor, of every stand, (N, B).

    1/Q is averaged with the on-axis amplitudes of the sections as weights.
    """
    return np.asarray((carried @ pressure) * (carried @ (pressure / sources.directivity_factor)))


def _reverberant(
    pressure: FloatArray, carried: FloatArray, sources: Sources, scene: Scene, room: RoomField
) -> FloatArray:
    """Steady mean square reverberant pressure from every stand, (K, N, B)."""
    strength = reverberant_strength(pressure, carried, sources)
    decayed = scene.distance_m[..., None] * room.surface_m2 / (4.0 * room.volume_m3) * room.exponent
    gain = 16.0 * np.pi / (room.surface_m2 * room.exponent) * np.exp(-decayed)
    return np.asarray(strength * gain)
