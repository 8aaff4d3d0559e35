"""A candidate's amplifiers, one for all or one per section, their taps and noise; how its cable is given."""

from __future__ import annotations

from planner.plan.amplifier import Amplifier
from planner.plan.edit import Path, get
from planner.plan.loudspeaker import Impedance
from planner.plan.model import Plan
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.parts import changed, placed, without

__all__ = [
    "add_tap",
    "amplifier_per_section",
    "cable_kind",
    "one_amplifier",
    "remove_tap",
    "residual_stated",
]

TYPICAL_OHM = 8.0
TYPICAL_CABLE: dict[str, dict[str, float]] = {
    "gauge": {"gauge_awg": 14},
    "area": {"area_mm2": 2.5},
    "loop": {"loop_ohm": 0.05},
}
TYPICAL_LENGTH_M = 3.0
TYPICAL_RESIDUAL = {"hum_mv": 1.0, "hiss_mv": 0.2, "weighting": "Z"}
"""Figures to begin from: common practice, no published source."""
MOST_OHM = 1000.0


def one_amplifier(plan: Plan, candidate: int) -> Plan:
    """The plan with the first of a candidate's amplifiers driving the whole loudspeaker."""
    system = plan.candidates[candidate]
    first, loudspeaker = system.amplifiers[0], system.loudspeaker
    if first.drives == "all":
        return plan
    driven = next((one for one in loudspeaker.sections if one.name == first.drives), loudspeaker.sections[0])
    whole = loudspeaker.impedance or Impedance(nominal_ohm=_nominal_ohm(driven.impedance))
    name = first.name.removesuffix(f", {first.drives}")
    after = changed(
        system,
        amplifiers=(changed(first, name=name, drives="all", trim_db=0.0),),
        loudspeaker=changed(loudspeaker, impedance=whole),
    )
    return placed(plan, ("candidates", candidate), after)


def amplifier_per_section(plan: Plan, candidate: int) -> Plan:
    """The plan with a copy of a candidate's amplifier on each section, and an impedance for each to drive."""
    system = plan.candidates[candidate]
    loudspeaker, first = system.loudspeaker, system.amplifiers[0]
    if first.drives != "all":
        return plan
    nominal = Impedance(nominal_ohm=_nominal_ohm(loudspeaker.impedance))
    sections = tuple(
        section if section.impedance else changed(section, impedance=nominal)
        for section in loudspeaker.sections
    )
    amplifiers: list[Amplifier] = []
    for section in sections:
        name = unique_name(f"{first.name}, {section.name}", (one.name for one in amplifiers))
        amplifiers.append(changed(first, name=name, drives=section.name, tap_ohm=None))
    after = changed(system, amplifiers=tuple(amplifiers), loudspeaker=changed(loudspeaker, sections=sections))
    return placed(plan, ("candidates", candidate), after)


def add_tap(plan: Plan, path: Path) -> Plan:
    """The plan with one more rating of the amplifier at *path*: like its last, for twice the load."""
    amplifier = _amplifier(plan, path)
    last = amplifier.taps[-1]
    rating = changed(last, ohm=min(2.0 * last.ohm, MOST_OHM), output_ohm=min(2.0 * last.output_ohm, MOST_OHM))
    return placed(plan, (*path, "taps"), (*amplifier.taps, rating))


def remove_tap(plan: Plan, path: Path, index: int) -> Plan:
    """The plan without one rating of the amplifier at *path*; the tap in use is found anew if it is gone."""
    amplifier = _amplifier(plan, path)
    taps = without(amplifier.taps, index)
    chosen = amplifier.tap_ohm if amplifier.tap_ohm in [tap.ohm for tap in taps] else None
    return placed(plan, path, changed(amplifier, taps=taps, tap_ohm=chosen))


def residual_stated(plan: Plan, path: Path, wanted: bool, mains_hz: float = 50.0) -> Plan:
    """The plan with residual noise to begin from for an amplifier, or without any.

    The path ends in "residual".
    """
    if (get(plan, path) is not None) == wanted:
        return plan
    return placed(plan, path, {**TYPICAL_RESIDUAL, "mains_hz": mains_hz} if wanted else None)


def cable_kind(plan: Plan, candidate: int, kind: str | None) -> Plan:
    """The plan with a candidate's cable given by "gauge", "area" or "loop" resistance, or none for None."""
    path: Path = ("candidates", candidate, "cable")
    if kind is None:
        return placed(plan, path, None)
    known = get(plan, path)
    length_m = known.length_m if known is not None and known.length_m is not None else TYPICAL_LENGTH_M
    way = {} if kind == "loop" else {"length_m": length_m}
    return placed(plan, path, {**TYPICAL_CABLE[kind], **way})


def _nominal_ohm(impedance: Impedance | None) -> float:
    return impedance.nominal_ohm if impedance else TYPICAL_OHM


def _amplifier(plan: Plan, path: Path) -> Amplifier:
    amplifier = get(plan, path)
    assert isinstance(amplifier, Amplifier)
    return amplifier
