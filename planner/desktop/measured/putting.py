"""Measurements put into a plan: each a pure function from one plan to the next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from planner.headroom.room import room_field
from planner.headroom.scene import BAND_HZ, scene_of
from planner.headroom.sources import reference_volts
from planner.measurements.curves import Curve
from planner.measurements.decay import Decay
from planner.measurements.room_noise import RoomNoise as MeasuredNoise
from planner.plan import Plan, get, put
from planner.plan.edit import Path
from planner.plan.fields import Octaves
from planner.plan.loudspeaker import Section
from planner.report.language import tr

__all__ = [
    "LEAST_OVER_NOMINAL",
    "Reference",
    "Use",
    "computed_t60_s",
    "held_words",
    "likely_nominal_ohm",
    "uses_of",
    "with_impedance",
    "with_noise",
    "with_response",
    "with_t60",
]

FloatArray = NDArray[np.float64]
Kind = Literal["response", "impedance", "noise"]
LEAST_OVER_NOMINAL = 0.8
"""The least magnitude is no lower than this share of the nominal impedance (IEC 60268-5)."""
WHOLE_HZ = (20.0, 20_000.0)


@dataclass(frozen=True, slots=True)
class Use:
    """What a table may be taken for: its kind, the words for it, and where in the plan it goes."""

    kind: Kind
    words: str
    path: Path


@dataclass(frozen=True, slots=True)
class Reference:
    """How a response was measured: relative to the stated sensitivity, or as levels under conditions."""

    relative: bool = True
    distance_m: float = 1.0
    volts: float = float(np.sqrt(8.0))


def uses_of(plan: Plan, candidate: int) -> tuple[Use, ...]:
    """Everything in the plan that a table could be, for one candidate."""
    loudspeaker = plan.candidates[candidate].loudspeaker
    base: Path = ("candidates", candidate, "loudspeaker")
    sections = [(one.name, (*base, "sections", index)) for index, one in enumerate(loudspeaker.sections)]
    found = [
        *(Use("response", tr("Response of {name}", name=name), (*at, "response")) for name, at in sections),
        Use("impedance", tr("Impedance of the whole loudspeaker"), (*base, "impedance")),
        *(
            Use("impedance", tr("Impedance of {name}", name=name), (*at, "impedance"))
            for name, at in sections
        ),
    ]
    if plan.room is not None:
        found.append(Use("noise", tr("Noise of the room by octave"), ("room", "noise")))
    return tuple(found)


def with_response(plan: Plan, path: Path, curve: Curve, reference: Reference) -> Plan:
    """The plan with a response of a section; it adds to the stated sensitivity.

    Levels measured at a distance d with U volts become those at 1 m for the stated drive, L + 20 log d −
    20 log(U/U0), less the stated level.
    """
    levels = np.array(curve.values)
    if not reference.relative:
        section: Section = get(plan, path[:-1])
        loudspeaker = get(plan, path[:3])
        driven = section.impedance or loudspeaker.impedance
        one_watt = float(np.sqrt(driven.nominal_ohm)) if driven is not None else float(np.sqrt(8.0))
        drive_db = 20.0 * np.log10(reference.volts / reference_volts(section, one_watt))
        levels = levels + 20.0 * np.log10(reference.distance_m) - drive_db - section.sensitivity.level_db
    rows = tuple(zip(curve.points, levels.tolist(), strict=True))
    return _put(plan, path, rows)


def likely_nominal_ohm(curve: Curve) -> float:
    """The largest usual nominal impedance whose least magnitude the curve keeps; below all, the lowest."""
    usual = (32.0, 16.0, 15.0, 12.0, 8.0, 6.0, 4.0, 2.0, 1.0)
    least = min(curve.values)
    return next((ohm for ohm in usual if least >= LEAST_OVER_NOMINAL * ohm), usual[-1])


def with_impedance(plan: Plan, path: Path, curve: Curve, nominal_ohm: float) -> Plan:
    """The plan with a measured impedance; without phases it is taken for a resistance at each frequency."""
    phases = curve.phase_deg or (0.0,) * len(curve.points)
    wrapped = [(phase + 180.0) % 360.0 - 180.0 for phase in phases]
    rows = tuple(zip(curve.points, curve.values, wrapped, strict=True))
    return _put(plan, path, {"nominal_ohm": nominal_ohm, "table": rows})


def with_noise(plan: Plan, noise: MeasuredNoise, *, as_nc: bool) -> Plan:
    """The plan with the noise of the empty room, as a noise criterion or as an A-weighted level."""
    value = {"nc": round(noise.nc, 1)} if as_nc else {"dba": round(noise.dba, 1)}
    return _put(plan, ("room", "noise"), value)


def with_t60(plan: Plan, decay: Decay) -> Plan:
    """The plan with the reverberation times of a measured decay; they replace any that were given."""
    return _put(plan, ("room", "measured_t60_s"), Octaves(decay.measured_t60_s()))


def computed_t60_s(plan: Plan, centre_hz: FloatArray) -> FloatArray | None:
    """What surfaces and furnishings give at frequencies, whatever was measured; None in open air [s]."""
    if plan.room is None:
        return None
    bare = plan.model_copy(update={"room": plan.room.model_copy(update={"measured_t60_s": None})})
    field = room_field(bare, scene_of(bare))
    assert field is not None
    return np.asarray(np.interp(np.log(centre_hz), np.log(BAND_HZ), field.t60_s))


def held_words(curve: Curve, low_hz: float = WHOLE_HZ[0], high_hz: float = WHOLE_HZ[1]) -> str:
    """Where a curve is held flat because nothing was measured; empty if nowhere."""
    first, last = curve.points[0], curve.points[-1]
    below, above = first > 1.02 * low_hz, last < high_hz / 1.02
    if below and above:
        return tr("Held flat below {low} Hz and above {high} Hz.", low=f"{first:.4g}", high=f"{last:.5g}")
    if below:
        return tr("Held flat below {low} Hz.", low=f"{first:.4g}")
    return tr("Held flat above {high} Hz.", high=f"{last:.5g}") if above else ""


def _put(plan: Plan, path: Path, value: object) -> Plan:
    after = put(plan, path, value)
    assert isinstance(after, Plan)
    return after
