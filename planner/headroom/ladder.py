"""The level ladder: from 1 W at 1 m, step by step, to the loudest peak at a seat."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planner.headroom.outcome import Step
from planner.headroom.system import System

__all__ = ["STEPS", "ladders"]

FloatArray = NDArray[np.float64]
SINE_CREST_DB = 10.0 * np.log10(2.0)

STEPS = (
    "one_watt",
    "watts",
    "peak_over_sine",
    "load",
    "cable",
    "response",
    "baffle_step",
    "angle",
    "distance",
    "air",
    "stands",
    "room",
    "build_up",
    "other_limits",
)


def ladders(system: System, crest_db: float) -> list[tuple[Step, ...]]:
    """The ladder of every seat; its steps add up to the loudest peak there.

    Step k is the level with the stages up to k less the level with those before it, on the
    programme's energy sum. Up to ``air`` one of each section plays, from the nearest stand.
    """
    full_db = system.amplifier_limit(system.limiting_amplifier).total_db + crest_db
    seats = len(system.gain_db)
    on_axis = [np.full(seats, level) for level in (*_by_rating(system), *_by_load(system, full_db))]
    levels = np.array([*on_axis, *_on_the_way(system, full_db), *_at_the_seat(system, full_db, crest_db)])
    changes = np.diff(levels, axis=0, prepend=np.zeros((1, seats)))
    return [
        tuple(
            Step(key, float(change), float(level))
            for key, change, level in zip(STEPS, changes[:, seat], levels[:, seat], strict=True)
        )
        for seat in range(seats)
    ]


def _by_rating(system: System) -> list[float]:
    """1 W at 1 m into the nominal load of the amplifier that gives out first, its watts, its peak."""
    sources, drive = system.sources, system.drives[system.limiting_amplifier]
    emf_for_watt_db = 10.0 * np.log10(drive.load.nominal_ohm / np.sum(drive.emf_v**2))
    one_watt = _level(_trims(system) * sources.flat * sources.inner, system) + emf_for_watt_db
    watts = one_watt + 10.0 * np.log10(drive.rating.watts)
    return [one_watt, watts, watts + SINE_CREST_DB]


def _by_load(system: System, full_db: float) -> list[float]:
    """Peaks on the axis at full power: real load and output impedance, cable, response, baffle step."""
    sources = system.sources
    crossed = sources.flat * sources.inner
    wired = _gains(system) * crossed
    stages = (
        _gains_without_cable(system) * crossed,
        wired,
        wired * sources.outer * sources.response,
        wired * sources.outer * sources.response * sources.step,
    )
    return [_level(stage, system) + full_db for stage in stages]


def _on_the_way(system: System, full_db: float) -> list[FloatArray]:
    """Peaks (K,) with angle, distance and air, each section from the nearest stand that carries it."""
    scene, sources = system.stage.scene, system.sources
    apart = np.where(system.carried.T[:, None, :] > 0.0, scene.distance_m, np.inf)
    nearest = np.argmin(apart, axis=-1)
    section, seat = np.ogrid[: nearest.shape[0], : nearest.shape[1]]
    distance = scene.distance_m[seat, nearest][..., None]
    turned = (_gains(system) * sources.pressure)[:, None, :] * sources.loss[section, seat, nearest]
    air = 10.0 ** (-scene.air_db_m * distance / 20.0)
    stages = (turned, turned / distance, turned / distance * air)
    return [_levels(stage, system) + full_db for stage in stages]


def _at_the_seat(system: System, full_db: float, crest_db: float) -> list[FloatArray]:
    """Peaks (K,) with all stands, the steady room, its build-up, and the limits beside the amplifier."""
    arrival = system.arrival
    fields = [10.0 * np.log10(part.sum(axis=-1)) for part in (arrival.direct, arrival.steady, arrival.peak)]
    return [*(field + full_db for field in fields), fields[-1] + system.first.total_db + crest_db]


def _gains(system: System) -> FloatArray:
    """Loudspeaker volts for 1 V of programme EMF, (S, B)."""
    return np.array([system.drives[amplifier].section_gain for amplifier in system.driven_by])


def _trims(system: System) -> FloatArray:
    """Gain of the trim of each section's amplifier, (S, 1)."""
    trim_db = [system.drives[amplifier].amplifier.trim_db for amplifier in system.driven_by]
    return 10.0 ** (np.array(trim_db)[:, None] / 20.0)


def _gains_without_cable(system: System) -> FloatArray:
    """Loudspeaker volts for 1 V of programme EMF if the cable had no resistance, (S, B)."""
    drives = [system.drives[amplifier] for amplifier in system.driven_by]
    divided = [np.abs(drive.load_ohm / (drive.load_ohm + drive.rating.output_ohm)) for drive in drives]
    return np.asarray(_trims(system) * np.array(divided))


def _level(pressures: FloatArray, system: System) -> float:
    return float(_levels(pressures, system))


def _levels(pressures: FloatArray, system: System) -> FloatArray:
    """Level of the programme's energy sum; sections (S, ..., B) add in amplitude."""
    powers = (pressures.sum(axis=0) ** 2 * system.stage.shares).sum(axis=-1)
    return np.asarray(10.0 * np.log10(powers))
