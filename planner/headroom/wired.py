"""Several drivers as one section: what wiring does to impedance and to pressure for a volt."""

from __future__ import annotations

from planner.plan.loudspeaker import Diaphragm, Impedance, Section

__all__ = ["wired_gain", "wired_impedance"]


def wired_gain(section: Section) -> float:
    """Pressure for a volt at the section's terminals against that of one driver; drivers couple fully.

    In parallel each driver gets the whole volt and the pressures add, so n drivers make n times the
    pressure; in series each gets its share, and their sum is that of one. Without wiring the plan's
    figures are the section's own.
    """
    return float(_count(section)) if section.wiring == "parallel" else 1.0


def wired_impedance(section: Section) -> Impedance | None:
    """Impedance at the section's terminals: n times that of one driver in series, a part in parallel."""
    if section.impedance is None or section.wiring is None:
        return section.impedance
    count = _count(section)
    return _scaled(section.impedance, float(count) if section.wiring == "series" else 1.0 / count)


def _count(section: Section) -> int:
    return section.radiator.count if isinstance(section.radiator, Diaphragm) else 1


def _scaled(impedance: Impedance, factor: float) -> Impedance:
    """The same curve times a factor; its values need not keep to the ranges of a plan file."""
    table, driver = impedance.table, impedance.driver
    if table is not None:
        table = tuple((hertz, ohm * factor, degrees) for hertz, ohm, degrees in table)
    if driver is not None:
        driver = driver.model_copy(
            update={"dc_ohm": driver.dc_ohm * factor, "inductance_h": driver.inductance_h * factor}
        )
    changes = {"nominal_ohm": impedance.nominal_ohm * factor, "table": table, "driver": driver}
    return impedance.model_copy(update=changes)
