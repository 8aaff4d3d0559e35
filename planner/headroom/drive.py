"""What each amplifier delivers into the real load: volts, amps and watts for a programme of 1 V EMF."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.acoustics.bands import interpolate
from planner.electrics.amplifier import clip_amps, clip_volts
from planner.electrics.cable import area_resistance, awg_resistance, loop_resistance
from planner.electrics.impedance import driver_impedance
from planner.headroom.wired import wired_impedance
from planner.plan.amplifier import Amplifier, Cable, Rating
from planner.plan.loudspeaker import Impedance
from planner.plan.model import Candidate

__all__ = [
    "Drive",
    "amplifier_of",
    "cable_ohm",
    "clip_of",
    "counted_ratings",
    "drive_of",
    "impedance_at",
    "load_of",
    "rating_in_use",
]

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]


@dataclass(frozen=True, slots=True, eq=False)
class Drive:
    """One amplifier for a programme whose EMF is 1 V rms over all bands; arrays are (B,).

    ``emf_v`` is what this amplifier sees of it, ``terminal_v``, ``current_a`` and ``watts`` what it
    delivers at its terminals, ``load_ohm`` is the loudspeaker, ``section_gain`` its volts for a
    volt of EMF.
    ``clip_emf_v`` and ``clip_a`` are peaks at which it gives out.
    """

    amplifier: Amplifier
    rating: Rating
    load: Impedance
    load_ohm: ComplexArray
    emf_v: FloatArray
    terminal_v: FloatArray
    current_a: FloatArray
    watts: FloatArray
    section_gain: FloatArray
    clip_emf_v: float
    clip_a: float


def amplifier_of(candidate: Candidate) -> list[int]:
    """Index of the amplifier that drives each section (S)."""
    drives = [amplifier.drives for amplifier in candidate.amplifiers]
    if "all" in drives:
        return [drives.index("all")] * len(candidate.loudspeaker.sections)
    return [drives.index(section.name) for section in candidate.loudspeaker.sections]


def load_of(candidate: Candidate, amplifier: Amplifier) -> Impedance:
    """The impedance that an amplifier drives: the whole loudspeaker or one section."""
    whole = candidate.loudspeaker.impedance
    if amplifier.drives == "all":
        assert whole is not None, "cross-checks refuse a plan without it"
        return whole
    section = next(one for one in candidate.loudspeaker.sections if one.name == amplifier.drives)
    impedance = wired_impedance(section)
    assert impedance is not None, "cross-checks refuse a plan without it"
    return impedance


def drive_of(
    amplifier: Amplifier,
    load: Impedance,
    spectrum_v2: FloatArray,
    band_hz: FloatArray,
    loop_ohm: float,
    at_distortion_pct: float,
) -> Drive:
    """The amplifier with its tap chosen, for a programme spectrum [V²] that it sees, (B,)."""
    rating = rating_in_use(amplifier, load.nominal_ohm, at_distortion_pct)
    loudspeaker_ohm = impedance_at(load, band_hz)
    terminal_ohm = loudspeaker_ohm + loop_ohm
    emf = np.sqrt(spectrum_v2) * 10.0 ** (amplifier.trim_db / 20.0)
    current = emf / np.abs(terminal_ohm + rating.output_ohm)
    clip_v, clip_a = clip_of(amplifier, rating, at_distortion_pct)
    return Drive(
        amplifier=amplifier,
        rating=rating,
        load=load,
        load_ohm=loudspeaker_ohm,
        emf_v=emf,
        terminal_v=current * np.abs(terminal_ohm),
        current_a=current,
        watts=current**2 * terminal_ohm.real,
        section_gain=np.abs(loudspeaker_ohm / (terminal_ohm + rating.output_ohm))
        * 10.0 ** (amplifier.trim_db / 20.0),
        clip_emf_v=clip_v * (1.0 + rating.output_ohm / rating.ohm),
        clip_a=clip_a,
    )


def rating_in_use(amplifier: Amplifier, nominal_ohm: float, at_distortion_pct: float) -> Rating:
    """The highest counted rating of the tap in use.

    The tap is ``tap_ohm``, or the one nearest the nominal impedance on a log scale, the lower if
    two are as near.
    """
    taps = counted_ratings(amplifier, at_distortion_pct)
    if amplifier.tap_ohm is not None:
        chosen = [tap for tap in taps if tap.ohm == amplifier.tap_ohm]
        taps = tuple(chosen or [tap for tap in amplifier.taps if tap.ohm == amplifier.tap_ohm])
    ohm = min((tap.ohm for tap in taps), key=lambda one: (round(abs(np.log(one / nominal_ohm)), 9), one))
    return max((tap for tap in taps if tap.ohm == ohm), key=lambda tap: tap.watts)


def counted_ratings(amplifier: Amplifier, at_distortion_pct: float) -> tuple[Rating, ...]:
    """Ratings not above the distortion; all of them if there are none."""
    counted = tuple(tap for tap in amplifier.taps if tap.distortion_pct <= at_distortion_pct)
    return counted or amplifier.taps


def clip_of(amplifier: Amplifier, rating: Rating, at_distortion_pct: float) -> tuple[float, float]:
    """Peak volts and amps at which the terminals clip with a rating in use."""
    taps = (
        [rating] if amplifier.output == "transformer" else list(counted_ratings(amplifier, at_distortion_pct))
    )
    watts, ohm = np.array([tap.watts for tap in taps]), np.array([tap.ohm for tap in taps])
    return float(np.max(clip_volts(watts, ohm))), float(np.max(clip_amps(watts, ohm)))


def impedance_at(impedance: Impedance, frequency_hz: FloatArray) -> ComplexArray:
    """Impedance at any frequency [ohm]: table, driver's parameters, or the nominal value."""
    if impedance.table is not None:
        hz, ohm, degrees = np.array(impedance.table).T
        magnitude = interpolate(frequency_hz, hz, ohm)
        return np.asarray(magnitude * np.exp(1j * np.radians(interpolate(frequency_hz, hz, degrees))))
    if impedance.driver is not None:
        return np.asarray(driver_impedance(frequency_hz, **dict(impedance.driver)))
    return np.full(frequency_hz.shape, complex(impedance.nominal_ohm))


def cable_ohm(cable: Cable | None) -> float:
    """Resistance of the loop, both conductors [ohm]; copper at 20 °C unless the plan says otherwise."""
    if cable is None:
        return 0.0
    if cable.loop_ohm is not None:
        return cable.loop_ohm
    length = cable.length_m or 0.0
    copper_c = 20.0 if cable.copper_c is None else cable.copper_c
    if cable.gauge_awg is not None:
        return float(loop_resistance(awg_resistance(cable.gauge_awg, copper_c), length))
    return float(loop_resistance(area_resistance(cable.area_mm2 or np.inf, copper_c), length))
