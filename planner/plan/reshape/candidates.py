"""Candidates of a plan: doubled and taken away."""

from __future__ import annotations

from planner.plan.model import Plan
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.parts import changed, inserted, without

__all__ = ["duplicate_candidate", "remove_candidate"]


def duplicate_candidate(plan: Plan, index: int) -> Plan:
    """A full copy of a candidate right after it, under a name of its own."""
    name = unique_name(plan.candidates[index].name, (one.name for one in plan.candidates))
    twin = changed(plan.candidates[index], name=name)
    return changed(plan, candidates=inserted(plan.candidates, index + 1, twin))


def remove_candidate(plan: Plan, index: int) -> Plan:
    """The plan without a candidate."""
    return changed(plan, candidates=without(plan.candidates, index))
