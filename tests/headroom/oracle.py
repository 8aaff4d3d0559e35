"""The same answer by another road: plain loops over bands, seats and stands, from the written physics.

Nothing of the computing layer is used here except the parsed plan; what it shares with the program
is the text of the formulas (each named beside it), not code. One exception: the room's transfer
function itself, which has tests of its own against image sources; how it is used is retold here.
"""

from __future__ import annotations

import cmath
import itertools
import math

from planner.acoustics.modes import transfer
from planner.plan import Plan

BANDS = [10 ** (n / 10) for n in range(13, 44)]
# Table II of IEC 60268-1:1985, 20 Hz to 20 kHz.
IEC_60268_1 = [
    *(-13.5, -10.2, -7.4, -5.2, -3.5, -2.3, -1.4, -0.9, -0.5, -0.2, -0.1, 0, 0, 0, 0, 0, 0, -0.1),
    *(-0.3, -0.6, -1.0, -1.6, -2.5, -3.7, -5.1, -7.0, -9.4, -11.9, -14.8, -18.2, -21.6),
]


def headroom(plan: Plan, seat: int = 0) -> dict[str, float]:
    """Headroom, loudest peak, average and the amplifiers' figures at one seat, first candidate."""
    answer = _Answer(plan, seat)
    return answer.figures()


def attenuation(frequency: float, celsius: float, humidity: float, kilopascal: float) -> float:
    """ISO 9613-1:1993 equations (3) to (6) and annex B [dB/m]."""
    kelvin, relative = celsius + 273.15, kilopascal / 101.325
    saturation = 10 ** (-6.8346 * (273.16 / kelvin) ** 1.261 + 4.6151)
    h = humidity * saturation / relative
    oxygen = relative * (24 + 4.04e4 * h * (0.02 + h) / (0.391 + h))
    ratio = kelvin / 293.15
    nitrogen = relative * ratio**-0.5 * (9 + 280 * h * math.exp(-4.170 * (ratio ** (-1 / 3) - 1)))
    classical = 1.84e-11 / relative * math.sqrt(ratio)
    o2 = 0.01275 * math.exp(-2239.1 / kelvin) / (oxygen + frequency**2 / oxygen)
    n2 = 0.1068 * math.exp(-3352.0 / kelvin) / (nitrogen + frequency**2 / nitrogen)
    return 8.686 * frequency**2 * (classical + ratio**-2.5 * (o2 + n2))


