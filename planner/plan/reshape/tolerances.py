"""How sure the inputs are: the usual values, or values of one's own for some of them."""

from __future__ import annotations

from planner.plan.model import Plan, Tolerances
from planner.plan.reshape.parts import changed

__all__ = ["own_tolerance", "set_tolerance", "usual_tolerances"]


def own_tolerance(plan: Plan, key: str) -> float | None:
    """The tolerance of one input where it is another than the usual one."""
    value = float(getattr(plan.tolerances or Tolerances(), key))
    return None if value == getattr(Tolerances(), key) else value


def set_tolerance(plan: Plan, key: str, value: float | None) -> Plan:
    """The plan with the tolerance of one input set, or the usual one for None."""
    usual = Tolerances()
    wanted = getattr(usual, key) if value is None else value
    after = changed(plan.tolerances or usual, **{key: wanted})
    return changed(plan, tolerances=None if after == usual else after)


def usual_tolerances(plan: Plan) -> Plan:
    """The plan with the usual tolerances of all inputs."""
    return plan if plan.tolerances is None else changed(plan, tolerances=None)
