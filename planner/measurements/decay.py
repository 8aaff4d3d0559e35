"""Decays: from a measured impulse response to reverberation times and clarity by octave."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from planner.acoustics import FloatArray, floats
from planner.acoustics.bands import OCTAVE_KEYS
from planner.measurements.errors import MeasurementError
from planner.measurements.octave_filter import filtered
from planner.measurements.schroeder import DecayCurve, decay_curve, fitted_time

__all__ = ["OCTAVES", "Decay", "DecayBand", "decay_of"]

OCTAVES = ("125", "250", "500", "1000", "2000", "4000", "8000")
"""Octaves that are evaluated, as far as the sample rate reaches."""

_ONSET = 0.1  # of the largest sample: 20 dB below it
_EDGE = 10.0**0.15
_PRE_RING_PERIODS = 2.0
# The noise must lie 10 dB below the lower end of what is fitted (ISO 3382-1, 5.3.3).
_NEEDED_DB = {"edt_s": 20.0, "t20_s": 35.0, "t30_s": 45.0}
_FITTED_DB = {"edt_s": (0.0, -10.0), "t20_s": (-5.0, -25.0), "t30_s": (-5.0, -35.0)}


@dataclass(frozen=True, slots=True)
class DecayBand:
    """One octave; None where the range is too small, and `refusal` then says so."""

    centre_hz: float
    """Exact mid frequency."""
    edt_s: float | None
    t20_s: float | None
    t30_s: float | None
    c80_db: float | None
    d50: float | None
    range_db: float | None
    """How far the decay falls until it meets the noise."""
    refusal: str

    @property
    def t60_s(self) -> float | None:
        """The best of the times, T30 or else T20; EDT is none that a room is planned with."""
        return self.t20_s if self.t30_s is None else self.t30_s


@dataclass(frozen=True, slots=True)
class Decay:
    """An impulse response by octave."""

    sample_rate_hz: float
    bands: tuple[DecayBand, ...]

    def measured_t60_s(self) -> dict[str, float]:
        """Reverberation times as a plan keeps them: nominal octave label to seconds."""
        labels = {hertz: label for label, hertz in OCTAVE_KEYS.items()}
        return {labels[band.centre_hz]: band.t60_s for band in self.bands if band.t60_s is not None}


def decay_of(samples: ArrayLike, sample_rate_hz: float) -> Decay:
    """Reverberation times, clarity and definition of an impulse response.

    Zero-phase octave filters, backward integration with the noise compensated. EDT is fitted from 0 to
    -10 dB, T20 from -5 to -25, T30 from -5 to -35; each is refused where the noise lies less than 10 dB
    below that.

    Parameters
    ----------
    samples : array
        The impulse response (n,), at any scale [dimensionless].
    sample_rate_hz : float
        Samples a second, at least 1000 [Hz].

    Returns
    -------
    Decay
        Octaves from 125 Hz to 8 kHz, as far as the sample rate holds them whole [s].

    Raises
    ------
    MeasurementError
        If the response is empty, silent, an offset, too short, or holds samples that are no numbers.

    References
    ----------
    ISO 3382-1:2009; see :func:`planner.measurements.schroeder.decay_curve` for the compensation.

    Examples
    --------
    By hand: a tone that falls by 60 dB in half a second.

    >>> time_s = np.arange(48000) / 48000.0
    >>> tone = 10.0 ** (-6.0 * time_s) * np.sin(2 * np.pi * 1000.0 * time_s)
    >>> print(f"{decay_of(tone, 48000.0).bands[3].t30_s:.3f} s")
    0.500 s
    """
    rate = float(floats("sample_rate_hz", sample_rate_hz, at_least=1000.0))
    response = _checked(samples, rate)
    onset = int(np.argmax(np.abs(response) >= _ONSET * np.abs(response).max()))
    centres = [OCTAVE_KEYS[label] for label in OCTAVES if OCTAVE_KEYS[label] * _EDGE <= rate / 2.0]
    return Decay(rate, tuple(_band(response, rate, onset, centre) for centre in centres))


def _checked(samples: ArrayLike, rate_hz: float) -> FloatArray:
    response = np.asarray(samples, dtype=float).reshape(-1)
    if not np.all(np.isfinite(response)):
        raise MeasurementError("holds samples that are no numbers; save it again from the measuring program")
    if response.size < 0.05 * rate_hz:
        words = f"is {response.size / rate_hz * 1000.0:.1f} ms long, too short for a decay"
        raise MeasurementError(f"{words}; give the whole impulse response")
    if np.ptp(response) == 0.0:
        raise MeasurementError("is silent or a constant offset; give an impulse response")
    return response


def _band(response: FloatArray, rate_hz: float, onset: int, centre_hz: float) -> DecayBand:
    """One octave of a response that begins at *onset*."""
    energy = filtered(response, rate_hz, centre_hz) ** 2
    before = max(onset - int(_PRE_RING_PERIODS * rate_hz / centre_hz), 0)
    # A filter without delay rings before the onset too: that energy belongs to the first moment.
    from_onset = energy[onset:].copy()
    from_onset[0] += energy[before:onset].sum()
    curve = decay_curve(from_onset, rate_hz)
    if curve is None:
        return DecayBand(centre_hz, None, None, None, None, None, None, "no decay is found above the noise")
    times = {
        name: fitted_time(curve, rate_hz, *_FITTED_DB[name]) if curve.range_db >= needed else None
        for name, needed in _NEEDED_DB.items()
    }
    clear = curve.range_db >= _NEEDED_DB["edt_s"]
    return DecayBand(
        centre_hz,
        times["edt_s"],
        times["t20_s"],
        times["t30_s"],
        _clarity(curve, rate_hz, 0.08) if clear else None,
        _definition(curve, rate_hz, 0.05) if clear else None,
        curve.range_db,
        _refusal(curve.range_db),
    )


def _refusal(range_db: float) -> str:
    """What a decay of this range does not give, in words; empty if it gives all."""
    names = {"edt_s": "EDT, C80 and D50", "t20_s": "T20", "t30_s": "T30"}
    lacking = [names[name] for name, needed in _NEEDED_DB.items() if range_db < needed]
    if not lacking:
        return ""
    needed = max(_NEEDED_DB[name] for name in _NEEDED_DB if range_db < _NEEDED_DB[name])
    words = f"the decay falls only {range_db:.0f} dB to the noise, {needed:.0f} dB are needed"
    return f"{words}: no {', '.join(lacking)}"


def _early(curve: DecayCurve, rate_hz: float, early_s: float) -> tuple[float, float]:
    """Energy before and after a moment."""
    split = round(early_s * rate_hz)
    return float(curve.energy[:split].sum()), float(curve.energy[split:].sum() + curve.late_energy)


def _clarity(curve: DecayCurve, rate_hz: float, early_s: float) -> float | None:
    early, late = _early(curve, rate_hz, early_s)
    return float(10.0 * np.log10(early / late)) if early > 0.0 < late else None


def _definition(curve: DecayCurve, rate_hz: float, early_s: float) -> float | None:
    early, late = _early(curve, rate_hz, early_s)
    return early / (early + late) if early + late > 0.0 else None
