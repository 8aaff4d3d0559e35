"""What is counted while a recording streams past, and how several recordings become one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.acoustics import FloatArray
from planner.programme.amplitudes import AmplitudeCount
from planner.programme.k_weighting import k_sections
from planner.programme.loudness import (
    STEPS_PER_SECOND,
    channel_weights,
    momentary_loudness,
    short_term_loudness,
)
from planner.programme.recursion import BlockFilter
from planner.programme.sections import SectionBand, SectionSums
from planner.programme.steps import StepTrack
from planner.programme.thirds import ThirdOctaves
from planner.programme.true_peak import TruePeak

__all__ = ["TENTHS_PER_SECOND", "Counter", "Tally", "joined"]

TENTHS_PER_SECOND = 10
_STEPS = STEPS_PER_SECOND // TENTHS_PER_SECOND


@dataclass(frozen=True, slots=True)
class Tally:
    """Sums over a recording, as mean squares: those of recordings one after another are weighted means."""

    duration_s: float
    sample_rates_hz: frozenset[int]
    channels: frozenset[int]
    peak: float
    """Largest magnitude of a sample; 1 is full scale."""
    true_peak: float
    power: float
    """Mean square of all samples of all channels."""
    tenth_power: FloatArray
    """Mean squares of whole tenths of a second, over all channels (n,)."""
    tenth_loudness: FloatArray
    """K-weighted mean squares of whole tenths of a second, channels weighted and summed (n,)."""
    tenth_peak: FloatArray
    """Largest magnitude in each tenth of a second, a last part of one too (n or n + 1,)."""
    momentary_lufs: float
    """Largest momentary loudness; minus infinity where there is none."""
    short_term_lufs: float
    counts: FloatArray
    """Share of the samples in each class of magnitude."""
    band_power: FloatArray
    band_peak: FloatArray
    band_cross: FloatArray
    """S11, S22 and Re S12 of the first two channels (3, bands)."""
    section_power: FloatArray
    section_peak: FloatArray


class Counter:
    """Counts everything of one recording, fed block by block."""

    def __init__(self, sample_rate_hz: int, channels: int, sections: tuple[SectionBand, ...] = ()) -> None:
        """Start with nothing counted; *sections* are the bands whose level and peak are wanted too."""
        self._rate_hz, self._channels, self._frames = sample_rate_hz, channels, 0
        self._energy = StepTrack(sample_rate_hz, np.add)
        self._peak = StepTrack(sample_rate_hz, np.maximum)
        self._loudness = StepTrack(sample_rate_hz, np.add)
        self._k_filter = BlockFilter(k_sections(sample_rate_hz), channels)
        self._weights = channel_weights(channels)
        self._true_peak = TruePeak(channels)
        self._amplitudes = AmplitudeCount()
        self._thirds = ThirdOctaves(sample_rate_hz, channels)
        self._sections = SectionSums(sections, sample_rate_hz, channels)

    def feed(self, samples: NDArray[np.float32]) -> None:
        """Take the next samples (channels, n), contiguous; 1 is full scale."""
        self._frames += samples.shape[1]
        exact = samples.astype(float)
        heard = self._k_filter(exact)
        self._energy.feed(np.einsum("cn,cn->n", exact, exact))
        self._peak.feed(np.abs(samples).max(axis=0).astype(float))
        self._loudness.feed(np.einsum("c,cn,cn->n", self._weights, heard, heard))
        self._true_peak.feed(samples)
        self._amplitudes.feed(samples)
        self._thirds.feed(exact)
        self._sections.feed(exact)

    def finish(self) -> Tally:
        """Everything counted; nothing may be fed after it."""
        bands = self._thirds.finish()
        section_energy, section_peak = self._sections.finish()
        energy, peak = self._energy.finish(), self._peak.finish()
        steps = self._frames * STEPS_PER_SECOND // self._rate_hz
        step_frames, samples = self._rate_hz / STEPS_PER_SECOND, self._frames * self._channels
        loudness = self._loudness.finish()[:steps] / step_frames
        return Tally(
            duration_s=self._frames / self._rate_hz,
            sample_rates_hz=frozenset([self._rate_hz]),
            channels=frozenset([self._channels]),
            peak=float(peak.max(initial=0.0)),
            true_peak=self._true_peak.finish(),
            power=float(energy.sum()) / samples,
            tenth_power=_tenths(energy[:steps]) / (step_frames * self._channels),
            tenth_loudness=_tenths(loudness),
            tenth_peak=np.maximum.reduceat(peak, np.arange(0, peak.size, _STEPS)),
            momentary_lufs=float(momentary_loudness(loudness).max(initial=-np.inf)),
            short_term_lufs=float(short_term_loudness(loudness).max(initial=-np.inf)),
            counts=self._amplitudes.finish() / samples,
            band_power=bands.energy / samples,
            band_peak=bands.peak,
            band_cross=bands.cross / self._frames,
            section_power=section_energy / samples,
            section_peak=section_peak,
        )


def _tenths(steps: FloatArray) -> FloatArray:
    """Means over whole tenths of a second."""
    whole = steps.size - steps.size % _STEPS
    mean: FloatArray = steps[:whole].reshape(-1, _STEPS).mean(axis=1)
    return mean


def joined(tallies: Sequence[Tally]) -> Tally:
    """The tally of recordings played one after another; each counts by its energy.

    Parameters
    ----------
    tallies : sequence of Tally
        At least one, all with the same sections [dimensionless].

    Returns
    -------
    Tally
        Mean squares weighted by duration, the largest of all peaks [dimensionless].

    Examples
    --------
    By hand: a second at 1 and three seconds at 0 are a quarter on average.

    >>> def played(level, seconds):
    ...     counter = Counter(8000, 1)
    ...     counter.feed(np.full((1, 8000 * seconds), level, dtype=np.float32))
    ...     return counter.finish()
    >>> print(f"{joined([played(1.0, 1), played(0.0, 3)]).power:.2f}")
    0.25
    """
    whole_s = sum(tally.duration_s for tally in tallies)
    shares = np.array([tally.duration_s / whole_s for tally in tallies])

    def mean(name: str) -> FloatArray:
        values: FloatArray = np.tensordot(shares, np.stack([getattr(t, name) for t in tallies]), axes=1)
        return values

    def largest(name: str) -> FloatArray:
        values: FloatArray = np.max(np.stack([getattr(t, name) for t in tallies]), axis=0)
        return values

    def in_turn(name: str) -> FloatArray:
        return np.concatenate([getattr(t, name) for t in tallies])

    return Tally(
        duration_s=whole_s,
        sample_rates_hz=frozenset().union(*(t.sample_rates_hz for t in tallies)),
        channels=frozenset().union(*(t.channels for t in tallies)),
        peak=float(largest("peak")),
        true_peak=float(largest("true_peak")),
        power=float(mean("power")),
        tenth_power=in_turn("tenth_power"),
        tenth_loudness=in_turn("tenth_loudness"),
        tenth_peak=in_turn("tenth_peak"),
        momentary_lufs=float(largest("momentary_lufs")),
        short_term_lufs=float(largest("short_term_lufs")),
        counts=mean("counts"),
        band_power=mean("band_power"),
        band_peak=largest("band_peak"),
        band_cross=mean("band_cross"),
        section_power=mean("section_power"),
        section_peak=largest("section_peak"),
    )
