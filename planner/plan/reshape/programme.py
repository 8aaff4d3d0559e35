"""The target: which of its two levels is held."""

from __future__ import annotations

from planner.plan.model import Plan
from planner.plan.reshape.parts import changed

__all__ = ["hold_average", "hold_peak"]


def hold_peak(plan: Plan, level_db: float) -> Plan:
    """The plan with a peak level held; the average follows."""
    return changed(plan, target=changed(plan.target, peak_db=level_db, average_db=None))


def hold_average(plan: Plan, level_db: float) -> Plan:
    """The plan with an average level held; the peak follows."""
    return changed(plan, target=changed(plan.target, peak_db=None, average_db=level_db))
