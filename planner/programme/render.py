"""A passage of a recording as an amplifier would pass it, and the same at one loudness without clipping."""

from __future__ import annotations

import os
import tempfile
import wave
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planner.acoustics import FloatArray, floats
from planner.programme.sound_faults import ReadingCancelled, RecordingError
from planner.programme.sound_file import Progress, blocks, sound_format
from planner.programme.true_peak import OVERSAMPLING, interpolator

__all__ = ["KNEE", "Law", "Pair", "clipped_wave", "limited", "passage", "rendered", "write_wave"]

Law = Literal["soft", "hard"]
KNEE = 0.5
"""Share of its limit from which a soft amplifier bends; common practice, no published source."""

LENGTH_S = 30.0
_FADE_S = 0.02
_MOST = 10.0 ** (-1.0 / 20.0)  # the louder of the two peaks ends 1 dB below full scale
_BLOCK = 2**16


@dataclass(frozen=True, slots=True)
class Pair:
    """Two passages (channels, n) of one RMS, their common gain, and how many samples were over the limit."""

    sample_rate_hz: int
    clipped: FloatArray
    clean: FloatArray
    gain_db: float
    share_over: float


def limited(samples: ArrayLike, limit: float, law: Law) -> FloatArray:
    """What a memoryless amplifier makes of a waveform.

    Hard: y = x, held within the limit. Soft: y = x up to half the limit L, above it
    L/2·(1 + tanh(2|x|/L − 1)) with the sign of x, which runs into the limit without ever reaching it: 1.1 dB
    less than was asked at the limit itself.

    Parameters
    ----------
    samples : array
        Waveform, any scale [dimensionless].
    limit : float
        Largest value that passes, above 0, in the same scale [dimensionless].
    law : str
        "soft" or "hard" [dimensionless].

    Returns
    -------
    array
        Waveform within the limit, in the shape of `samples` [dimensionless].

    Raises
    ------
    ValueError
        If the limit is not above 0 or the law unknown.

    References
    ----------
    Hard clipping: definition. The soft law: common practice, no published source.

    Examples
    --------
    By hand: 1/2·(1 + tanh 1) = 0.881, or 1.1 dB below the limit.

    >>> print([round(float(limited(1.0, 1.0, law)), 3) for law in ("hard", "soft")])
    [1.0, 0.881]
    """
    most = float(floats("limit", limit, above=0.0))
    wave_in = np.asarray(samples, dtype=np.float64)
    if law == "hard":
        return np.asarray(np.clip(wave_in, -most, most))
    if law != "soft":
        raise ValueError(f'law must be "soft" or "hard", got {law!r}')
    size, knee = np.abs(wave_in), KNEE * most
    bent = knee + (most - knee) * np.tanh((size - knee) / (most - knee))
    return np.asarray(np.where(size <= knee, wave_in, np.copysign(bent, wave_in)))


def clipped_wave(samples: FloatArray, limit: float, law: Law) -> FloatArray:
    """Clip at four times the sample rate, so that what clipping adds above half of it does not fold back.

    Parameters
    ----------
    samples : array
        Waveform (channels, n) [dimensionless].
    limit : float
        Largest value that passes, above 0 [dimensionless].
    law : str
        "soft" or "hard" [dimensionless].

    Returns
    -------
    array
        Waveform (channels, n), flat within 0.02 dB up to 0.44 of the sample rate [dimensionless].

    References
    ----------
    The interpolating filters of :func:`planner.programme.true_peak.interpolator`.

    Examples
    --------
    What stays far below the limit comes back as it was.

    >>> tone = 0.25 * np.sin(np.arange(2000) * 0.3)[np.newaxis]
    >>> print(bool(np.max(np.abs(clipped_wave(tone, 1.0, "hard") - tone)[:, 100:-100]) < 1e-3))
    True
    """
    return np.stack([_channel(channel, limit, law) for channel in np.asarray(samples, dtype=np.float64)])


def _channel(samples: FloatArray, limit: float, law: Law) -> FloatArray:
    """One channel up, through the amplifier and down again, phase by phase (n,)."""
    taps = interpolator()
    half = taps.shape[1] // 2
    total = limited(samples, limit, law)
    held = np.pad(samples, (half - 1, half))
    for phase in range(OVERSAMPLING - 1):
        between = limited(np.correlate(held, taps[phase], "valid"), limit, law)
        # From a quarter after the sample before, three quarters lead to this one, and so on.
        back = np.pad(between, (half, half - 1))
        total = total + np.correlate(back, taps[OVERSAMPLING - 2 - phase], "valid")
    return np.asarray(total / OVERSAMPLING)


