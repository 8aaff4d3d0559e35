"""What a section stands: stated or not, in which box its diaphragm works."""

from __future__ import annotations

from planner.plan.edit import Path, get
from planner.plan.model import Plan
from planner.plan.reshape.parts import changed, placed

__all__ = ["box_kind", "limits_stated"]

FIRST_POWER_W = 50.0
LOWEST_TUNING_HZ, HIGHEST_TUNING_HZ = 20.0, 200.0
"""Between these a box is tuned to begin with: to the low edge of its section (common practice)."""


def limits_stated(plan: Plan, path: Path, wanted: bool) -> Plan:
    """The plan with limits of the section at *path* to begin from, or without any.

    The path ends in "limits".
    """
    if (get(plan, path) is not None) == wanted:
        return plan
    return placed(plan, path, {"long_term_w": FIRST_POWER_W} if wanted else None)


def box_kind(plan: Plan, path: Path, kind: str | None) -> Plan:
    """The plan with the diaphragm of a section in another box; a vented one is tuned, no other is.

    The path ends in "limits", "box".
    """
    limits = get(plan, path[:-1])
    if limits.box == kind:
        return plan
    low_hz = get(plan, path[:-2]).low_hz
    tuning_hz = round(min(max(low_hz, LOWEST_TUNING_HZ), HIGHEST_TUNING_HZ), 1)
    vented = kind == "vented"
    return placed(plan, path[:-1], changed(limits, box=kind, tuning_hz=tuning_hz if vented else None))
