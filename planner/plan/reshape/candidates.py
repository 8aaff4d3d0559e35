"""Candidates of a plan: doubled, moved, taken away, and given a price."""

from __future__ import annotations

from planner.plan.model import Plan
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.parts import changed, inserted, moved, placed, without

__all__ = ["duplicate_candidate", "move_candidate", "remove_candidate", "set_price"]


def duplicate_candidate(plan: Plan, index: int) -> Plan:
    """A full copy of a candidate right after it, under a name of its own."""
    name = unique_name(plan.candidates[index].name, (one.name for one in plan.candidates))
    twin = changed(plan.candidates[index], name=name)
    return changed(plan, candidates=inserted(plan.candidates, index + 1, twin))


def move_candidate(plan: Plan, index: int, to: int) -> Plan:
    """The plan with a candidate at another place of the list."""
    return changed(plan, candidates=moved(plan.candidates, index, to))


def remove_candidate(plan: Plan, index: int) -> Plan:
    """The plan without a candidate."""
    return changed(plan, candidates=without(plan.candidates, index))


def set_price(plan: Plan, candidate: int, amount: float | None, currency: str = "EUR") -> Plan:
    """The plan with a candidate at a price, or at none for None.

    It goes on in the currency that it had, else in that of another candidate; *currency* is only for the
    first price of all.
    """
    if amount is None:
        return placed(plan, ("candidates", candidate, "price"), None)
    first = plan.candidates[candidate], *plan.candidates
    known = next((one.price.currency for one in first if one.price is not None), currency)
    return placed(plan, ("candidates", candidate, "price"), {"amount": amount, "currency": known})
