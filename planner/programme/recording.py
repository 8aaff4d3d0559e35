"""Recordings read into statistics: one file, or a set of them, with progress and a way to stop."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.programme.playlist import members_of
from planner.programme.sections import SectionBand
from planner.programme.sound_faults import ReadingCancelled, RecordingError
from planner.programme.sound_file import Progress, blocks, digest_of, sound_format
from planner.programme.statistics import RecordingStatistics, statistics_of
from planner.programme.tally import Counter, Tally, joined

__all__ = ["RecordingSet", "read_recording", "read_set"]

_BLOCK_SAMPLES = 2**17
_FEWEST_FRAMES = 2**13
_TOGETHER = 16  # tallies that are held before they become one
_SILENT = 1e-12  # mean square, -120 dBFS

Location = str | os.PathLike[str]


@dataclass(frozen=True, slots=True)
class RecordingSet:
    """The recordings of a folder or playlist, all of them as one, and those that could not be read."""

    paths: tuple[str, ...]
    """Where each of the members lies."""
    members: tuple[RecordingStatistics, ...]
    whole: RecordingStatistics
    faults: tuple[RecordingError, ...]


def read_recording(
    path: Location, *, sections: Sequence[SectionBand] = (), progress: Progress | None = None
) -> RecordingStatistics:
    """Read a sound file from end to end into its statistics.

    The file streams through in blocks: memory does not grow with its length, but for 10 values a second.

    Parameters
    ----------
    path : path
        WAV, FLAC, OGG, MP3 or AIFF, of any sample rate from 4 kHz and any number of channels [dimensionless].
    sections : sequence of SectionBand
        Bands whose level and crest factor are wanted beside the one-third octaves [dimensionless].
    progress : callable or None
        Told the fraction that is done, from 0 to 1; False stops the reading [dimensionless].

    Returns
    -------
    RecordingStatistics
        Levels and shares [dB].

    Raises
    ------
    RecordingError
        If the file cannot be read, is damaged, cut short, silent, or holds nothing but an offset (DC).
    ReadingCancelled
        If `progress` said False.
    SoundLibraryMissing
        If the library that reads sound files is not installed.

    References
    ----------
    ITU-R BS.1770-5 (2023); EBU Tech 3342 v4 (2023); IEC 61260-1:2014 for the bands.

    Examples
    --------
    By hand: a square wave has a crest factor of 0 dB.

    >>> import tempfile, soundfile
    >>> file = Path(tempfile.mkdtemp()) / "square.wav"
    >>> soundfile.write(file, [0.5, 0.5, -0.5, -0.5] * 4000, 8000)
    >>> square = read_recording(file)
    >>> print(f"{square.duration_s:.1f} s, {square.rms_dbfs:.2f} dBFS, crest {abs(square.crest_db):.2f} dB")
    2.0 s, -6.02 dBFS, crest 0.00 dB
    """
    bands = tuple(sections)
    return statistics_of(_counted(path, bands, progress), Path(path).name, digest_of(path), bands)


def read_set(
    path: Location, *, sections: Sequence[SectionBand] = (), progress: Progress | None = None
) -> RecordingSet:
    """Read all recordings of a folder or playlist, and take them together as if played one after another.

    So each counts by its energy: a quiet record adds little to the level of the bands, the peak is that of
    the loudest moment of all, and the loudness is gated over the whole.

    Parameters
    ----------
    path : path
        Folder or playlist (.m3u, .m3u8) [dimensionless].
    sections : sequence of SectionBand
        Bands whose level and crest factor are wanted beside the one-third octaves [dimensionless].
    progress : callable or None
        Told the fraction that is done, from 0 to 1; False stops the reading [dimensionless].

    Returns
    -------
    RecordingSet
        Each recording, the whole, and the faults of files that could not be used [dB].

    Raises
    ------
    RecordingError
        If the set is empty or none of its files could be used.
    ReadingCancelled
        If `progress` said False.
    SoundLibraryMissing
        If the library that reads sound files is not installed.

    Examples
    --------
    By hand: of two files of one length, one 6.02 dB down, the mean square is (1 + 1/4)/2, or -2.04 dB.

    >>> import tempfile, soundfile
    >>> folder = Path(tempfile.mkdtemp())
    >>> soundfile.write(folder / "loud.wav", [0.5, 0.5, -0.5, -0.5] * 4000, 8000)
    >>> soundfile.write(folder / "soft.wav", [0.25, 0.25, -0.25, -0.25] * 4000, 8000)
    >>> evening = read_set(folder)
    >>> print(f"{len(evening.members)} files, {evening.whole.rms_dbfs + 6.02:.2f} dB")
    2 files, -2.04 dB
    """
    files, bands = members_of(path), tuple(sections)
    paths: list[str] = []
    members: list[RecordingStatistics] = []
    faults: list[RecordingError] = []
    tallies: list[Tally] = []
    for index, file in enumerate(files):
        try:
            tally = _counted(file, bands, _part_of(progress, index, len(files)))
            members.append(statistics_of(tally, file.name, digest_of(file), bands))
        except RecordingError as error:
            faults.append(error)
            continue
        paths.append(str(file))
        tallies.append(tally)
        if len(tallies) == _TOGETHER:
            tallies = [joined(tallies)]
    if not members:
        fault = f"holds {len(files)} files, none of which can be used ({faults[0]})"
        raise RecordingError(path, fault, "check these files")
    digest = hashlib.sha256("".join(member.digest for member in members).encode()).hexdigest()
    whole = statistics_of(joined(tallies), Path(path).resolve().name, digest, bands)
    return RecordingSet(tuple(paths), tuple(members), whole, tuple(faults))


def _counted(path: Location, sections: tuple[SectionBand, ...], progress: Progress | None) -> Tally:
    """The tally of one file; refuses what holds no sound."""
    form = sound_format(path)
    counter = Counter(form.sample_rate_hz, form.channels, sections)
    lowest, highest = float("inf"), float("-inf")
    done = 0
    for block in blocks(path, max(_FEWEST_FRAMES, _BLOCK_SAMPLES // form.channels)):
        lowest, highest = min(lowest, float(block.min())), max(highest, float(block.max()))
        counter.feed(block)
        done += block.shape[1]
        if progress is not None and not progress(min(done / form.frames, 1.0)):
            raise ReadingCancelled(str(path))
    if done < 2:
        fault = f"holds {done} sample" if done else "holds no sound"
        raise RecordingError(path, f"{fault}, which is no music", "give a longer recording")
    if highest == lowest and highest != 0.0:
        raise RecordingError(path, "holds nothing but a constant offset (DC)", "check how it was recorded")
    tally = counter.finish()
    if tally.power < _SILENT:
        raise RecordingError(path, "is silent", "check how it was recorded")
    return tally


def _part_of(progress: Progress | None, index: int, count: int) -> Progress | None:
    """Progress within one of several files, told as progress of all."""
    if progress is None:
        return None
    return lambda fraction: progress((index + fraction) / count)
