"""What may be wrong with a sound file, in plain words: the fault, and what to do about it."""

from __future__ import annotations

import os
import re
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "COPY_AGAIN",
    "LARGEST_SAMPLE",
    "SAVE_AGAIN",
    "ReadingCancelled",
    "RecordingError",
    "SoundLibraryMissing",
]

SAVE_AGAIN = "save it again as WAV or FLAC with the program it came from"
COPY_AGAIN = "copy or download it again"
LARGEST_SAMPLE = 1024.0
"""60 dB above full scale: beyond lie whole numbers that were never scaled, and no music."""

LOWEST_RATE_HZ = 4000
# What the head promises and what the file holds, from the log of the library.
_PROMISED = re.compile(r"^\s*(?:data|SSND|riff)\s*: (\d+) \(should be (\d+)\)", re.MULTILINE)
_OPEN_END = 0x7FFF0000  # sizes from here on are written by programs that stream and do not know the length
_NO_LENGTH = 2**50  # of samples: what the library says where a stream was never closed
_TORN_PAGE = ("lacks an end-of-stream bit", "Junk after the last page")


class RecordingError(ValueError):
    """A sound file that cannot be used; the message names the file, the fault and what to do."""

    def __init__(self, file: str | os.PathLike[str], fault: str, remedy: str) -> None:
        self.file, self.fault, self.remedy = os.fspath(file), fault, remedy
        super().__init__(f"{self.file}: {fault}; {remedy}")


class SoundLibraryMissing(RuntimeError):
    """This machine cannot read sound files; the message says what to install."""


class ReadingCancelled(Exception):
    """The reading was stopped by whoever was told of its progress."""


def refuse_no_file(path: str | os.PathLike[str]) -> None:
    """Raise for a folder, an empty file, or one that may not be read."""
    try:
        if os.path.isdir(path):
            raise RecordingError(path, "is a folder", "name the sound files in it")
        with open(path, "rb") as stream:
            if not stream.read(1):
                raise RecordingError(path, "is empty", COPY_AGAIN)
    except OSError as error:
        raise unreadable(path, error) from error


def refuse_no_music(path: str | os.PathLike[str], sound: Any) -> None:
    """Raise for an open sound file that is cut short, empty, or of too low a rate."""
    held_s = sound.frames / sound.samplerate
    promise = _PROMISED.search(sound.extra_info)
    if promise is not None:
        promised, held = (int(size) for size in promise.groups())
        if held < promised < _OPEN_END and promised - held > sound.channels * 8:
            raise cut_short(path, held_s, held_s * promised / max(held, 1))
    if all(words in sound.extra_info for words in _TORN_PAGE):
        raise cut_short(path, held_s)
    if sound.frames > _NO_LENGTH:
        raise RecordingError(path, "does not say how long it is", SAVE_AGAIN)
    if sound.frames < 1:
        raise RecordingError(path, "holds no sound (its length is 0)", COPY_AGAIN)
    if sound.samplerate < LOWEST_RATE_HZ:
        fault = f"has a sample rate of {sound.samplerate} Hz, too low for music"
        raise RecordingError(path, fault, f"give a recording of {LOWEST_RATE_HZ} Hz or more")


def unreadable(path: str | os.PathLike[str], error: OSError) -> RecordingError:
    """The fault of a file that the system does not open."""
    if isinstance(error, FileNotFoundError):
        return RecordingError(path, "does not exist", "check the name and the folder")
    return RecordingError(path, f"cannot be read ({error.strerror})", "check that you may open it")


def no_samples(
    path: str | os.PathLike[str], block: NDArray[np.float32], at_s: float, rate_hz: int
) -> RecordingError:
    """The fault of samples that are no numbers, or far above full scale, in a block that begins at *at_s*."""
    wrong = ~(np.abs(block) <= LARGEST_SAMPLE)
    where = f"at {at_s + int(np.argmax(wrong.any(axis=0))) / rate_hz:.3f} s"
    if np.all(np.isfinite(block[wrong])):
        fault = f"holds samples of {np.abs(block).max():.0f} times full scale {where}"
        return RecordingError(path, fault, "save it again with samples from -1 to 1")
    return RecordingError(path, f"holds samples that are no numbers {where}", SAVE_AGAIN)


def cut_short(path: str | os.PathLike[str], held_s: float, promised_s: float | None = None) -> RecordingError:
    """The fault of a file that ends before its end."""
    promised = "" if promised_s is None else f" of {promised_s:.1f} s"
    fault = f"is cut short: {held_s:.1f} s{promised} are there"
    return RecordingError(path, fault, f"{COPY_AGAIN}, or save what is there under a new name")
