"""A plan told from the side of one candidate: where that stands in places of its own, they are the plan's.

The plan says the same as before, only the other way about. So whatever asks where the loudspeakers of a
candidate stand may look at the stands of the plan.
"""

from __future__ import annotations

from planner.plan import Plan, PlanError, cross_checks

__all__ = ["in_its_places", "placed", "put_back"]


def placed(plan: Plan, candidate: int) -> Plan:
    """The plan told from the side of one candidate, whose index stays the same.

    Raises
    ------
    PlanError
        With all findings, if the candidate has places of its own and the plan contradicts itself. Of a
        plan that stays as it is they are for whoever computes it.

    Examples
    --------
    >>> from planner.plan.presets import preset
    >>> plan = preset("living_room").plan()
    >>> placed(plan, 0) is plan
    True
    """
    if plan.candidates[candidate].stands is not None:
        findings = cross_checks(plan)
        if findings:
            raise PlanError(findings)
    return in_its_places(plan, candidate)


def in_its_places(plan: Plan, candidate: int) -> Plan:
    """As :func:`placed`, of a plan with or without findings.

    The candidate's own stands become those of the plan; those of the plan become the own ones of all who
    stood there.
    """
    own = plan.candidates[candidate].stands
    if own is None:
        return plan
    candidates = tuple(
        one.model_copy(update={"stands": None if index == candidate else one.stands or plan.stands})
        for index, one in enumerate(plan.candidates)
    )
    return plan.model_copy(update={"stands": own, "candidates": candidates})


def put_back(after: Plan, plan: Plan, candidate: int) -> Plan:
    """What a plan placed for a candidate has become, told as *plan* was: its stands are that one's own."""
    if plan.candidates[candidate].stands is None:
        return after
    candidates = tuple(
        now.model_copy(update={"stands": after.stands if index == candidate else then.stands})
        for index, (then, now) in enumerate(zip(plan.candidates, after.candidates, strict=True))
    )
    return after.model_copy(update={"stands": plan.stands, "candidates": candidates})