class _Answer:
    def __init__(self, plan: Plan, seat: int) -> None:
        self.plan, self.seat = plan, plan.seats[seat]
        self.candidate = plan.candidates[0]
        self.sections = self.candidate.loudspeaker.sections
        raw = [1.0] * 31 if plan.programme.kind == "pink" else [10 ** (db / 10) for db in IEC_60268_1]
        if plan.programme.recording is not None:
            level = {round(10 * math.log10(hz)): db for hz, db in plan.programme.recording.bands}
            heard = {n: 10 ** (db / 10) for n, db in level.items()}
            raw = [max(heard.get(n, 0.0), 1e-12 * sum(heard.values())) for n in range(13, 44)]
        self.share = [one / sum(raw) for one in raw]
        room = plan.room
        self.air = (room.temperature_c, room.humidity_pct, room.pressure_kpa) if room else (20, 50, 101.325)
        self.c = 343.2 * math.sqrt((self.air[0] + 273.15) / 293.15)

    def figures(self) -> dict[str, float]:
        crest = self.plan.programme.crest_db
        peaks, steady = zip(*[self._band(b) for b in range(31)], strict=True)
        peak_db, average_db = 10 * math.log10(sum(peaks)) + crest, 10 * math.log10(sum(steady))
        target = self.plan.target
        gain = target.peak_db - peak_db if target.peak_db is not None else target.average_db - average_db
        limits = [
            limit - gain for amplifier in self.candidate.amplifiers for limit in self._limits(amplifier)
        ]
        return {
            "headroom_db": min(limits),
            "loudest_peak_db": peak_db + gain + min(limits),
            "average_db": average_db + gain,
            "peak_target_db": peak_db + gain,
        }

    def _edges(self, index: int, f: float) -> tuple[float, float]:
        """Gain of the shared and of the outer edges: 1/(1 + (f/fc)^n)."""
        section, last = self.sections[index], len(self.sections) - 1
        low = 1 / (1 + (section.low_hz / f) ** (section.slopes_db_per_octave[0] / 6))
        high = 1 / (1 + (f / section.high_hz) ** (section.slopes_db_per_octave[1] / 6))
        inner = (low if index > 0 else 1) * (high if index < last else 1)
        return inner, low * high / inner

    def _tap(self, amplifier, nominal):
        taps = [tap for tap in amplifier.taps if tap.distortion_pct <= self.plan.at_distortion_pct]
        taps = taps or list(amplifier.taps)
        ohm = amplifier.tap_ohm or min(
            sorted(tap.ohm for tap in taps), key=lambda one: abs(math.log2(one / nominal))
        )
        return max((tap for tap in taps if tap.ohm == ohm), key=lambda tap: tap.watts)

    def _load(self, amplifier):
        if amplifier.drives == "all":
            return self.candidate.loudspeaker.impedance
        return next(s.impedance for s in self.sections if s.name == amplifier.drives)

    def _amplifier_for(self, index):
        name = self.sections[index].name
        return next(a for a in self.candidate.amplifiers if a.drives in ("all", name))

    @staticmethod
    def _ohm(impedance, f: float) -> complex:
        if impedance.table:
            rows = impedance.table
            ohm, degrees = (_log_interpolated(f, rows, column) for column in (1, 2))
            return cmath.rect(ohm, math.radians(degrees))
        if impedance.driver:
            d = impedance.driver
            q = 1 + 1j * d.mechanical_q * (f / d.resonance_hz - d.resonance_hz / f)
            return (
                d.dc_ohm + d.dc_ohm * d.mechanical_q / d.electrical_q / q + 2j * math.pi * f * d.inductance_h
            )
        return complex(impedance.nominal_ohm)

    def _loop(self) -> float:
        cable = self.candidate.cable
        return cable.loop_ohm if cable else 0.0

    def _limits(self, amplifier) -> tuple[float, float]:
        """How many dB a programme of 1 V may rise until volts, and until amps, run out."""
        load = self._load(amplifier)
        tap = self._tap(amplifier, load.nominal_ohm)
        crest = 10 ** (self.plan.programme.crest_db / 20)
        volts2 = amps2 = 0.0
        for b, f in enumerate(BANDS):
            emf = math.sqrt(self.share[b]) * 10 ** (amplifier.trim_db / 20)
            if amplifier.drives != "all":
                names = [section.name for section in self.sections]
                emf *= self._edges(names.index(amplifier.drives), f)[0]
            volts2 += emf**2
            amps2 += (emf / abs(self._ohm(load, f) + self._loop() + tap.output_ohm)) ** 2
        clip_emf = math.sqrt(2 * tap.watts * tap.ohm) * (1 + tap.output_ohm / tap.ohm)
        clip_amps = math.sqrt(2 * tap.watts / tap.ohm)
        return (
            20 * math.log10(clip_emf / crest / math.sqrt(volts2)),
            20 * math.log10(clip_amps / crest / math.sqrt(amps2)),
        )

    def _pressure(self, index: int, b: int) -> float:
        """On-axis pressure of one section at 1 m, re 20 µPa, for a programme of 1 V."""
        f, section, amplifier = BANDS[b], self.sections[index], self._amplifier_for(index)
        load = self._load(amplifier)
        tap = self._tap(amplifier, load.nominal_ohm)
        ohm = self._ohm(load, f)
        volts = math.sqrt(self.share[b]) * 10 ** (amplifier.trim_db / 20)
        volts *= abs(ohm / (ohm + self._loop() + tap.output_ohm))
        stated = math.sqrt(8) if section.sensitivity.drive == "2.83 V" else math.sqrt(load.nominal_ohm)
        inner, outer = self._edges(index, f)
        level = section.sensitivity.level_db
        if section.response:
            level += _log_interpolated(f, section.response, 1)
        if self.candidate.loudspeaker.radiates_into == "half_space":
            level += self._step(section, f)
        return 10 ** (level / 20) * volts / stated * inner * outer

    def _step(self, section, f: float) -> float:
        """Baffle step re half space [dB]."""
        width, radiator = self.candidate.loudspeaker.baffle_width_m, section.radiator
        if width == "wall" or radiator.kind == "dipole":
            return 0.0
        width = max(width, getattr(radiator, "mouth_width_m", 0), getattr(radiator, "diameter_m", 0))
        x2 = (f / (115 / width)) ** 2 / 2
        return 10 * math.log10((1 + 4 * x2) / (1 + x2) / 4)

    def _planes(self, radiator, f: float) -> tuple[float, float]:
        widened = []
        for angle, mouth in (
            (radiator.horizontal_deg, radiator.mouth_width_m),
            (radiator.vertical_deg, radiator.mouth_height_m),
        ):
            widened.append(angle * max(1.0, 25400 / (mouth * angle) / f))
        return widened[0], widened[1]

    def _q(self, section, f: float) -> float:
        radiator = section.radiator
        if radiator.kind == "horn":
            h, v = (min(180.0, angle) for angle in self._planes(radiator, f))
            q = 180 / math.degrees(math.asin(math.sin(math.radians(h / 2)) * math.sin(math.radians(v / 2))))
        elif radiator.kind == "diaphragm":
            ka = 2 * math.pi * f / self.c * radiator.diameter_m / 2 * math.sqrt(radiator.count)
            q = ka**2 / (1 - _j1(2 * ka) / ka)
        else:
            q = 3.0 if radiator.kind == "dipole" else 2.0
        return q * 10 ** (self._step(section, f) / 20)

    def _loss(self, section, stand, f: float) -> float:
        """Amplitude toward the seat against on axis."""
        radiator = section.radiator
        axis, way = self._axis(stand), self._vector(stand, self.seat)
        if radiator.kind == "horn":
            h, v = self._planes(radiator, f)
            theta = [a - b for a, b in zip(_angles(way), _angles(axis), strict=True)]
            theta[0] = (theta[0] + 180) % 360 - 180
            return 10 ** (max(-20.0, -6.02 * ((2 * theta[0] / h) ** 2 + (2 * theta[1] / v) ** 2)) / 20)
        cosine = sum(a * b for a, b in zip(axis, way, strict=True)) / math.hypot(*axis) / math.hypot(*way)
        angle = math.acos(max(-1.0, min(1.0, cosine)))
        if radiator.kind == "dipole":
            return max(0.1, abs(math.cos(angle)))
        if radiator.kind == "diaphragm":
            ka = 2 * math.pi * f / self.c * radiator.diameter_m / 2 * math.sqrt(radiator.count)
            x = ka * math.sin(min(angle, math.pi / 2))
            return max(1e-3, abs(2 * _j1(x) / x)) if x > 1e-9 else 1.0
        return 1.0

    def _axis(self, stand):
        if stand.aim.seat is not None:
            return self._vector(stand, next(s for s in self.plan.seats if s.name == stand.aim.seat))
        azimuth, elevation = math.radians(stand.aim.azimuth_deg), math.radians(stand.aim.elevation_deg)
        flat = math.cos(elevation)
        return flat * math.cos(azimuth), flat * math.sin(azimuth), math.sin(elevation)

    @staticmethod
    def _vector(stand, seat):
        return tuple(b - a for a, b in zip(stand.position_m, seat.position_m, strict=True))

    def _rho(self, f: float) -> float:
        programme = self.plan.programme
        table = programme.coherence or (programme.recording.coherence if programme.recording else None)
        if table:
            return _log_interpolated(f, table, 1)
        return 1.0 if f < 150 else 0.5

    def _band(self, b: int) -> tuple[float, float]:
        """Mean square pressure at the seat in one band, re (20 µPa)²: peak and steady."""
        peak, steady = self._statistical(b)
        if not self.plan.room:
            return peak, steady
        weight = self._modal_weight(BANDS[b])
        modal = self._modal(b) if weight > 0 else 0.0
        return weight * modal + (1 - weight) * peak, weight * modal + (1 - weight) * steady

    def _t60(self, f: float) -> float:
        v, s, x = self._room(f, attenuation(f, *self.air))
        return 24 * math.log(10) * v / (self.c * s * x)

    def _modal_weight(self, f: float) -> float:
        """1 to 0 as half a cosine over the octave about the Schroeder frequency."""
        v, _, _ = self._room(500, 0.0)
        schroeder = 2000 * math.sqrt(self._t60(BANDS[14]) / v)
        octaves = math.log2(f / schroeder)
        if octaves <= -0.5:
            return 1.0
        return 0.0 if octaves >= 0.5 else 0.5 + 0.5 * math.cos(math.pi * (octaves + 0.5))

    def _modal(self, b: int) -> float:
        """Mean over 24 lines and 7 head points of |p1|² + |p2|² + 2ρ Re p1 p2*."""
        size = self.plan.room.dimensions_m
        lines = [BANDS[b] * 10 ** (0.1 * ((j + 0.5) / 24 - 0.5)) for j in range(24)]
        total, count = 0.0, 0
        for head in self._head(size):
            fields = [self._stand_field(stand, head, b, lines, size) for stand in self.plan.stands]
            for j in range(24):
                p = [field[j] for field in fields]
                square = sum(abs(one) ** 2 for one in p)
                for i, one in enumerate(p):
                    for other in p[i + 1 :]:
                        square += 2 * self._rho(BANDS[b]) * (one * other.conjugate()).real
                total, count = total + square, count + 1
        return total / count

    def _head(self, size):
        for axis, step in [(0, 0.0), *((axis, step) for axis in range(3) for step in (0.1, -0.1))]:
            point = list(self.seat.position_m)
            point[axis] += step
            yield _inside(point, size)

    def _stand_field(self, stand, head, b, lines, size):
        """Complex pressure of one stand at one point on every line, re 20 µPa."""
        mono = over_q = dipole = 0.0
        for index, section in enumerate(self.sections):
            if stand.carries is not None and section.name not in stand.carries:
                continue
            p = self._pressure(index, b)
            if section.radiator.kind == "dipole":
                dipole += p
            else:
                mono += p
                over_q += p / self._q(section, BANDS[b])
        strength = math.sqrt(mono * over_q)
        if self.candidate.loudspeaker.baffle_width_m == "wall":
            strength /= math.sqrt(2)
        t60, leak = self._t60(BANDS[b]), self.plan.room.leak_hz
        place = _inside(stand.position_m, size)

        def green(at):
            return transfer(size, at, head, lines, t60, self.c, leak_hz=leak)

        field = [strength * g for g in green(place)]
        if dipole:
            axis = self._axis(stand)
            unit = [a / math.hypot(*axis) for a in axis]
            ends = [
                _inside([p + s * 0.05 * u for p, u in zip(place, unit, strict=True)], size) for s in (1, -1)
            ]
            pairs = zip(lines, green(ends[0]), green(ends[1]), strict=True)
            for j, (f, ahead, behind) in enumerate(pairs):
                # -j: in phase with a monopole, far away on the axis.
                field[j] += dipole * -1j * (ahead - behind) / (2 * math.pi * f / self.c * 0.1)
        return field

    def _statistical(self, b: int) -> tuple[float, float]:
        """Direct and reverberant sound alone, built-up and steady."""
        f, amplitudes, reverberant = BANDS[b], [], 0.0
        air = attenuation(f, *self.air)
        for stand in self.plan.stands:
            r = math.hypot(*self._vector(stand, self.seat))
            heard = on_axis = over_q = 0.0
            for index, section in enumerate(self.sections):
                if stand.carries is not None and section.name not in stand.carries:
                    continue
                p = self._pressure(index, b)
                on_axis += p
                over_q += p / self._q(section, f)
                heard += p * self._loss(section, stand, f)
            amplitudes.append(heard / r * 10 ** (-air * r / 20))
            if self.plan.room:
                v, s, x = self._room(f, air)
                q = on_axis / over_q
                db = 10 * math.log10(16 * math.pi / (q * s * x)) - 10 / math.log(10) * x * r * s / (4 * v)
                reverberant += on_axis**2 * 10 ** (db / 10)
        direct = sum(p * p for p in amplitudes)
        for i, p in enumerate(amplitudes):
            for q in amplitudes[i + 1 :]:
                direct += 2 * self._rho(f) * p * q
        if not self.plan.room:
            return direct, direct
        v, s, x = self._room(f, air)
        t60 = 24 * math.log(10) * v / (self.c * s * x)
        tau = self.plan.programme.transient_ms / 1000
        return direct + reverberant * (1 - math.exp(-6 * math.log(10) * tau / t60)), direct + reverberant

    def _room(self, f: float, air: float) -> tuple[float, float, float]:
        """Volume, surface and exponent of the decay; uniform absorption or a measured T60 only."""
        room = self.plan.room
        length, width, height = room.dimensions_m
        v, s = length * width * height, 2 * (length * width + length * height + width * height)
        if room.measured_t60_s:
            rows = [
                (1000 * 10 ** (0.3 * round(math.log2(float(k) / 1000))), t)
                for k, t in room.measured_t60_s.items()
            ]
            return v, s, 24 * math.log(10) * v / (self.c * _log_interpolated(f, rows, 1) * s)
        alpha = room.surfaces.floor[0].material.absorption
        return v, s, -math.log(1 - alpha) + 4 * air * math.log(10) / 10 * v / s


def _inside(point, size) -> list[float]:
    """Nothing stands or listens nearer than 1 cm to a wall."""
    return [min(max(p, 0.01), s - 0.01) for p, s in zip(point, size, strict=True)]


def _angles(vector) -> list[float]:
    x, y, z = vector
    return [math.degrees(math.atan2(y, x)), math.degrees(math.atan2(z, math.hypot(x, y)))]


def _log_interpolated(f: float, rows, column: int) -> float:
    """Linear in value over log frequency, flat outside."""
    if f <= rows[0][0]:
        return rows[0][column]
    for low, high in itertools.pairwise(rows):
        if f <= high[0]:
            part = math.log(f / low[0]) / math.log(high[0] / low[0])
            return low[column] + part * (high[column] - low[column])
    return rows[-1][column]


def _j1(x: float) -> float:
    """Bessel's integral, by the midpoint rule, which converges exponentially here."""
    steps = 400
    middles = ((i + 0.5) * math.pi / steps for i in range(steps))
    return sum(math.cos(theta - x * math.sin(theta)) for theta in middles) / steps
