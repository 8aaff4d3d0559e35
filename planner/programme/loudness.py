"""Loudness and loudness range, from the K-weighted power in short steps."""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats

__all__ = [
    "STEPS_PER_SECOND",
    "channel_weights",
    "integrated_loudness",
    "loudness_range",
    "momentary_loudness",
    "short_term_loudness",
]

STEPS_PER_SECOND = 50
"""Fine enough for the largest momentary loudness; gating and range need only 10 steps a second."""

_OFFSET_DB = -0.691  # undoes the gain of the K weighting at 997 Hz
_FLOOR_LUFS = -70.0
_MOMENTARY_S, _SHORT_S, _HOPS_PER_SECOND = 0.4, 3.0, 10
_SIDE = 1.41  # 1.5 dB for a loudspeaker beside the listener


def channel_weights(channels: int) -> FloatArray:
    """Weight of each channel's power in the loudness.

    By the number of channels, in the order of WAV files: five are left, right, centre and two at the
    sides; six have the low-frequency channel, which does not count, before those two; eight have two more
    behind. Any other number counts all channels alike.

    Parameters
    ----------
    channels : int
        Number of channels, above 0 [dimensionless].

    Returns
    -------
    array
        Weights (channels,) [dimensionless].

    Raises
    ------
    ValueError
        If there is no channel.

    References
    ----------
    ITU-R BS.1770-5 (2023), annex 1, table 3; annex 3, table 4.

    Examples
    --------
    >>> print(channel_weights(5))
    [1.   1.   1.   1.41 1.41]
    """
    count = int(floats("channels", channels, at_least=1.0))
    known = {
        5: [1.0, 1.0, 1.0, _SIDE, _SIDE],
        6: [1.0, 1.0, 1.0, 0.0, _SIDE, _SIDE],
        8: [1.0, 1.0, 1.0, 0.0, 1.0, 1.0, _SIDE, _SIDE],
    }
    return np.array(known.get(count, [1.0] * count))


def momentary_loudness(step_power: ArrayLike, steps_per_second: int = STEPS_PER_SECOND) -> FloatArray:
    """Loudness of each 400 ms, one value a step.

    Parameters
    ----------
    step_power : array
        K-weighted mean squares (n,), summed over the weighted channels; 1 is that of a full-scale
        square wave [dimensionless].
    steps_per_second : int
        How many values there are for each second, a multiple of 10 [Hz].

    Returns
    -------
    array
        Loudness (n - 19,) of steps 0 to 19, 1 to 20, … at 50 a second; empty below 400 ms; minus
        infinity for silence [dB].

    Raises
    ------
    ValueError
        If a power is negative or no number, or the steps are no multiple of 10 a second.

    References
    ----------
    EBU Tech 3341 v4 (2023), 2.2; ITU-R BS.1770-5 (2023), annex 1.

    Examples
    --------
    By hand: -0.691 + 10 log10(0.01).

    >>> print(momentary_loudness([0.01] * 20))
    [-20.691]
    """
    return _level(_sliding(step_power, _MOMENTARY_S, steps_per_second))


def short_term_loudness(step_power: ArrayLike, steps_per_second: int = STEPS_PER_SECOND) -> FloatArray:
    """Loudness of each 3 s, one value a step.

    Parameters
    ----------
    step_power : array
        K-weighted mean squares (n,), summed over the weighted channels [dimensionless].
    steps_per_second : int
        How many values there are for each second, a multiple of 10 [Hz].

    Returns
    -------
    array
        Loudness (n - 149,) at 50 a second; empty below 3 s; minus infinity for silence [dB].

    Raises
    ------
    ValueError
        If a power is negative or no number, or the steps are no multiple of 10 a second.

    References
    ----------
    EBU Tech 3341 v4 (2023), 2.2; ITU-R BS.1770-5 (2023), annex 1.

    Examples
    --------
    By hand: half of the 3 s at 0.02 and half silent is 0.01 on average.

    >>> print(short_term_loudness([0.02, 0.0] * 75))
    [-20.691]
    """
    return _level(_sliding(step_power, _SHORT_S, steps_per_second))


