"""How long the music at a seat may be listened to, by public guides: a caution, not a diagnosis."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.acoustics.bands import weighting
from planner.acoustics.exposure import (
    EU_PEAK_LIMIT_DBC,
    EU_PEAK_LOWER_ACTION_DBC,
    EU_PEAK_UPPER_ACTION_DBC,
    niosh_hours,
    who_hours_per_week,
)
from planner.headroom.system import System
from planner.plan.model import Plan

__all__ = ["Hearing", "hearing_at"]

HOURS_A_DAY, HOURS_A_WEEK = 24.0, 168.0
WORKING_DAY_H, ALLOWANCE_WEEK_H = 8.0, 40.0
PEAK_GUIDES = (
    ("eu_peak_limit", EU_PEAK_LIMIT_DBC),
    ("eu_peak_upper_action", EU_PEAK_UPPER_ACTION_DBC),
    ("eu_peak_lower_action", EU_PEAK_LOWER_ACTION_DBC),
)


@dataclass(frozen=True, slots=True)
class Hearing:
    """Exposure at one seat while the programme plays at its loud-passage average.

    ``hours_per_day`` by NIOSH, at most 24; ``hours_per_week`` by WHO / ITU H.870 for adults, at most
    168. ``peak_dbc`` is the C-weighted peak at the target. ``cautions`` are keys, gravest last:
    ``niosh_day`` if less than a working day of 8 hours is allowed, ``who_week`` if less than 40 hours a
    week, and the highest value of directive 2003/10/EC that the peaks reach, ``eu_peak_lower_action``,
    ``eu_peak_upper_action`` or ``eu_peak_limit``.
    """

    average_dba: float
    hours_per_day: float
    hours_per_week: float
    peak_dbc: float
    cautions: tuple[str, ...]


def hearing_at(system: System, plan: Plan, seat: int, average_dba: float) -> Hearing:
    """Exposure at one seat, whose A-weighted average is *average_dba* [dB re 20 µPa].

    The directive's peak is C-weighted: it is taken as the target peak plus what the weighting takes
    from the programme's spectrum at the seat, its crest factor unchanged.
    """
    power = system.arrival.peak[seat]
    weighted = power * 10.0 ** (weighting(system.stage.scene.band_hz, "C") / 10.0)
    peak_dbc = float(10.0 * np.log10(weighted.sum()) + system.gain_db[seat] + plan.programme.crest_db)
    day, week = float(niosh_hours(average_dba)), float(who_hours_per_week(average_dba))
    return Hearing(
        average_dba=average_dba,
        hours_per_day=min(day, HOURS_A_DAY),
        hours_per_week=min(week, HOURS_A_WEEK),
        peak_dbc=peak_dbc,
        cautions=_cautions(day, week, peak_dbc),
    )


def _cautions(hours_per_day: float, hours_per_week: float, peak_dbc: float) -> tuple[str, ...]:
    reached = [key for key, level_dbc in PEAK_GUIDES if peak_dbc >= level_dbc]
    return (
        *(("who_week",) if hours_per_week < ALLOWANCE_WEEK_H else ()),
        *(("niosh_day",) if hours_per_day < WORKING_DAY_H else ()),
        *reached[:1],
    )
