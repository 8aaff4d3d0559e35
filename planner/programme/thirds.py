"""One-third octaves of a recording: power, peak, and what two channels have in common.

The bands have the edges of IEC 61260-1 and no slopes: what lies between the edges counts, nothing else, so
the powers of all bands add up. Against one transform of some minutes as a whole, levels agree within 0.02 dB
above 100 Hz and 0.1 dB below. The peak of a band is that of its envelope, which the band's own waveform meets
within 0.05 dB for music and noise, and within 0.15 dB for any signal. As with any sharp filter a tone that
begins all of a sudden rings over, by 0.75 dB.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.acoustics import FloatArray
from planner.acoustics.bands import third_octaves
from planner.programme.overlap import Cutter, Joiner

__all__ = ["BandSums", "ThirdOctaves", "fast_length"]

_BLOCK_S = 0.34  # at the full rate; the low bands get blocks 16 times as long
_SHORTEST_BLOCK = 16384  # of fewer, a sixteenth could not hold the bands that are left to it
_REDUCTION = 16
_FEWEST_LINES = 48  # a band narrower than this many lines of the spectrum is left to the longer blocks
# Points of the envelope for each line of its spectrum: first a coarse look, then a fine one where it matters.
_COARSE, _FINE = 2, 8
_MOST_BETWEEN = 1.3  # square of an envelope between two coarse points, re the larger; a flat band has 1.24
_LOW_PASS_SHARE = 0.75  # of the reduced rate's own range that is passed on

Spectra = NDArray[np.complex64]


@dataclass(frozen=True, slots=True)
class BandSums:
    """What is summed over a recording for each band, over samples at the full rate."""

    energy: FloatArray
    """Squares of the band's samples, all channels (bands,)."""
    peak: FloatArray
    """Largest value of the band's envelope in any channel (bands,)."""
    cross: FloatArray
    """S11, S22 and the real part of S12 of the first two channels (3, bands); of one channel with itself."""


class ThirdOctaves:
    """The 31 bands from 20 Hz to 20 kHz, fed block by block."""

    def __init__(self, sample_rate_hz: int, channels: int) -> None:
        """Divide the bands between blocks of a third of a second and blocks 16 times as long."""
        mids = third_octaves()
        size = max(_SHORTEST_BLOCK, 2 ** round(np.log2(_BLOCK_S * sample_rate_hz)))
        line_hz = sample_rate_hz / size
        edges = mids[:, np.newaxis] * 10.0 ** np.array([-0.05, 0.05])
        low = edges[:, 1] - edges[:, 0] < _FEWEST_LINES * line_hz
        self._high = _Stage(edges[~low] / line_hz, size, channels)
        self._low = _Stage(edges[low] / line_hz * _REDUCTION, size, channels)
        self._passer = _Reducer(size, channels)

    def feed(self, samples: FloatArray) -> None:
        """Take the next samples (channels, n)."""
        self._pass_on(self._high.spectra(samples))

    def finish(self) -> BandSums:
        """Take silence after the end, and give the sums."""
        self._pass_on(self._high.rest())
        self._low.take(self._low.rest())
        low, high = self._low.sums, self._high.sums
        return BandSums(
            np.concatenate([low.energy * _REDUCTION, high.energy]),
            np.concatenate([low.peak, high.peak]),
            np.concatenate([low.cross * _REDUCTION, high.cross], axis=1),
        )

    def _pass_on(self, spectra: Spectra) -> None:
        if spectra.shape[1]:
            self._high.take(spectra)
            self._low.take(self._low.spectra(self._passer.reduced(spectra)))


