"""From the squares of an impulse response to its decay curve, freed of the noise behind it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.acoustics import FloatArray

__all__ = ["DecayCurve", "decay_curve", "fitted_time"]

_TAIL = 0.1  # of the response, taken for noise at first; nothing that decays later can be told from noise
_ROUNDS = 8
_SLICES_PER_10_DB = 6
_FIRST_SLICE_S, _SHORTEST_S = 0.02, 0.001
_FEWEST_SLICES = 3


@dataclass(frozen=True, slots=True)
class DecayCurve:
    """Level of the energy still to come, from the onset on."""

    level_db: FloatArray
    """Re the energy of the whole response, one value a sample (n,)."""
    range_db: float
    """How far it falls until the sound is as weak as the noise."""
    energy: FloatArray
    """Squares of the samples without the mean of the noise (n,)."""
    late_energy: float
    """What is added for the decay that the noise hides."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A straight decay: level in dB at time 0 and its change in dB a second."""

    start_db: float
    slope_db_per_s: float

    def reaches(self, level_db: float) -> float:
        return (level_db - self.start_db) / self.slope_db_per_s


def decay_curve(energy: FloatArray, sample_rate_hz: float) -> DecayCurve | None:
    """Backward integration of a squared impulse response, with the noise compensated.

    The mean of the noise is taken off, the response is cut where its decay meets the noise, and the energy
    that the straight decay would still have there is added.

    Parameters
    ----------
    energy : array
        Squares of the band-filtered samples from the onset on (n,) [dimensionless].
    sample_rate_hz : float
        Samples a second [Hz].

    Returns
    -------
    DecayCurve or None
        The curve; None where nothing is found that falls [dB].

    References
    ----------
    Schroeder, JASA 37 (1965), 409; ISO 3382-1:2009, 5.3.3; Lundeby, Vigran, Bietz and Vorlaender, Acustica
    81 (1995), 344 (where to cut); Guski and Vorlaender, Acta Acustica 100 (2014), 320 (method E).

    Examples
    --------
    By hand: 60 dB a second is 6 dB after 0.1 s.

    >>> pure = 10.0 ** (-6.0 * np.arange(48000) / 48000.0)
    >>> print(f"{decay_curve(pure, 48000.0).level_db[4800]:.2f} dB")
    -6.00 dB
    """
    knee = _knee(energy, sample_rate_hz)
    if knee is None:
        return None
    end, line, noise = knee
    clean = energy[:end] - noise
    at_end = 10.0 ** ((line.start_db + line.slope_db_per_s * end / sample_rate_hz) / 10.0)
    late = at_end * sample_rate_hz * 10.0 / (np.log(10.0) * -line.slope_db_per_s)
    remaining = np.cumsum(clean[::-1])[::-1] + late
    level_db = 10.0 * np.log10(np.maximum(remaining / remaining[0], 1e-30))
    range_db = float(10.0 * np.log10(remaining[0] / late))
    return DecayCurve(level_db, range_db, clean, float(late))


def fitted_time(curve: DecayCurve, sample_rate_hz: float, upper_db: float, lower_db: float) -> float | None:
    """Time for 60 dB by the straight line that fits a decay curve best between two levels.

    Parameters
    ----------
    curve : DecayCurve
        Levels, 0 at the onset [dB].
    sample_rate_hz : float
        Samples a second [Hz].
    upper_db : float
        Where the fit begins, at most 0 [dB].
    lower_db : float
        Where it ends, below `upper_db` [dB].

    Returns
    -------
    float or None
        Reverberation time; None if the curve does not reach down there or does not fall [s].

    References
    ----------
    ISO 3382-1:2009, 5.3.3 and 6.

    Examples
    --------
    >>> pure = decay_curve(10.0 ** (-6.0 * np.arange(48000) / 48000.0), 48000.0)
    >>> print(f"{fitted_time(pure, 48000.0, -5.0, -25.0):.3f} s")
    1.000 s
    """
    below = curve.level_db <= lower_db
    if not below.any():
        return None
    first, last = int(np.argmax(curve.level_db <= upper_db)), int(np.argmax(below))
    if last - first < 2:
        return None
    line = _fit(np.arange(first, last + 1) / sample_rate_hz, curve.level_db[first : last + 1])
    return -60.0 / line.slope_db_per_s if line.slope_db_per_s < 0.0 else None


def _knee(energy: FloatArray, rate_hz: float) -> tuple[int, _Line, float] | None:
    """Sample at which the decay meets the noise, the straight decay before it, the noise's mean square."""
    latest = int(energy.size * (1.0 - _TAIL))
    if latest < 8:
        return None
    noise, slice_s = float(energy[latest:].mean()), _FIRST_SLICE_S
    line, depth_db = None, 5.0
    for _ in range(_ROUNDS):
        line = _late_line(energy, rate_hz, slice_s, noise, depth_db)
        if line is None:
            return None
        fall_db_per_s = -line.slope_db_per_s
        meets = line.reaches(_db(noise)) if noise > 0.0 else np.inf
        if meets * rate_hz >= latest:
            return latest, line, 0.0  # the decay runs on to the end of the file: no noise is seen
        slice_s = float(np.clip(10.0 / fall_db_per_s / _SLICES_PER_10_DB, 8.0 / rate_hz, 0.2))
        beyond = int((meets + 10.0 / fall_db_per_s) * rate_hz)
        noise = float(energy[min(beyond, latest) :].mean())
    end = int(line.reaches(_db(noise)) * rate_hz) if line is not None and noise > 0.0 else 0
    return (end, line, noise) if line is not None and 8 <= end < latest else None


def _late_line(
    energy: FloatArray, rate_hz: float, slice_s: float, noise: float, margin_db: float
) -> _Line | None:
    """The decay's last 20 dB above the noise and a margin; of less, whatever there is from its top on.

    Slices that are too long to tell a fall are halved.
    """
    count = max(int(slice_s * rate_hz), 1)
    slices = energy[: energy.size - energy.size % count].reshape(-1, count).mean(axis=1)
    level_db = 10.0 * np.log10(np.maximum(slices - noise, 1e-300))
    with_noise_db = 10.0 * np.log10(np.maximum(slices, 1e-300))
    lowest_db = _db(noise) + margin_db if noise > 0.0 else with_noise_db.max() - 60.0
    top = int(np.argmax(with_noise_db))
    under = np.flatnonzero(with_noise_db[top:] < lowest_db)
    stop = top + int(under[0]) if under.size else level_db.size
    if stop - top < _FEWEST_SLICES:
        shorter_s = slice_s / 2.0
        return _late_line(energy, rate_hz, shorter_s, noise, margin_db) if shorter_s > _SHORTEST_S else None
    above = np.flatnonzero(with_noise_db[top:stop] > with_noise_db[stop - 1] + 20.0)
    start = min(top + int(above[-1]) if above.size else top, stop - _FEWEST_SLICES)
    middle_s = (np.arange(start, stop) + 0.5) * count / rate_hz
    line = _fit(middle_s, level_db[start:stop])
    return line if line.slope_db_per_s < 0.0 else None


def _fit(time_s: FloatArray, level_db: FloatArray) -> _Line:
    """Least squares."""
    middle_s, middle_db = time_s.mean(), level_db.mean()
    offset = time_s - middle_s
    slope = float(offset @ (level_db - middle_db) / (offset @ offset))
    return _Line(float(middle_db - slope * middle_s), slope)


def _db(power: float) -> float:
    return float(10.0 * np.log10(power))
