"""How much of a recording an amplifier would clip at a level, and when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from planner.acoustics import floats
from planner.programme.amplitudes import Shares, clipped_share

__all__ = ["Clippable", "Clipping", "Peaks", "clipping"]


class Peaks(Protocol):
    """Largest sample in each window of a recording; None in one that is silent."""

    @property
    def window_s(self) -> float:
        """Length of a window."""

    @property
    def peak_dbfs(self) -> Sequence[float | None]:
        """The peaks in turn."""


class Clippable(Protocol):
    """What must be known of a recording: as it was read, or as a plan keeps it."""

    @property
    def duration_s(self) -> float:
        """Length of all of it."""

    @property
    def rms_dbfs(self) -> float:
        """Its RMS."""

    @property
    def crest_db(self) -> float:
        """Its peak over its RMS."""

    @property
    def distribution(self) -> Shares:
        """Shares of its samples above levels."""

    @property
    def clipped_tenths(self) -> Sequence[int]:
        """Tenths of a second that reach above each of these levels."""

    @property
    def timeline(self) -> Peaks:
        """Its peaks in turn."""


@dataclass(frozen=True, slots=True)
class Clipping:
    """What is cut at one clip level."""

    share: float
    """Of all samples of all channels."""
    moments_per_minute: float
    """Tenths of a second in which something is cut, of 600 in each minute."""
    window_s: float
    """Length of the windows that `starts_s` lists."""
    starts_s: tuple[float, ...]
    """Where each window of the timeline begins in which something is cut."""


def clipping(recording: Clippable, clip_level_db: float) -> Clipping:
    """What of a recording lies above a clip level.

    Parameters
    ----------
    recording : Clippable
        The recording, or a set of them one after another [dimensionless].
    clip_level_db : float
        Largest instantaneous value that passes, re the RMS of the recording: at its crest factor or above
        nothing is cut [dB].

    Returns
    -------
    Clipping
        Share from 0 to 1, moments a minute from 0 to 600, windows [dimensionless].

    Raises
    ------
    ValueError
        If the level is no finite number.

    References
    ----------
    Definition of this program.

    Examples
    --------
    By hand: a sine spends a third of its time above half its peak on either side of zero and so is cut
    for 2/3 of the time, in all of the 600 tenths of a second of a minute.

    >>> from planner.programme.statistics import statistics_of
    >>> from planner.programme.tally import Counter
    >>> counter = Counter(48000, 1)
    >>> counter.feed(np.sin(np.arange(48000) * 0.1, dtype=np.float64).astype(np.float32)[np.newaxis])
    >>> cut = clipping(statistics_of(counter.finish(), "sine.wav", ""), 3.01 - 6.02)
    >>> print(f"{cut.share:.3f}, {cut.moments_per_minute:.0f}, {len(cut.starts_s)} windows")
    0.667, 600, 10 windows
    """
    level_db = float(floats("clip_level_db", clip_level_db))
    timeline = recording.timeline
    if level_db >= recording.crest_db:
        return Clipping(0.0, 0.0, timeline.window_s, ())
    known_db = recording.distribution.level_re_rms_db
    tenths = float(np.interp(level_db, known_db, recording.clipped_tenths))
    peak_dbfs = np.array([-np.inf if peak is None else peak for peak in timeline.peak_dbfs])
    over = np.flatnonzero(peak_dbfs > recording.rms_dbfs + level_db)
    return Clipping(
        share=float(clipped_share(recording.distribution, level_db)),
        moments_per_minute=min(tenths / recording.duration_s * 60.0, 600.0),
        window_s=timeline.window_s,
        starts_s=tuple(np.round(over * timeline.window_s, 1).tolist()),
    )
