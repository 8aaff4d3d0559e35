"""How a report is to be."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from planner.plan.units import Preference
from planner.report.maker import Maker

__all__ = ["Wishes"]


@dataclass(frozen=True, slots=True)
class Wishes:
    """Units beside those of the figures, who hands it out, its date, and whether it tells prices."""

    preference: Preference = Preference.METRIC
    maker: Maker = field(default_factory=Maker)
    on: date = field(default_factory=date.today)
    prices: bool = False
