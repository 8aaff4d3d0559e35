"""A recording as statistics: what a plan keeps of it. Levels in dB re a full-scale square wave (dBFS)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray
from planner.acoustics.bands import third_octaves
from planner.programme.amplitudes import Distribution, distribution_of
from planner.programme.loudness import integrated_loudness, loudness_range
from planner.programme.sections import SectionBand
from planner.programme.tally import TENTHS_PER_SECOND, Tally

__all__ = [
    "BandStatistics",
    "PeakTimeline",
    "RecordingStatistics",
    "SectionStatistics",
    "statistics_of",
]

_LOUD_TENTHS = 30  # tenths of a second in a window of 3 s
_TIMELINE_STEPS_S = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 30.0, 60.0)
_LONGEST_TIMELINE = 6000


@dataclass(frozen=True, slots=True)
class BandStatistics:
    """The one-third octaves; None where a band holds nothing."""

    centre_hz: tuple[float, ...]
    level_dbfs: tuple[float | None, ...]
    """RMS over all channels."""
    crest_db: tuple[float | None, ...]
    """Largest peak of any channel re that level."""
    coherence: tuple[float | None, ...]
    """In-band correlation of the first two channels, -1 to 1; 1 for one channel."""


@dataclass(frozen=True, slots=True)
class SectionStatistics:
    """The part of the recording that one section of a loudspeaker gets; None where that is nothing."""

    band: SectionBand
    level_dbfs: float | None
    crest_db: float | None


@dataclass(frozen=True, slots=True)
class PeakTimeline:
    """Largest sample in each window of the recording; the last window may be incomplete."""

    window_s: float
    peak_dbfs: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class RecordingStatistics:
    """All that is kept of a recording, or of several played one after another.

    Of a set, `file` is the name of its folder or list, and sample rate and channels are None unless all
    members agree. Loudness is None where the recording is too short or too quiet for it.
    """

    file: str
    digest: str
    duration_s: float
    sample_rate_hz: int | None
    channels: int | None
    rms_dbfs: float
    sample_peak_dbfs: float
    true_peak_dbtp: float
    integrated_lufs: float | None
    loudness_range_lu: float | None
    max_momentary_lufs: float | None
    max_short_term_lufs: float | None
    crest_db: float
    loud_crest_db: float
    bands: BandStatistics
    sections: tuple[SectionStatistics, ...]
    distribution: Distribution
    timeline: PeakTimeline
    clipped_tenths: tuple[int, ...]
    """Tenths of a second that reach above each level of the distribution."""


def statistics_of(
    tally: Tally, file: str, digest: str, sections: tuple[SectionBand, ...] = ()
) -> RecordingStatistics:
    """What is kept of a recording that has been counted.

    Parameters
    ----------
    tally : Tally
        Sums over the recording, which is not silent [dimensionless].
    file : str
        The file's name [dimensionless].
    digest : str
        SHA-256 of the file [dimensionless].
    sections : tuple of SectionBand
        The bands that were counted beside the thirds [dimensionless].

    Returns
    -------
    RecordingStatistics
        Levels and shares [dB].

    Examples
    --------
    By hand: a full-scale sine has an RMS of 1/sqrt(2), so -3.01 dBFS, and a crest factor of 3.01 dB.

    >>> from planner.programme.tally import Counter
    >>> counter = Counter(48000, 1)
    >>> counter.feed(np.sin(np.arange(48000, dtype=np.float32) * np.float32(np.pi / 24.0))[np.newaxis])
    >>> sine = statistics_of(counter.finish(), "sine.wav", "")
    >>> print(f"{sine.rms_dbfs:.2f} dBFS, {sine.crest_db:.2f} dB")
    -3.01 dBFS, 3.01 dB
    """
    rms_dbfs, peak_dbfs = _power_db(tally.power), _amplitude_db(tally.peak)
    distribution = distribution_of(tally.counts, float(np.sqrt(tally.power)))
    return RecordingStatistics(
        file=file,
        digest=digest,
        duration_s=tally.duration_s,
        sample_rate_hz=_only(tally.sample_rates_hz),
        channels=_only(tally.channels),
        rms_dbfs=rms_dbfs,
        sample_peak_dbfs=peak_dbfs,
        true_peak_dbtp=_amplitude_db(tally.true_peak),
        integrated_lufs=integrated_loudness(tally.tenth_loudness, TENTHS_PER_SECOND),
        loudness_range_lu=loudness_range(tally.tenth_loudness, TENTHS_PER_SECOND),
        max_momentary_lufs=_finite(tally.momentary_lufs),
        max_short_term_lufs=_finite(tally.short_term_lufs),
        crest_db=peak_dbfs - rms_dbfs,
        loud_crest_db=peak_dbfs - _power_db(_loudest_power(tally)),
        bands=_bands(tally),
        sections=_sections(tally, sections),
        distribution=distribution,
        timeline=_timeline(tally.tenth_peak),
        clipped_tenths=_clipped_tenths(tally, np.array(distribution.level_re_rms_db)),
    )


def _loudest_power(tally: Tally) -> float:
    """Mean square of the loudest tenth of all whole windows of 3 s; below 3 s that of the whole."""
    windows = tally.tenth_power.size // _LOUD_TENTHS
    if windows == 0:
        return tally.power
    power = np.sort(tally.tenth_power[: windows * _LOUD_TENTHS].reshape(windows, _LOUD_TENTHS).mean(axis=1))
    return float(power[-max(1, windows // 10) :].mean())


def _bands(tally: Tally) -> BandStatistics:
    power, peak = tally.band_power, tally.band_peak
    heard = power > tally.power * 1e-20  # less than that is what rounding leaves
    s11, s22, s12 = tally.band_cross
    both = heard & (np.minimum(s11, s22) > np.maximum(s11, s22).max(initial=0.0) * 1e-20)
    with np.errstate(divide="ignore", invalid="ignore"):
        level_db = 10.0 * np.log10(power)
        crest_db = 20.0 * np.log10(peak) - level_db
        coherence = np.clip(s12 / np.sqrt(s11 * s22), -1.0, 1.0)
    return BandStatistics(
        centre_hz=tuple(third_octaves().tolist()),
        level_dbfs=_where(heard, level_db),
        crest_db=_where(heard, crest_db),
        coherence=_where(both, coherence),
    )


def _sections(tally: Tally, sections: tuple[SectionBand, ...]) -> tuple[SectionStatistics, ...]:
    found = []
    for band, power, peak in zip(sections, tally.section_power, tally.section_peak, strict=True):
        level_db = _power_db(power) if power > tally.power * 1e-20 else None
        crest_db = None if level_db is None else _amplitude_db(peak) - level_db
        found.append(SectionStatistics(band, level_db, crest_db))
    return tuple(found)


def _timeline(tenth_peak: FloatArray) -> PeakTimeline:
    """The finest of a few windows that keeps the timeline short."""
    tenths = [round(step_s * TENTHS_PER_SECOND) for step_s in _TIMELINE_STEPS_S]
    fits = [count for count in tenths if tenth_peak.size <= count * _LONGEST_TIMELINE]
    count = fits[0] if fits else tenths[-1]
    peak = np.maximum.reduceat(tenth_peak, np.arange(0, tenth_peak.size, count))
    with np.errstate(divide="ignore"):
        level_db = np.round(20.0 * np.log10(peak), 2)
    return PeakTimeline(count / TENTHS_PER_SECOND, _where(peak > 0.0, level_db))


def _clipped_tenths(tally: Tally, level_re_rms_db: FloatArray) -> tuple[int, ...]:
    threshold = np.sqrt(tally.power) * 10.0 ** (level_re_rms_db / 20.0)
    rising = np.sort(tally.tenth_peak)
    return tuple((rising.size - np.searchsorted(rising, threshold, side="right")).tolist())


def _where(known: ArrayLike, values: FloatArray) -> tuple[float | None, ...]:
    pairs = zip(np.asarray(known).tolist(), values.tolist(), strict=True)
    return tuple(value if there else None for there, value in pairs)


def _only(values: frozenset[int]) -> int | None:
    return next(iter(values)) if len(values) == 1 else None


def _finite(level_db: float) -> float | None:
    return level_db if np.isfinite(level_db) else None


def _power_db(power: float) -> float:
    return float(10.0 * np.log10(power))


def _amplitude_db(amplitude: float) -> float:
    return float(20.0 * np.log10(amplitude))
