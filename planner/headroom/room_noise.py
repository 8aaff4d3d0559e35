"""How quiet the room is with nothing playing, by octave and third octave."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bands import interpolate, third_octaves
from planner.acoustics.noise_criteria import (
    NC_OCTAVES_HZ,
    hearing_threshold,
    nc_a_level,
    nc_from_a_level,
    nc_levels,
    octaves_of_thirds,
)
from planner.plan.model import Plan
from planner.plan.room import RoomNoise

__all__ = ["Quiet", "RoomSpectrum", "quiet_of"]

FloatArray = NDArray[np.float64]
_THIRDS_HZ = third_octaves(12.5, 10_000.0)


@dataclass(frozen=True, slots=True, eq=False)
class RoomSpectrum:
    """The room's own noise: A-weighted level, the ten NC octaves (10,), and third octaves (B,) [dB]."""

    dba: float
    octave_db: FloatArray
    third_db: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Quiet:
    """What an ear has to hear past, by third octave (B,): its own threshold, and the room's noise.

    ``room`` is None in open air and where the plan does not say.
    """

    threshold_db: FloatArray
    room: RoomSpectrum | None

    @property
    def limit_db(self) -> FloatArray:
        """A sound at or below this is not heard: the higher of threshold and room noise in its third.

        Common practice, no published source: a tone is noticed some 4 dB before it is as loud as the
        noise in its third, and a patient ear hears past a threshold that is a mean of many.
        """
        return self.threshold_db if self.room is None else np.maximum(self.threshold_db, self.room.third_db)


def quiet_of(plan: Plan, band_hz: FloatArray) -> Quiet:
    """Threshold and room noise of a plan at given mids (B,)."""
    noise = None if plan.room is None else plan.room.noise
    return Quiet(hearing_threshold(band_hz), None if noise is None else _spectrum(noise, band_hz))


def _spectrum(noise: RoomNoise, band_hz: FloatArray) -> RoomSpectrum:
    """The spectrum of an NC curve, or of the one that has the stated A-weighted level.

    A level beyond the curves moves the nearest of them up or down.
    """
    curve = noise.nc if noise.nc is not None else float(nc_from_a_level(noise.dba or 0.0))
    curve_dba = float(nc_a_level(curve))
    dba = curve_dba if noise.dba is None else noise.dba
    octave_db = nc_levels(curve) + (dba - curve_dba)
    return RoomSpectrum(dba, octave_db, interpolate(band_hz, _THIRDS_HZ, _thirds(octave_db)))


def _thirds(octave_db: FloatArray) -> FloatArray:
    """Thirds of ten octaves (30,): they follow the curve over log frequency, and add up to each octave."""
    slope_db = interpolate(_THIRDS_HZ, NC_OCTAVES_HZ, octave_db)
    return np.asarray(slope_db - np.repeat(octaves_of_thirds(slope_db, _THIRDS_HZ) - octave_db, 3))
