"""A recording for the tests of plans: two channels of noise with a few louder beats, as a plan keeps it."""

from functools import cache

import numpy as np

from planner.plan.recorded import recorded
from planner.plan.recording import Recording
from planner.programme.sections import SectionBand
from planner.programme.statistics import RecordingStatistics, statistics_of
from tests.programme.signals import counted, pink

BANDS = (SectionBand(None, 500.0, (24.0, 24.0)), SectionBand(500.0, None, (24.0, 24.0)))


def beats(duration_s: float = 6.0, rate_hz: int = 48000) -> np.ndarray:
    """Half alike, half not, with a beat every second (2, n)."""
    count = round(duration_s * rate_hz)
    common, left, right = (pink(count, rate_hz, seed) for seed in (1, 2, 3))
    swell = 1.0 + 3.0 * ((np.arange(count) / rate_hz) % 1.0 < 0.05)
    return 0.5 * np.stack([common + 0.7 * left, common + 0.7 * right]) * swell


@cache
def beats_read() -> RecordingStatistics:
    """The beats, read with the edges of two sections that meet at 500 Hz."""
    return statistics_of(counted(beats(), sections=BANDS), "beats.wav", "ab" * 32, BANDS)


@cache
def beats_kept() -> Recording:
    """The beats as a plan keeps them."""
    return recorded(beats_read())
