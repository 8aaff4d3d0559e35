"""Curves that explain an outcome: what efficiency buys, and how level falls with distance."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planner.headroom.field import arrive
from planner.headroom.outcome import SeatOutcome
from planner.headroom.system import system_at
from planner.plan import Plan

__all__ = ["DistanceCurve", "EfficiencyCurve", "level_against_distance", "watts_against_sensitivity"]

FloatArray = NDArray[np.float64]
SENSITIVITIES_DB = (82.0, 112.0)
NEAREST_M = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class EfficiencyCurve:
    """Watts that the target needs against one-watt sensitivity; ``here`` marks the candidate."""

    sensitivity_db: FloatArray
    watts: FloatArray
    here_db: float
    here_watts: float
    rated_watts: float


@dataclass(frozen=True, slots=True, eq=False)
class DistanceCurve:
    """Loudest peak against distance from the loudspeakers [dB re 20 µPa], seat's angles kept.

    ``reverberant_db`` is None in open air; ``critical_m`` is the distance at which direct and
    built-up reverberant sound are equal, None if they never are.
    """

    distance_m: FloatArray
    direct_db: FloatArray
    reverberant_db: FloatArray | None
    together_db: FloatArray
    seat_m: float
    seat_db: float
    target_db: float
    critical_m: float | None


def watts_against_sensitivity(seat: SeatOutcome, points: int = 61) -> EfficiencyCurve:
    """Watts for the seat's target if only the loudspeaker's sensitivity changed: 3.01 dB halve them."""
    sensitivity = np.linspace(*SENSITIVITIES_DB, points)
    here = seat.ladder[0].level_db
    watts = seat.watts_needed * 10.0 ** ((here - sensitivity) / 10.0)
    return EfficiencyCurve(sensitivity, watts, here, seat.watts_needed, seat.watts_rated)


def level_against_distance(plan: Plan, candidate: int, seat: int, points: int = 80) -> DistanceCurve:
    """The loudest peak of a candidate as one walks toward or away from the loudspeakers.

    Every stand is taken to the same distance, at the angle it has from the seat, so at the seat of
    a pair that is placed alike the curve passes through the seat's own figure.
    """
    system = system_at(plan, candidate)
    scene, full_db = system.stage.scene, system.first.total_db + plan.programme.crest_db
    here = float(scene.distance_m[seat].min())
    distance = np.geomspace(NEAREST_M, max(_longest(plan), 1.25 * here), points)
    walked = replace(scene, distance_m=np.repeat(distance[:, None], scene.distance_m.shape[1], axis=1))
    turned = replace(system.sources, loss=system.sources.loss[:, seat : seat + 1])
    arrival = arrive(system.pressure, system.carried, turned, walked, system.stage.room)
    direct, together = arrival.direct.sum(axis=-1), arrival.peak.sum(axis=-1)
    reverberant = None if system.stage.room is None else 10.0 * np.log10(together - direct) + full_db
    direct_db = 10.0 * np.log10(direct) + full_db
    peak_db = float(10.0 * np.log10(system.arrival.peak[seat].sum())) + full_db
    return DistanceCurve(
        distance_m=distance,
        direct_db=direct_db,
        reverberant_db=reverberant,
        together_db=10.0 * np.log10(together) + full_db,
        seat_m=here,
        seat_db=peak_db,
        target_db=peak_db - (system.first.total_db - float(system.gain_db[seat])),
        critical_m=None if reverberant is None else _crossing(distance, direct_db - reverberant),
    )


def _longest(plan: Plan) -> float:
    """The longest way within the room, or 10 m in open air [m]."""
    return 10.0 if plan.room is None else float(np.linalg.norm(plan.room.dimensions_m))


def _crossing(distance: FloatArray, difference_db: FloatArray) -> float | None:
    """The distance at which a falling difference passes zero, on a log scale."""
    if difference_db[0] < 0.0 or difference_db[-1] > 0.0:
        return None
    return float(np.exp(np.interp(0.0, -difference_db, np.log(distance))))