def integrated_loudness(step_power: ArrayLike, steps_per_second: int = STEPS_PER_SECOND) -> float | None:
    """Loudness of the whole programme: blocks of 400 ms, each 100 ms, gated at -70 LUFS and -10 LU.

    Parameters
    ----------
    step_power : array
        K-weighted mean squares (n,), summed over the weighted channels [dimensionless].
    steps_per_second : int
        How many values there are for each second, a multiple of 10 [Hz].

    Returns
    -------
    float or None
        Loudness; None below 400 ms, or where no block passes -70 LUFS [dB].

    Raises
    ------
    ValueError
        If a power is negative or no number, or the steps are no multiple of 10 a second.

    References
    ----------
    ITU-R BS.1770-5 (2023), annex 1.

    Examples
    --------
    By hand: of 10 s at 0.01 and silence after it, 97 whole blocks pass the gates and three that hold 0.75,
    0.5 and 0.25 of one: 98.5/100 on average, or 0.07 dB below -20.69.

    >>> print(f"{integrated_loudness([0.01] * 500 + [0.0] * 500):.2f} LUFS")
    -20.76 LUFS
    """
    power = _sliding(step_power, _MOMENTARY_S, steps_per_second)
    gated = _gated(power[:: steps_per_second // _HOPS_PER_SECOND], -10.0)
    return float(_level(gated.mean())) if gated.size else None


def loudness_range(step_power: ArrayLike, steps_per_second: int = STEPS_PER_SECOND) -> float | None:
    """Spread of the short-term loudness: 10 to 95 % of what lies above -70 LUFS and -20 LU.

    Parameters
    ----------
    step_power : array
        K-weighted mean squares (n,), summed over the weighted channels [dimensionless].
    steps_per_second : int
        How many values there are for each second, a multiple of 10 [Hz].

    Returns
    -------
    float or None
        Loudness range in LU; None below 3 s, or where nothing passes -70 LUFS [dB].

    Raises
    ------
    ValueError
        If a power is negative or no number, or the steps are no multiple of 10 a second.

    References
    ----------
    EBU Tech 3342 v4 (2023).

    Examples
    --------
    By hand: 20 s at one level and 20 s at a tenth of its power lie 10 dB apart.

    >>> print(f"{loudness_range([0.01] * 1000 + [0.001] * 1000):.1f} LU")
    10.0 LU
    """
    power = _sliding(step_power, _SHORT_S, steps_per_second)
    gated = _gated(power[:: steps_per_second // _HOPS_PER_SECOND], -20.0)
    if not gated.size:
        return None
    low, high = np.percentile(_level(gated), [10.0, 95.0])
    return float(high - low)


def _sliding(step_power: ArrayLike, length_s: float, steps_per_second: int) -> FloatArray:
    """Mean over each stretch of *length_s*, one a step (n - steps + 1,), or none at all."""
    power = floats("step_power", step_power, at_least=0.0).reshape(-1)
    if steps_per_second < 1 or steps_per_second % _HOPS_PER_SECOND:
        raise ValueError(f"steps_per_second must be a multiple of 10, got {steps_per_second}")
    steps = round(length_s * steps_per_second)
    if power.size < steps:
        return np.zeros(0)
    mean: FloatArray = sliding_window_view(power, steps).mean(axis=-1)
    return mean


def _gated(power: FloatArray, relative_db: float) -> FloatArray:
    """What lies above -70 LUFS and then above the mean of that by *relative_db*."""
    loud = power[_level(power) > _FLOOR_LUFS]
    return loud[_level(loud) > _level(loud.mean()) + relative_db] if loud.size else loud


def _level(power: ArrayLike) -> FloatArray:
    with np.errstate(divide="ignore"):
        level: FloatArray = _OFFSET_DB + 10.0 * np.log10(power)
    return level
