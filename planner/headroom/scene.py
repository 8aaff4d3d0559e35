"""Geometry and air of a plan as arrays: who sits how far and at what angle from which stand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.air import attenuation, speed_of_sound
from planner.acoustics.bands import third_octaves
from planner.headroom.programme import coherence_of
from planner.plan import Plan
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Stand

__all__ = ["BAND_HZ", "Scene", "air_of", "carried", "scene_of"]

FloatArray = NDArray[np.float64]
BAND_HZ = third_octaves()
"""Exact mid frequencies of the 31 third octaves from 20 Hz to 20 kHz [Hz]."""


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Arrays over seats (K), stands (N) and bands (B).

    ``axis`` (N, 3) is where the loudspeakers point. ``distance_m``, ``azimuth_deg``,
    ``elevation_deg`` and ``angle_deg`` are (K, N): the way from stand to seat, its differences to
    the aim, and its angle to the axis. ``air_db_m`` [dB/m] and ``coherence`` are (B,).
    """

    band_hz: FloatArray
    axis: FloatArray
    distance_m: FloatArray
    azimuth_deg: FloatArray
    elevation_deg: FloatArray
    angle_deg: FloatArray
    air_db_m: FloatArray
    coherence: FloatArray
    sound_speed: float


def scene_of(plan: Plan) -> Scene:
    """The scene of a plan without findings; open air is at 20 °C and 50 % humidity."""
    seats = np.array([seat.position_m for seat in plan.seats])
    stands = np.array([stand.position_m for stand in plan.stands])
    axis = axes_of(plan)
    distance, azimuth, elevation, angle = sight(seats[:, None, :] - stands, axis)
    temperature, humidity, pressure = air_of(plan)
    return Scene(
        band_hz=BAND_HZ,
        axis=axis,
        distance_m=distance,
        azimuth_deg=azimuth,
        elevation_deg=elevation,
        angle_deg=angle,
        air_db_m=np.asarray(attenuation(BAND_HZ, temperature, humidity, pressure)),
        coherence=coherence_of(plan.programme, BAND_HZ),
        sound_speed=float(speed_of_sound(temperature)),
    )


def sight(way: FloatArray, axis: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Length [m] of vectors *way*, azimuth and elevation less those of *axis*, and the angle between [deg].

    Both are (..., 3) and broadcast; azimuth differences are wrapped to ±180°.
    """
    distance = np.linalg.norm(way, axis=-1)
    azimuth, elevation = _angles(way)
    axis_azimuth, axis_elevation = _angles(axis)
    cosine = (way * axis).sum(axis=-1) / distance
    return (
        distance,
        (azimuth - axis_azimuth + 180.0) % 360.0 - 180.0,
        elevation - axis_elevation,
        np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))),
    )


def carried(stands: tuple[Stand, ...], loudspeaker: Loudspeaker) -> FloatArray:
    """1 where a stand carries a section, else 0: (N, S)."""
    names = [section.name for section in loudspeaker.sections]
    return np.array(
        [[float(stand.carries is None or name in stand.carries) for name in names] for stand in stands]
    )


def air_of(plan: Plan) -> tuple[float, float, float]:
    """Temperature [°C], humidity [%] and pressure [kPa]; open air has those of a room by default."""
    if plan.room is None:
        return 20.0, 50.0, 101.325
    return plan.room.temperature_c, plan.room.humidity_pct, plan.room.pressure_kpa


def axes_of(plan: Plan) -> FloatArray:
    """Unit vectors along which the loudspeakers of a plan point: (N, 3)."""
    seats = {seat.name: seat for seat in plan.seats}
    axes = []
    for stand in plan.stands:
        if stand.aim.seat is not None:
            axes.append(np.subtract(seats[stand.aim.seat].position_m, stand.position_m))
        else:
            azimuth, elevation = np.radians([stand.aim.azimuth_deg or 0.0, stand.aim.elevation_deg or 0.0])
            level = np.cos(elevation)
            axes.append(np.array([level * np.cos(azimuth), level * np.sin(azimuth), np.sin(elevation)]))
    stacked = np.array(axes)
    return np.asarray(stacked / np.linalg.norm(stacked, axis=-1, keepdims=True))


def _angles(way: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Azimuth and elevation of vectors (..., 3) [deg]."""
    x, y, z = way[..., 0], way[..., 1], way[..., 2]
    return np.degrees(np.arctan2(y, x)), np.degrees(np.arctan2(z, np.hypot(x, y)))