def passage(
    path: str | os.PathLike[str], start_s: float, length_s: float = LENGTH_S, progress: Progress | None = None
) -> tuple[int, FloatArray]:
    """Sample rate and samples (channels, n) of a passage of a sound file; shorter at the end of the file.

    Raises
    ------
    RecordingError
        If the file cannot be read, or ends before the passage begins.
    ReadingCancelled
        If `progress` said False.
    """
    form = sound_format(path)
    first, last = round(start_s * form.sample_rate_hz), round((start_s + length_s) * form.sample_rate_hz)
    kept: list[NDArray[np.float32]] = []
    done = 0
    for block in blocks(path, max(_BLOCK // form.channels, 1024)):
        kept.append(block[:, max(first - done, 0) : max(last - done, 0)])
        done += block.shape[1]
        if progress is not None and not progress(min(done / max(last, 1), 1.0)):
            raise ReadingCancelled(str(path))
        if done >= last:
            break
    found = np.concatenate(kept, axis=1).astype(np.float64) if kept else np.zeros((form.channels, 0))
    if found.shape[1] < 2:
        raise RecordingError(path, f"ends before {start_s:.0f} s", "choose an earlier passage")
    return form.sample_rate_hz, found


def rendered(samples: FloatArray, sample_rate_hz: int, limit: float, law: Law) -> Pair:
    """A passage through the amplifier, and the same at its RMS without clipping.

    Parameters
    ----------
    samples : array
        Waveform (channels, n), not silent [dimensionless].
    sample_rate_hz : int
        Samples a second, above 0 [Hz].
    limit : float
        The amplifier's limit in the scale of the samples, above 0 [dimensionless].
    law : str
        "soft" or "hard" [dimensionless].

    Returns
    -------
    Pair
        Both at one RMS over the whole passage; one gain for both keeps the higher peak 1 dB below full
        scale [dimensionless].

    Raises
    ------
    ValueError
        If the passage is silent.

    Examples
    --------
    >>> tone = np.sin(np.arange(48000) * 0.05)[np.newaxis]
    >>> pair = rendered(tone, 48000, 0.5, "hard")
    >>> print(f"{np.mean(pair.clipped**2) / np.mean(pair.clean**2):.6f}")
    1.000000
    """
    asked = _faded(np.asarray(samples, dtype=np.float64), sample_rate_hz)
    rms = float(np.sqrt(np.mean(asked**2)))
    if rms == 0.0:
        raise ValueError("the passage is silent")
    passed = clipped_wave(asked, limit, law)
    clean = asked * (float(np.sqrt(np.mean(passed**2))) / rms)
    gain = _MOST / max(float(np.abs(passed).max()), float(np.abs(clean).max()))
    over = float(np.mean(np.abs(asked) > limit))
    return Pair(sample_rate_hz, passed * gain, clean * gain, float(20.0 * np.log10(gain)), over)


def _faded(samples: FloatArray, rate_hz: int) -> FloatArray:
    """Begin and end in silence, so that a passage cut out of music does not click."""
    count = min(max(round(_FADE_S * rate_hz), 1), samples.shape[1] // 2)
    rise = np.sin(0.5 * np.pi * (np.arange(count) + 0.5) / count) ** 2
    shape = np.ones(samples.shape[1])
    shape[:count], shape[-count:] = rise, rise[::-1]
    return samples * shape


def write_wave(path: str | os.PathLike[str], samples: FloatArray, sample_rate_hz: int) -> None:
    """Write samples (channels, n) between −1 and 1 as a WAV file of 24 bits, whole or not at all.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    whole = np.round(np.clip(samples.T, -1.0, 1.0) * (2**23 - 1)).astype("<i4")
    three = np.ascontiguousarray(whole).view(np.uint8).reshape(*whole.shape, 4)[..., :3]
    target = Path(path)
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream, wave.open(stream, "wb") as sound:
            sound.setnchannels(whole.shape[1])
            sound.setsampwidth(3)
            sound.setframerate(sample_rate_hz)
            sound.writeframes(three.tobytes())
        os.replace(temporary, target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
