"""Nulls: bands that the modes all but take away from a seat."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.headroom.floor_map import floor_of, heard_on
from planner.headroom.scene import BAND_HZ
from planner.headroom.system import system_at
from planner.plan import Plan

__all__ = ["NULL_DB", "Null", "nulls"]

NULL_DB = 20.0
"""A band this far below its mean over the floor is a null: there a centimetre may cost decibels."""


@dataclass(frozen=True, slots=True)
class Null:
    """A band of one seat, and how far it lies below the band's energy mean over the floor at ear height."""

    seat: str
    band_hz: float
    below_db: float


def nulls(plan: Plan, candidate: int = 0) -> tuple[Null, ...]:
    """The nulls of all seats, seat by seat from low to high; there are none in open air.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    system = system_at(plan, candidate)
    modal = system.stage.modal
    if modal is None:
        return ()
    field = heard_on(plan, candidate, floor_of(plan))
    tiny = np.finfo(float).tiny
    mean = np.maximum(field.own * field.mean(field.steady), tiny)
    below_db = 10.0 * np.log10(mean / np.maximum(system.arrival.steady, tiny))
    deep = (below_db > NULL_DB) & (modal.weight > 0.0)
    return tuple(
        Null(plan.seats[seat].name, float(BAND_HZ[band]), float(below_db[seat, band]))
        for seat, band in np.argwhere(deep)
    )
