"""Places of its own for a candidate, where it does not stand as the others do."""

from __future__ import annotations

from planner.plan.model import Plan, Stand
from planner.plan.reshape.parts import changed, placed

__all__ = ["own_stands", "stands_at", "whose_stands", "with_stands"]


def own_stands(plan: Plan, candidate: int, wanted: bool) -> Plan:
    """The plan with places of its own for a candidate, at first those of the plan, or without them."""
    if (plan.candidates[candidate].stands is not None) == wanted:
        return plan
    return placed(plan, ("candidates", candidate, "stands"), plan.stands if wanted else None)


def whose_stands(plan: Plan, candidate: int) -> int | None:
    """The candidate itself, if it stands in places of its own; None, if on the stands of the plan."""
    return None if plan.candidates[candidate].stands is None else candidate


def stands_at(plan: Plan, candidate: int | None) -> tuple[Stand, ...]:
    """The stands of the plan for None, else the own ones of a candidate."""
    return plan.stands if candidate is None else plan.candidates[candidate].stands or ()


def with_stands(plan: Plan, candidate: int | None, stands: tuple[Stand, ...]) -> Plan:
    """The plan with other stands for None, else with other own ones of a candidate."""
    if candidate is None:
        return changed(plan, stands=stands)
    return placed(plan, ("candidates", candidate, "stands"), stands)
