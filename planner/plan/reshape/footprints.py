"""The footprint of a loudspeaker or amplifier: both sides of it are known, or neither is."""

from __future__ import annotations

from planner.plan.edit import Path, get
from planner.plan.model import Plan
from planner.plan.reshape.parts import placed, swapped

__all__ = ["set_side", "side_of"]


def side_of(plan: Plan, path: Path) -> float | None:
    """The side at *path*, which ends in "footprint_m" and 0 for the width or 1 for the depth [m]."""
    *front, side = path
    sides = get(plan, tuple(front))
    return None if sides is None else float(sides[int(side)])


def set_side(plan: Plan, path: Path, length_m: float | None) -> Plan:
    """The plan with one side set; the first that is given makes a square, none takes the footprint away."""
    *front, side = path
    sides = get(plan, tuple(front))
    if length_m is None or sides is None:
        return placed(plan, tuple(front), None if length_m is None else (length_m, length_m))
    return placed(plan, tuple(front), swapped(sides, int(side), length_m))
