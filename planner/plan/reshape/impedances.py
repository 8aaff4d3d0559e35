"""An impedance of the plan given in another way, beginning from what is known of it."""

from __future__ import annotations

from typing import Any

import numpy as np

from planner.acoustics.bands import third_octaves
from planner.electrics.impedance import driver_impedance
from planner.plan.edit import Path, get
from planner.plan.loudspeaker import Driver, Impedance
from planner.plan.model import Plan
from planner.plan.reshape.parts import placed

__all__ = ["impedance_kind"]

TYPICAL_OHM = 8.0
TYPICAL_DRIVER = {"resonance_hz": 50.0, "mechanical_q": 5.0, "electrical_q": 0.4, "inductance_h": 0.0005}
DC_SHARE = 0.75
"""Resistance of a coil over its nominal impedance: common practice, no published source."""


def impedance_kind(plan: Plan, path: Path, kind: str | None) -> Plan:
    """The plan with the impedance at *path* as "nominal", "table" or "driver", or left out for None.

    A driver's parameters become a table in third octaves; a bare nominal value becomes a flat table, or a
    typical driver of that value.
    """
    known = get(plan, path)
    return placed(plan, path, None if kind is None else _of_kind(known, kind))


def _of_kind(known: Impedance | None, kind: str) -> dict[str, Any]:
    nominal_ohm = known.nominal_ohm if known else TYPICAL_OHM
    if kind == "table":
        return {"nominal_ohm": nominal_ohm, "table": _table(known, nominal_ohm)}
    if kind == "driver":
        typical = {"dc_ohm": round(DC_SHARE * nominal_ohm, 2), **TYPICAL_DRIVER}
        return {"nominal_ohm": nominal_ohm, "driver": (known and known.driver) or typical}
    return {"nominal_ohm": nominal_ohm}


def _table(known: Impedance | None, nominal_ohm: float) -> list[list[float]]:
    if known and known.table:
        return [list(row) for row in known.table]
    if known and known.driver:
        return _sampled(known.driver)
    return [[hertz, nominal_ohm, 0.0] for hertz in (20.0, 1000.0, 20_000.0)]


def _sampled(driver: Driver) -> list[list[float]]:
    hertz = third_octaves()
    ohm = driver_impedance(hertz, **dict(driver))
    rows = np.column_stack([hertz, np.abs(ohm), np.degrees(np.angle(ohm))])
    return [[float(value) for value in row] for row in np.round(rows, 3)]
