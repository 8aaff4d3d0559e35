"""What is computed from one plan and one candidate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "TIGHT_BELOW_DB",
    "AmplifierOutcome",
    "Bands",
    "Caution",
    "FirstLimit",
    "Outcome",
    "PartLimit",
    "RoomFigures",
    "SeatOutcome",
    "Step",
    "verdict_of",
]

FloatArray = NDArray[np.float64]
TIGHT_BELOW_DB = 3.0


def verdict_of(headroom_db: float) -> str:
    """``clears`` from 3 dB of headroom, ``tight`` from 0 dB, ``short`` below."""
    if headroom_db >= TIGHT_BELOW_DB:
        return "clears"
    return "tight" if headroom_db >= 0.0 else "short"


@dataclass(frozen=True, slots=True)
class Caution:
    """Something the reader of an outcome must know; :mod:`planner.report.words` has the words.

    ``key`` says what, ``value`` is its figure (an absorption, a frequency [Hz]), ``name`` whom it
    concerns where that matters.
    """

    key: str
    value: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class FirstLimit:
    """The part that gives out first, the quantity it runs out of, and the band that asks most of it."""

    part: str
    quantity: str
    band_hz: float


@dataclass(frozen=True, slots=True)
class PartLimit:
    """One part, one quantity that it can run out of, the headroom it leaves and its hardest band."""

    part: str
    quantity: str
    band_hz: float
    headroom_db: float


@dataclass(frozen=True, slots=True, eq=False)
class Bands:
    """Values by third octave, each (bands,).

    Centres [Hz], rms at the seat [dB], room gain [dB] (0 in open air), headroom [dB].
    """

    centre_hz: FloatArray
    level_db: FloatArray
    room_gain_db: FloatArray
    headroom_db: FloatArray


@dataclass(frozen=True, slots=True)
class AmplifierOutcome:
    """What one amplifier is asked for at one seat, one channel of it."""

    name: str
    tap_ohm: float
    watts_rated: float
    watts_needed: float
    peak_volts: float
    peak_amps: float
    average_watts: float
    headroom_db: float


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the level ladder: its key, what it adds [dB], and the level reached [dB]."""

    key: str
    change_db: float
    level_db: float


@dataclass(frozen=True, slots=True, eq=False)
class RoomFigures:
    """What the room does, by band (bands,); critical distance is that of the loudspeaker in this room."""

    volume_m3: float
    surface_m2: float
    t60_s: FloatArray
    mean_absorption: FloatArray
    schroeder_hz: float
    critical_distance_m: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class SeatOutcome:
    """The answer at one seat."""

    name: str
    distance_m: float
    verdict: str
    peak_target_db: float
    average_db: float
    average_dba: float
    watts_needed: float
    watts_rated: float
    headroom_db: float
    loudest_peak_db: float
    first_limit: FirstLimit
    limits: tuple[PartLimit, ...]
    """Every limit, the least headroom first."""
    bands: Bands
    amplifiers: tuple[AmplifierOutcome, ...]
    ladder: tuple[Step, ...]
    one_side_db: float | None
    """How much more one amplifier must give when a peak is panned hard to its side [dB]."""


@dataclass(frozen=True, slots=True, eq=False)
class Outcome:
    """One candidate at all seats; its verdict is that of its worst seat."""

    candidate: str
    seats: tuple[SeatOutcome, ...]
    room: RoomFigures | None
    cautions: tuple[Caution, ...]

    @property
    def worst(self) -> SeatOutcome:
        """The seat with the least headroom."""
        return min(self.seats, key=lambda seat: seat.headroom_db)

    @property
    def verdict(self) -> str:
        """``clears``, ``tight`` or ``short``."""
        return self.worst.verdict
