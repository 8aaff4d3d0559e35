"""What the drawing shows at one moment: the plan, who looks at what, and what is at fault."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from planner.headroom.placed import in_its_places
from planner.plan import Finding, Plan
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.model import Seat
from planner.plan.units import Preference
from planner.report.drawing.frames import ABOVE
from planner.report.drawing.places import Place
from planner.report.drawing.reach import Reach

__all__ = ["Look", "place_of"]

_NO_REACH = Reach()
_PATH = re.compile(r"(seats|stands)\[(\d+)\]")


@dataclass(frozen=True, slots=True)
class Look:
    """One state of the drawing; equal looks paint equal pictures.

    ``plan`` is told from the side of the candidate that is looked at, ``findings`` too: where that stands
    in places of its own, these are the stands.
    """

    plan: Plan
    candidate: int = 0
    seat: int = 0
    findings: tuple[Finding, ...] = ()
    preference: Preference = Preference.METRIC
    selected: Place | None = None
    hovered: Place | None = None
    active: str = ABOVE
    on_paper: bool = False
    fan_hz: float = 2000.0
    reach: Reach = _NO_REACH

    def __post_init__(self) -> None:
        candidate = min(self.candidate, len(self.plan.candidates) - 1)
        if self.plan.candidates[candidate].stands is not None:
            object.__setattr__(self, "findings", _retold(self.findings, candidate))
            object.__setattr__(self, "plan", in_its_places(self.plan, candidate))

    @property
    def loudspeaker(self) -> Loudspeaker:
        """The loudspeaker that is looked at."""
        return self.plan.candidates[min(self.candidate, len(self.plan.candidates) - 1)].loudspeaker

    @property
    def listener(self) -> Seat:
        """The seat that is looked at."""
        return self.plan.seats[min(self.seat, len(self.plan.seats) - 1)]

    @property
    def at_fault(self) -> set[Place]:
        """Seats and stands that have a finding."""
        return {place for place in map(place_of, self.findings) if place is not None}


def _retold(findings: tuple[Finding, ...], candidate: int) -> tuple[Finding, ...]:
    """The findings with those of a candidate's own stands as if of the plan's, which nobody sees here."""
    front = f"candidates[{candidate}]."
    return tuple(
        replace(one, path=one.path.removeprefix(front)) if one.path.startswith(f"{front}stands") else one
        for one in findings
        if not one.path.startswith("stands")
    )


def place_of(finding: Finding) -> Place | None:
    """The seat or stand that a finding is about; None if it is about neither."""
    match = _PATH.match(finding.path)
    if match is None:
        return None
    return Place("seats" if match[1] == "seats" else "stands", int(match[2]))
