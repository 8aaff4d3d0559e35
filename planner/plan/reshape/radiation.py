"""How sections meet and radiate: shared edges and slopes, radiators of another kind, the baffle."""

from __future__ import annotations

from typing import Any

from planner.plan.edit import Path, get
from planner.plan.model import Plan
from planner.plan.reshape.parts import placed

__all__ = ["baffle_kind", "move_edge", "radiator_kind", "set_slope"]

TYPICAL_BAFFLE_M = 0.5
TYPICAL_RADIATORS: dict[str, dict[str, Any]] = {
    "horn": {"horizontal_deg": 90.0, "vertical_deg": 60.0, "mouth_width_m": 0.5, "mouth_height_m": 0.3},
    "diaphragm": {"diameter_m": 0.2},
    "dipole": {},
    "omni": {},
}


def move_edge(plan: Plan, path: Path, hertz: float) -> Plan:
    """The plan with the edge at *path* moved; a neighbour that shares it follows.

    The path ends in the sections, an index, and "low_hz" or "high_hz".
    """
    *front, index, key = path
    assert isinstance(index, int)
    step, other_key = (-1, "high_hz") if key == "low_hz" else (1, "low_hz")
    neighbour = _neighbour(plan, tuple(front), index + step)
    after = placed(plan, path, hertz)
    if neighbour is None or getattr(neighbour, other_key) != get(plan, path):
        return after
    return placed(after, (*front, index + step, other_key), hertz)


def set_slope(plan: Plan, path: Path, slope_db: float) -> Plan:
    """The plan with the slope at *path* set, on both sides of the edge that it belongs to.

    The path ends in the sections, an index, "slopes_db_per_octave", and 0 or 1.
    """
    *front, index, key, side = path
    assert isinstance(index, int) and isinstance(side, int)
    other = index - 1 if side == 0 else index + 1
    after = placed(plan, path, slope_db)
    if _neighbour(plan, tuple(front), other) is None:
        return after
    return placed(after, (*front, other, key, 1 - side), slope_db)


def radiator_kind(plan: Plan, path: Path, kind: str) -> Plan:
    """The plan with the radiator of the section at *path* of another kind, with typical sizes to begin from.

    The path ends in "radiator". How several drivers are wired goes with them.
    """
    if get(plan, path).kind == kind:
        return plan
    after = placed(plan, path, {"kind": kind, **TYPICAL_RADIATORS[kind]})
    return after if kind == "diaphragm" else placed(after, (*path[:-1], "wiring"), None)


def baffle_kind(plan: Plan, path: Path, in_wall: bool) -> Plan:
    """The plan with the baffle at *path* flush in a wall, or of a width of its own."""
    if (get(plan, path) == "wall") == in_wall:
        return plan
    return placed(plan, path, "wall" if in_wall else TYPICAL_BAFFLE_M)


def _neighbour(plan: Plan, sections: Path, index: int) -> Any:
    listed = get(plan, sections)
    return listed[index] if 0 <= index < len(listed) else None
