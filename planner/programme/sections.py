"""The part of a recording that one section of a loudspeaker gets: its level and its peak."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.programme.overlap import Cutter, Joiner

__all__ = ["SectionBand", "SectionSums", "section_gain"]

_BLOCK_S = 1.36


@dataclass(frozen=True, slots=True)
class SectionBand:
    """Edges of a section that are electrical (-6 dB points); None where its amplifier sees no edge."""

    low_hz: float | None = None
    high_hz: float | None = None
    slopes_db_per_octave: tuple[float, float] = (24.0, 24.0)


def section_gain(frequency_hz: ArrayLike, band: SectionBand) -> FloatArray:
    """Magnitude of the filter in front of a section.

    1/(1 + (f/fc)^n) with n = slope / 6 dB, and its mirror image for the lower edge.

    Parameters
    ----------
    frequency_hz : float or array
        Frequency, at least 0 [Hz].
    band : SectionBand
        Edges above 0, slopes above 0 in dB per octave [dimensionless].

    Returns
    -------
    float or array
        Gain from 0 to 1, in the shape of `frequency_hz` [dimensionless].

    Raises
    ------
    ValueError
        If an edge or a slope is not above 0, or a frequency below 0.

    References
    ----------
    Definition of this program: neighbours that share an edge sum flat in amplitude.

    Examples
    --------
    By hand: an octave above the edge 1/(1 + 2^4).

    >>> print(f"{section_gain(1000.0, SectionBand(None, 500.0)):.4f}")
    0.0588
    """
    frequency = floats("frequency_hz", frequency_hz, at_least=0.0)
    slopes = floats("slopes_db_per_octave", band.slopes_db_per_octave, above=0.0)
    gain = np.ones_like(frequency)
    if band.low_hz is not None:
        edge_hz = floats("low_hz", band.low_hz, above=0.0)
        passed = (frequency / edge_hz) ** (slopes[0] / 6.0)
        gain = gain * passed / (1.0 + passed)
    if band.high_hz is not None:
        edge_hz = floats("high_hz", band.high_hz, above=0.0)
        gain = gain / (1.0 + (frequency / edge_hz) ** (slopes[1] / 6.0))
    return gain


class SectionSums:
    """Energy and peak of each section's part, fed block by block; the filters shift no phase."""

    def __init__(self, bands: tuple[SectionBand, ...], sample_rate_hz: int, channels: int) -> None:
        """Use blocks of a second or more: edges from about 20 Hz up are then sharp enough."""
        size = max(1024, 2 ** round(np.log2(_BLOCK_S * sample_rate_hz)))
        frequency_hz = np.fft.rfftfreq(size, 1.0 / sample_rate_hz)
        self._gains = [section_gain(frequency_hz, band) for band in bands]
        self._cutter = Cutter(channels, size)
        self._size = size
        self._joiners = [Joiner(channels, size, size, np.float64) for _ in bands]
        self.energy = np.zeros(len(bands))
        self.peak = np.zeros(len(bands))

    def feed(self, samples: FloatArray) -> None:
        """Take the next samples (channels, n)."""
        if self._gains:
            self._take(self._cutter.feed(samples))

    def finish(self) -> tuple[FloatArray, FloatArray]:
        """Take silence after the end; give the sum of squares of all channels and the peak (sections,)."""
        if self._gains:
            self._take(self._cutter.finish())
        return self.energy, self.peak

    def _take(self, blocks: FloatArray) -> None:
        if blocks.shape[1] == 0:
            return
        spectra = np.fft.rfft(blocks)
        for index, (gain, joiner) in enumerate(zip(self._gains, self._joiners, strict=True)):
            joined = joiner.feed(np.fft.irfft(spectra * gain, self._size))
            self.energy[index] += np.einsum("cbk,cbk->", joined, joined)
            self.peak[index] = max(self.peak[index], float(np.max(np.abs(joined))))
