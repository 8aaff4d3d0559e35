"""From the threshold of hearing to the loudest that a system can do, by third octave at one seat."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.noise import SeatNoise
from planner.headroom.system import System
from planner.plan.model import Plan

__all__ = ["QuietToLoud", "quiet_to_loud"]

FloatArray = NDArray[np.float64]
AMPLIFIER_QUANTITIES = ("voltage", "current")


@dataclass(frozen=True, slots=True, eq=False)
class QuietToLoud:
    """Levels at a seat by third octave (B,) [dB re 20 µPa], from quiet to loud.

    ``average_db`` is the rms of the programme, ``peak_db`` its peaks at the target, each band with the
    programme's crest factor. ``clip_db`` and ``loudspeaker_db`` are those peaks when the whole programme
    is turned up, or down, to what the amplifiers and the loudspeaker can do: they lie below ``peak_db``
    just where the answer is short. What is not known is None.
    """

    centre_hz: FloatArray
    threshold_db: FloatArray
    room_db: FloatArray | None
    noise_db: FloatArray | None
    average_db: FloatArray
    peak_db: FloatArray
    clip_db: FloatArray
    loudspeaker_db: FloatArray | None


def quiet_to_loud(system: System, plan: Plan, seat: int, noise: SeatNoise) -> QuietToLoud:
    """All levels at one seat; *noise* is that seat's of :func:`planner.headroom.noise.seat_noises`."""
    gain_db = float(system.gain_db[seat])
    peak_db = _level(system.arrival.peak[seat]) + gain_db + plan.programme.crest_db
    loudspeaker = _headroom_db(system, gain_db, of_amplifiers=False)
    room, amplifier = noise.quiet.room, noise.amplifier
    return QuietToLoud(
        centre_hz=system.stage.scene.band_hz,
        threshold_db=noise.quiet.threshold_db,
        room_db=None if room is None else room.third_db,
        noise_db=None if amplifier is None else amplifier.level_db,
        average_db=_level(system.arrival.steady[seat]) + gain_db,
        peak_db=peak_db,
        clip_db=peak_db + (_headroom_db(system, gain_db, of_amplifiers=True) or 0.0),
        loudspeaker_db=None if loudspeaker is None else peak_db + loudspeaker,
    )


def _headroom_db(system: System, gain_db: float, *, of_amplifiers: bool) -> float | None:
    """What the amplifiers, or everything else, allow above the target; None without a limit."""
    allowed = [
        one.total_db - gain_db
        for one in system.capabilities
        if (one.quantity in AMPLIFIER_QUANTITIES) == of_amplifiers
    ]
    return min(allowed, default=None)


def _level(power: FloatArray) -> FloatArray:
    return np.asarray(10.0 * np.log10(np.maximum(power, np.finfo(float).tiny)))
