"""How seats and stands are moved about: in which steps, and never out of the room."""

from __future__ import annotations

from planner.plan import Plan, get, put
from planner.plan.edit import Path, rebuilt, spec_at
from planner.plan.units import Preference
from planner.report.drawing.places import Place, Position

__all__ = ["FINE", "LONG", "STEP", "moved", "snapped", "steps_m"]

KEYS = ("x_m", "y_m", "z_m")
STEP, LONG, FINE = range(3)
_STEPS_M = {Preference.METRIC: (0.05, 0.5, 0.01), Preference.US: (2 * 0.0254, 24 * 0.0254, 0.5 * 0.0254)}
_FINEST_M = 0.001


def steps_m(preference: Preference) -> tuple[float, float, float]:
    """How far a press of a key moves a thing [m]: usual, long and fine; round numbers in the units in use."""
    return _STEPS_M[preference]


def snapped(value_m: float, step_m: float = 0.0) -> float:
    """The nearest multiple of a step, without the last digits of binary fractions; without a step, of 1 mm.

    Examples
    --------
    >>> snapped(3.5721, 0.05), snapped(3.5721)
    (3.55, 3.572)
    """
    step = step_m or _FINEST_M
    return round(round(value_m / step) * step, 6)


def moved(plan: Plan, place: Place, position_m: Position, whose: int | None = None) -> Plan:
    """The plan with one thing moved, held within the room (in open air within what a plan may say).

    Stands are those of the plan, or the own ones of a candidate (*whose*).
    """
    path: Path = (place.kind, place.index)
    if place.kind == "stands" and whose is not None:
        path = ("candidates", whose, *path)
    inside = _held(plan, path, position_m)
    return put(plan, path, rebuilt(get(plan, path), dict(zip(KEYS, inside, strict=True))))


def _held(plan: Plan, path: Path, position_m: Position) -> list[float]:
    if plan.room is not None:
        ends = [(0.0, length) for length in plan.room.dimensions_m]
    else:
        specs = [spec_at(plan, (*path, key)) for key in KEYS]
        ends = [(spec.low, spec.high) for spec in specs]
    return [min(max(value, low), high) for value, (low, high) in zip(position_m, ends, strict=True)]
