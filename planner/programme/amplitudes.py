"""How often a recording reaches a level: the share of its samples above it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planner.acoustics import FloatArray, floats

__all__ = ["LEVELS_RE_RMS_DB", "AmplitudeCount", "Distribution", "Shares", "clipped_share"]

LEVELS_RE_RMS_DB = np.round(np.arange(-400, 481) * 0.05, 2)
"""Levels re RMS at which shares are kept: finer than they are shown, so that what lies between is right."""

# The top bits of a number in single precision, read as a whole number, rise with the number: 8192 classes
# an octave, 0.001 dB wide, in which each value of a 14-bit recording has a class of its own.
_MANTISSA_BITS = 13
_SHIFT = 23 - _MANTISSA_BITS
_TOGETHER = 2**20  # samples that are counted at a time: the table of classes is large
_LOWEST, _HIGHEST = 2.0**-30, 2.0**10
_LOWEST_KEY = int(np.float32(_LOWEST).view(np.int32)) >> _SHIFT
_KEYS = (int(np.float32(_HIGHEST).view(np.int32)) >> _SHIFT) - _LOWEST_KEY + 1


@dataclass(frozen=True, slots=True)
class Distribution:
    """Share of all samples whose magnitude lies above each level re RMS."""

    level_re_rms_db: tuple[float, ...]
    share_above: tuple[float, ...]


class Shares(Protocol):
    """Shares of samples above levels, however they are kept."""

    @property
    def level_re_rms_db(self) -> Sequence[float]:
        """Levels, rising."""

    @property
    def share_above(self) -> Sequence[float]:
        """Share above each."""


class AmplitudeCount:
    """Counts samples by magnitude, fed block by block."""

    def __init__(self) -> None:
        """Start with nothing counted."""
        self._counts = np.zeros(_KEYS)
        self._waiting: list[NDArray[np.int32]] = []

    def feed(self, samples: NDArray[np.float32]) -> None:
        """Take the next samples, contiguous, of any shape, of magnitude up to 1024."""
        keys = samples.reshape(-1).view(np.int32) & np.int32(0x7FFFFFFF)
        keys >>= np.int32(_SHIFT)
        keys -= np.int32(_LOWEST_KEY)
        np.maximum(keys, 0, out=keys)
        self._waiting.append(keys)
        if sum(waiting.size for waiting in self._waiting) >= _TOGETHER:
            self._count()

    def finish(self) -> FloatArray:
        """Samples in each class of magnitude (classes,)."""
        self._count()
        return self._counts

    def _count(self) -> None:
        if self._waiting:
            self._counts += np.bincount(np.concatenate(self._waiting), minlength=_KEYS)
            self._waiting = []


def distribution_of(counts: FloatArray, rms: float) -> Distribution:
    """Shares above each of LEVELS_RE_RMS_DB from counts by class and the RMS that levels refer to."""
    classes = (np.arange(_KEYS, dtype=np.int64) + _LOWEST_KEY) << _SHIFT
    lower_edges = classes.astype(np.int32).view(np.float32).astype(float)
    above = np.concatenate([np.cumsum(counts[::-1])[::-1], [0.0]])
    # A hair more than the level: a sample that lies at it is not above it, whatever the last digit says.
    threshold = rms * 10.0 ** (LEVELS_RE_RMS_DB / 20.0) * (1.0 + 1e-7)
    share = above[np.searchsorted(lower_edges, threshold, side="right")] / above[0]
    return Distribution(tuple(LEVELS_RE_RMS_DB.tolist()), tuple(share.tolist()))


def clipped_share(distribution: Shares, clip_level_db: ArrayLike) -> FloatArray:
    """Share of the samples that a clip level would cut, between the levels of the table too.

    Parameters
    ----------
    distribution : Shares
        Shares above levels that rise [dimensionless].
    clip_level_db : float or array
        Clip level re the RMS of the recording; below the table it is held at its first level [dB].

    Returns
    -------
    float or array
        Share from 0 to 1, in the shape of `clip_level_db`; 0 beyond the table [dimensionless].

    Raises
    ------
    ValueError
        If a level is no finite number.

    References
    ----------
    Common practice, no published source: the logarithm of the share is straight between two levels.

    Examples
    --------
    By hand: half way between shares of 0.01 and 0.0001 lies 0.001.

    >>> table = Distribution((6.0, 6.5, 7.0), (0.01, 0.0001, 0.0))
    >>> print(f"{clipped_share(table, 6.25):.4f}")
    0.0010
    """
    level = floats("clip_level_db", clip_level_db)
    known_db, share = np.array(distribution.level_re_rms_db), np.array(distribution.share_above)
    some = share > 0.0
    if not some.any():
        return np.zeros_like(level)
    straight = np.exp(np.interp(level, known_db[some], np.log(share[some])))
    last_db = known_db[some][-1]
    # Beyond the last level that is reached there is nothing to take the logarithm of.
    beyond = np.interp(level, known_db, share)
    between: FloatArray = np.where(level <= last_db, straight, np.where(level < known_db[-1], beyond, 0.0))
    return between
