"""Noise at a seat by another road: plain loops over bands, seats, stands, amplifiers and parts.

Geometry, room and loudspeaker are those of ``oracle.py``; what is told again here is noise itself:
its spectrum, its path, and how it adds up.
"""

from __future__ import annotations

import math

from planner.plan import Plan
from tests.headroom import oracle
from tests.headroom.oracle import BANDS

HUM = ((1, 4 / 9), (2, 4 / 9), (3, 1 / 9))


def noise(plan: Plan, seat: int = 0) -> dict[str, object]:
    """Levels by band and A-weighted, at the seat and at 1 m on the axis, first candidate."""
    seat_powers, near_powers, seat_a, near_a = [0.0] * 31, [0.0] * 31, 0.0, 0.0
    for volts, weights, answer in _sources(plan, seat):
        for b in range(31):
            if volts[b] > 0.0:
                seat_power = answer._band(b)[1] * volts[b]
                near_power = sum(answer._pressure(i, b) for i in range(len(answer.sections))) ** 2 * volts[b]
                seat_powers[b] += seat_power
                near_powers[b] += near_power
                seat_a += seat_power * weights[b]
                near_a += near_power * weights[b]
    return {
        "dba": 10 * math.log10(seat_a),
        "dba_1m": 10 * math.log10(near_a),
        "level_db": [10 * math.log10(max(p, 1e-12)) for p in seat_powers],
        "level_1m_db": [10 * math.log10(max(p, 1e-12)) for p in near_powers],
    }


def _sources(plan: Plan, seat: int):
    """Every part as volts² by band, its mean A weight by band, and the road it takes."""
    for index, amplifier in enumerate(plan.candidates[0].amplifiers):
        if amplifier.residual is not None:
            road = _FromTerminals(plan, seat, index)
            yield *_hum(amplifier.residual), road
            yield *_hiss(amplifier.residual), road
    source = plan.candidates[0].source
    if source is not None and source.kind == "phono" and source.phono_noise_uv:
        yield *_phono(plan, seat), _FromEmf(plan, seat)


class _FromEmf(oracle._Answer):
    """The programme's way for 1 V of EMF in a band; stands have nothing in common."""

    def _pressure(self, index: int, b: int) -> float:
        return super()._pressure(index, b) / math.sqrt(self.share[b])

    def _rho(self, f: float) -> float:
        return 0.0


class _FromTerminals(_FromEmf):
    """The way from 1 V at the terminals of one amplifier, through the sections that it drives."""

    def __init__(self, plan: Plan, seat: int, amplifier: int) -> None:
        super().__init__(plan, seat)
        self.amplifier = self.candidate.amplifiers[amplifier]

    def _pressure(self, index: int, b: int) -> float:
        if self._amplifier_for(index) is not self.amplifier:
            return 0.0
        f, section = BANDS[b], self.sections[index]
        tap = self._tap(self.amplifier, self._load(self.amplifier).nominal_ohm)
        ohm = self._ohm(self._load(self.amplifier), f)
        emf = abs((ohm + self._loop() + tap.output_ohm) / ohm) / 10 ** (self.amplifier.trim_db / 20)
        per_volt = super()._pressure(index, b) * emf
        if self.amplifier.drives == "all":
            return per_volt
        per_volt /= self._edges(index, f)[0]
        return per_volt / (1 + (section.low_hz / f) ** 2) if index > 0 else per_volt


def _hum(residual):
    tones = [(n * residual.mains_hz, share) for n, share in HUM]
    square = (residual.hum_mv / 1000) ** 2
    if residual.weighting == "A":
        square /= sum(share * a_weight(f) for f, share in tones)
    volts, weighted = [0.0] * 31, [0.0] * 31
    for f, share in tones:
        for b, middle in enumerate(BANDS):
            if middle * 10**-0.05 <= f < middle * 10**0.05:
                volts[b] += square * share
                weighted[b] += square * share * a_weight(f)
    return volts, [w / v if v else 0.0 for v, w in zip(volts, weighted, strict=True)]


def _hiss(residual):
    shares = _white()
    square = (residual.hiss_mv / 1000) ** 2
    if residual.weighting == "A":
        square /= sum(share * a_weight(f) for share, f in zip(shares, BANDS, strict=True))
    return [square * share for share in shares], [a_weight(f) for f in BANDS]


def _white():
    edges = [(max(20.0, f * 10**-0.05), min(20_000.0, f * 10**0.05)) for f in BANDS]
    return [(high - low) / 19_980 for low, high in edges]


def _phono(plan: Plan, seat: int):
    """At the EMF: the setting that brings a record's 12 dB above 5 cm/s to the target, or fully up."""
    source, answer = plan.candidates[0].source, oracle._Answer(plan, seat)
    crest, target = plan.programme.crest_db, plan.target
    peaks, steady = zip(*[answer._band(b) for b in range(31)], strict=True)
    held = target.peak_db - crest if target.peak_db is not None else target.average_db
    reached = sum(peaks) if target.peak_db is not None else sum(steady)
    peak_emf = 10 ** ((held - 10 * math.log10(reached) + crest) / 20)
    source_peak = math.sqrt(2) * 4 * source.cartridge_mv / 1000 * 10 ** (source.phono_gain_db / 20)
    factor = peak_emf / source_peak
    for amplifier in plan.candidates[0].amplifiers:
        tap = answer._tap(amplifier, answer._load(amplifier).nominal_ohm)
        fully_up = 10 ** ((amplifier.gain_db - amplifier.trim_db) / 20) * (1 + tap.output_ohm / tap.ohm)
        factor = min(factor, fully_up)
    volts = [
        share * (source.phono_noise_uv * 1e-6 * factor) ** 2 * 10 ** (source.phono_gain_db / 10) * _riaa(f)
        for share, f in zip(_white(), BANDS, strict=True)
    ]
    return volts, [a_weight(f) for f in BANDS]


def _riaa(f: float) -> float:
    """Power of IEC 60098's playback curve re 1 kHz, as complex numbers."""

    def gain(hertz: float) -> float:
        s = 2j * math.pi * hertz
        return abs((1 + s * 318e-6) / ((1 + s * 3180e-6) * (1 + s * 75e-6))) ** 2

    return gain(f) / gain(1000.0)


def a_weight(f: float) -> float:
    """Power of the A weighting by IEC 61672-1 annex E, whose gain at 1 kHz is −2.000 dB."""
    gain = 12194.217**2 * f**4 / ((f**2 + 20.598997**2) * (f**2 + 12194.217**2))
    gain /= math.sqrt((f**2 + 107.65265**2) * (f**2 + 737.86223**2))
    return gain**2 * 10**0.2
