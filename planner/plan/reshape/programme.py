"""The target: which of its two levels is held."""

from __future__ import annotations

from planner.plan.edit import rebuilt
from planner.plan.model import Plan

__all__ = ["hold_average", "hold_peak"]


def hold_peak(plan: Plan, level_db: float) -> Plan:
    """The plan with a peak level held; the average follows."""
    return _held(plan, level_db, None)


def hold_average(plan: Plan, level_db: float) -> Plan:
    """The plan with an average level held; the peak follows."""
    return _held(plan, None, level_db)


def _held(plan: Plan, peak_db: float | None, average_db: float | None) -> Plan:
    target = rebuilt(plan.target, {"peak_db": peak_db, "average_db": average_db})
    after = rebuilt(plan, {"target": target})
    assert isinstance(after, Plan)
    return after
