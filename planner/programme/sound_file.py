"""Sound files: opened, streamed in blocks, and refused in plain words where they are broken."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.programme.sound_faults import (
    COPY_AGAIN,
    LARGEST_SAMPLE,
    SAVE_AGAIN,
    RecordingError,
    SoundLibraryMissing,
    cut_short,
    no_samples,
    refuse_no_file,
    refuse_no_music,
    unreadable,
)

__all__ = [
    "SUFFIXES",
    "Progress",
    "SoundFormat",
    "blocks",
    "digest_of",
    "sound_format",
]

SUFFIXES = (".wav", ".flac", ".ogg", ".oga", ".mp3", ".aif", ".aiff", ".aifc", ".w64", ".rf64", ".opus")
"""Endings by which sound files are told from the rest of a folder."""

Progress = Callable[[float], bool]
"""Told the fraction that is done; False stops the reading."""


@dataclass(frozen=True, slots=True)
class SoundFormat:
    """What the head of a sound file says: samples a second, channels, samples of each channel."""

    sample_rate_hz: int
    channels: int
    frames: int


def sound_format(path: str | os.PathLike[str]) -> SoundFormat:
    """Sample rate, channels and length of a sound file, by its head.

    Parameters
    ----------
    path : path
        WAV, FLAC, OGG, MP3, AIFF or whatever else libsndfile reads [dimensionless].

    Returns
    -------
    SoundFormat
        Sample rate in Hz, channels, frames [dimensionless].

    Raises
    ------
    RecordingError
        If the file cannot be opened, holds nothing, or is cut short.
    SoundLibraryMissing
        If the library that reads sound files is not installed.

    Examples
    --------
    >>> import pathlib, tempfile, soundfile
    >>> file = pathlib.Path(tempfile.mkdtemp()) / "tone.wav"
    >>> soundfile.write(file, [0.5] * 480, 48000)
    >>> sound_format(file)
    SoundFormat(sample_rate_hz=48000, channels=1, frames=480)
    """
    with _opened(path) as sound:
        return SoundFormat(sound.samplerate, sound.channels, sound.frames)


def blocks(path: str | os.PathLike[str], frames: int) -> Iterator[NDArray[np.float32]]:
    """Give the samples of a sound file block by block; all blocks are full but the last.

    Parameters
    ----------
    path : path
        Any file that :func:`sound_format` accepts [dimensionless].
    frames : int
        Samples of each channel in a block, above 0 [dimensionless].

    Returns
    -------
    iterator of array
        Blocks (channels, frames), contiguous, 1 is full scale [dimensionless].

    Raises
    ------
    RecordingError
        If the file cannot be opened, is damaged or cut short, or holds samples that are no numbers.
    SoundLibraryMissing
        If the library that reads sound files is not installed.

    Examples
    --------
    By hand: five samples in blocks of three are three and two.

    >>> import pathlib, tempfile, soundfile
    >>> file = pathlib.Path(tempfile.mkdtemp()) / "step.wav"
    >>> soundfile.write(file, [0.5, 0.25, 0.0, -0.25, -0.5], 8000)
    >>> [block.shape for block in blocks(file, 3)]
    [(1, 3), (1, 2)]
    """
    with _opened(path) as sound:
        done = 0
        while True:
            block = _next_block(path, sound, frames, done)
            if block.shape[1]:
                yield block
            done += block.shape[1]
            if block.shape[1] < frames:
                break
        # An MP3 that was cut still promises all of its frames; a few are lost in any case.
        if done < sound.frames - 4 * 1152:
            raise cut_short(path, done / sound.samplerate, sound.frames / sound.samplerate)


def digest_of(path: str | os.PathLike[str]) -> str:
    """SHA-256 of a file, by which a plan knows the recording again.

    Parameters
    ----------
    path : path
        Any file [dimensionless].

    Returns
    -------
    str
        64 hexadecimal digits [dimensionless].

    Raises
    ------
    RecordingError
        If the file cannot be read.

    Examples
    --------
    FIPS 180-4's own example: the three letters "abc".

    >>> import pathlib, tempfile
    >>> file = pathlib.Path(tempfile.mkdtemp()) / "abc"
    >>> _ = file.write_bytes(b"abc")
    >>> print(digest_of(file)[:16])
    ba7816bf8f01cfea
    """
    try:
        with open(path, "rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError as error:
        raise unreadable(path, error) from error


@contextmanager
def _opened(path: str | os.PathLike[str]) -> Iterator[Any]:
    """The open sound file, of which something can be expected."""
    soundfile = _library()
    refuse_no_file(path)
    try:
        sound = soundfile.SoundFile(os.fspath(path))
    except (soundfile.SoundFileError, RuntimeError, TypeError) as error:
        raise RecordingError(path, "holds no sound that can be read", SAVE_AGAIN) from error
    with sound:
        refuse_no_music(path, sound)
        yield sound


def _library() -> Any:
    try:
        return import_module("soundfile")
    except (ImportError, OSError) as error:
        words = "Sound files cannot be read here: install the Python package soundfile"
        raise SoundLibraryMissing(f"{words} (python -m pip install soundfile).") from error


def _next_block(path: str | os.PathLike[str], sound: Any, frames: int, done: int) -> NDArray[np.float32]:
    try:
        read = sound.read(frames, dtype="float32", always_2d=True)
    except RuntimeError as error:
        at_s = f"{done / sound.samplerate:.1f} s"
        raise RecordingError(path, f"is damaged or cut short after {at_s}", COPY_AGAIN) from error
    block: NDArray[np.float32] = np.ascontiguousarray(read.T)
    largest = float(np.max(block, initial=0.0)), float(np.min(block, initial=0.0))
    if not (largest[0] <= LARGEST_SAMPLE and largest[1] >= -LARGEST_SAMPLE):
        raise no_samples(path, block, done / sound.samplerate, sound.samplerate)
    return block