class _Reducer:
    """Low frequencies of a stream, at a sixteenth of its rate."""

    def __init__(self, size: int, channels: int) -> None:
        self._points = size // _REDUCTION
        self._lines = int(self._points // 2 * _LOW_PASS_SHARE)
        self._joiner = Joiner(channels, size, self._points, np.float64)

    def reduced(self, spectra: Spectra) -> FloatArray:
        blocks = np.fft.irfft(spectra[:, :, : self._lines] / _REDUCTION, self._points)
        joined: FloatArray = self._joiner.feed(blocks)
        return joined.reshape(joined.shape[0], -1)


class _Stage:
    """Bands that are taken from blocks of one length."""

    def __init__(self, edges: FloatArray, size: int, channels: int) -> None:
        """*edges* (bands, 2) in lines of the spectrum."""
        self._cutter = Cutter(channels, size)
        self._size = size
        shares = _shares(edges, size // 2)
        self._shares = shares * (2.0 / size)  # each line stands for two, and a transform makes M of one
        self._bands = [_Band(row, size, channels) for row in shares]
        nothing = np.zeros(len(edges))
        self.sums = BandSums(nothing, nothing, np.zeros((3, len(edges))))

    def spectra(self, samples: FloatArray) -> Spectra:
        return self._transformed(self._cutter.feed(samples))

    def rest(self) -> Spectra:
        return self._transformed(self._cutter.finish())

    def take(self, spectra: Spectra) -> None:
        if spectra.shape[1] == 0:
            return
        second = min(1, spectra.shape[0] - 1)
        own = np.stack([_common(channel, channel) for channel in spectra])
        cross = np.stack([own[0], own[second], _common(spectra[0], spectra[second])])
        for band in self._bands:
            band.take(spectra)
        self.sums = BandSums(
            self.sums.energy + self._shares @ own.sum(axis=0),
            np.array([band.peak for band in self._bands]),
            self.sums.cross + cross @ self._shares.T,
        )

    def _transformed(self, blocks: FloatArray) -> Spectra:
        if blocks.shape[1] == 0:
            return np.zeros((blocks.shape[0], 0, self._size // 2 + 1), dtype=np.complex64)
        # Rounded after the transform, each line to seven digits of its own: enough for any band, and faster.
        spectra: Spectra = np.fft.rfft(blocks).astype(np.complex64)
        return spectra


class _Band:
    """The envelope of one band, at a rate that fits its width."""

    def __init__(self, shares: FloatArray, size: int, channels: int) -> None:
        inside = np.flatnonzero(shares)
        # A multiple of 4, so that the carrier has the same phase at the start of every block.
        self._first = int(inside[0]) // 4 * 4 if inside.size else 0
        self._end = int(inside[-1]) + 1 if inside.size else 0
        width = self._end - self._first
        self._size, self._points, self._fine = size, fast_length(_COARSE * width), fast_length(_FINE * width)
        # A line of amplitude A is A M / 2 high, and the inverse divides by its own length.
        self._mask = (np.sqrt(shares[self._first : self._end]) * 2.0 / size).astype(np.float32)
        self._joiner = Joiner(channels, size, self._points, np.complex64)
        self._last = np.zeros((channels, width), dtype=np.complex64)
        self.peak = 0.0

    def take(self, spectra: Spectra) -> None:
        """Raise the peak to the largest value of the envelope that the next blocks complete."""
        if self._end == self._first:
            return
        lines = spectra[:, :, self._first : self._end] * self._mask
        coarse = self._joiner.feed(np.fft.ifft(lines, self._points))
        parts = coarse.view(coarse.real.dtype)
        # No envelope is above sqrt(2) times its larger part: most blocks need no second look.
        bound = 2.0 * np.maximum(parts.max(axis=2), -parts.min(axis=2)) ** 2
        channel, block = np.nonzero(bound > self._enough())
        if channel.size:
            near = coarse[channel, block]
            most = np.max(near.real**2 + near.imag**2, axis=1)
            for k in np.argsort(most)[::-1]:
                if most[k] <= self._enough():
                    break
                before = lines[channel[k], block[k] - 1] if block[k] else self._last[channel[k]]
                self._look_closely(np.stack([before, lines[channel[k], block[k]]]))
        self._last = lines[:, -1].copy()

    def _enough(self) -> float:
        """Square of the coarse envelope, as its transform gives it, that may hide a new peak."""
        return (self.peak / self._points) ** 2 / _MOST_BETWEEN

    def _look_closely(self, pair: Spectra) -> None:
        """The envelope again, finely, where one block fades out and the next one fades in."""
        fine = Joiner(1, self._size, self._fine, np.complex64)
        joined = fine.feed(np.fft.ifft(pair[np.newaxis], self._fine))[0, 1] * self._fine
        self.peak = max(self.peak, float(np.sqrt(np.max(joined.real**2 + joined.imag**2))))


def _common(first: Spectra, second: Spectra) -> FloatArray:
    """Real part of the cross-spectrum of two channels (lines,), summed over their blocks (blocks, lines)."""
    # Real and imaginary parts one after the other: the same sum, over numbers that lie side by side.
    parts = np.einsum("bk,bk->k", first.view(np.float32), second.view(np.float32))
    summed: FloatArray = parts.astype(float).reshape(-1, 2).sum(axis=1)
    return summed


def _shares(edges: FloatArray, lines: int) -> FloatArray:
    """Share (bands, lines + 1) of each line of the spectrum that lies between the edges of each band."""
    low, high = edges[:, :1], edges[:, 1:]
    line = np.arange(lines + 1)
    overlap = np.minimum(high, line + 0.5) - np.maximum(low, line - 0.5)
    shares: FloatArray = np.clip(overlap, 0.0, 1.0)
    shares[:, lines] *= 0.5  # the last line stands for itself only
    return shares


def fast_length(least: int) -> int:
    """Smallest multiple of 4 with no prime factor above 5, for the Fourier transform.

    Parameters
    ----------
    least : int
        Length that is needed [dimensionless].

    Returns
    -------
    int
        Length, at least `least` and at least 8 [dimensionless].

    References
    ----------
    Common practice, no published source.

    Examples
    --------
    By hand: 104 has the factor 13, 108 is 4 x 27.

    >>> fast_length(101)
    108
    """
    length = max(8, -(-least // 4) * 4)
    while _rest(length) > 1:
        length += 4
    return length


def _rest(number: int) -> int:
    """What is left of a number without its factors 2, 3 and 5."""
    for factor in (2, 3, 5):
        while number % factor == 0:
            number //= factor
    return number
