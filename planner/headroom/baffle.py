"""What a wider baffle buys: level at 100 Hz, and watts for the programme as a whole."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.headroom.placed import placed
from planner.headroom.scene import BAND_HZ
from planner.headroom.system import System, stage_of, system_of
from planner.plan import Plan
from planner.plan.loudspeaker import Dipole
from planner.plan.model import Candidate
from planner.plan.reshape.parts import changed

__all__ = ["WIDTHS_M", "BaffleCurve", "baffle_curve"]

FloatArray = NDArray[np.float64]
WIDTHS_M = (0.2, 2.4)
AT_HZ = 100.0
_AT_BAND = int(np.argmin(np.abs(np.log(BAND_HZ / AT_HZ))))


@dataclass(frozen=True, slots=True, eq=False)
class BaffleCurve:
    """One candidate at one seat with baffles of many widths, arrays (W,).

    ``level_db`` is the level at the seat in the 100 Hz third for a given EMF, re the present baffle [dB],
    ``watts_needed`` what the target then asks of the amplifier, ``here_m`` the present width (None: flush
    in a wall) and ``here_watts`` what it asks now.
    """

    width_m: FloatArray
    level_db: FloatArray
    watts_needed: FloatArray
    here_m: float | None
    here_watts: float

    @property
    def saved_watts(self) -> FloatArray:
        """Watts that each width saves, negative where it costs more (W,)."""
        return self.here_watts - self.watts_needed


def baffle_curve(plan: Plan, candidate: int = 0, seat: int = 0, points: int = 23) -> BaffleCurve | None:
    """What baffles from 0.2 to 2.4 m, and the present one, would do for a candidate at a seat.

    None where the width changes nothing that is stated: of a loudspeaker stated in free field the level
    holds the step of its own baffle already, and a dipole has none.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    """
    plan = placed(plan, candidate)
    present = plan.candidates[candidate]
    stage = stage_of(plan)
    sections = present.loudspeaker.sections
    if present.loudspeaker.radiates_into == "free_field" or all(
        isinstance(section.radiator, Dipole) for section in sections
    ):
        return None
    here_m = present.loudspeaker.baffle_width_m
    widths = np.geomspace(*WIDTHS_M, points)
    if not isinstance(here_m, str):
        widths = np.unique(np.append(widths, here_m))
    now = system_of(plan, present, stage)
    then = [system_of(plan, _with_baffle(present, width), stage) for width in widths.tolist()]
    levels = np.array([_level_db(system, seat) for system in then])
    return BaffleCurve(
        width_m=widths,
        level_db=levels - _level_db(now, seat),
        watts_needed=np.array([_watts(system, seat) for system in then]),
        here_m=None if isinstance(here_m, str) else here_m,
        here_watts=_watts(now, seat),
    )


def _with_baffle(candidate: Candidate, width_m: float) -> Candidate:
    return changed(candidate, loudspeaker=changed(candidate.loudspeaker, baffle_width_m=width_m))


def _level_db(system: System, seat: int) -> float:
    return float(10.0 * np.log10(system.arrival.peak[seat, _AT_BAND]))


def _watts(system: System, seat: int) -> float:
    """Rating that an amplifier of the kind that gives out first would need."""
    limiting = system.limiting_amplifier
    headroom_db = system.amplifier_limit(limiting).total_db - system.gain_db[seat]
    return float(system.drives[limiting].rating.watts * 10.0 ** (-headroom_db / 10.0))
