"""The floor at ear height as a map: loudest peak, headroom and room gain wherever someone might sit.

Equal questions are answered once: what does not change the answer, such as a seat that no stand aims
at, costs nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.headroom.compute import compute
from planner.headroom.floor_field import FloorField, floor_field
from planner.headroom.floor_modal import Floor
from planner.headroom.outcome import SeatOutcome
from planner.headroom.placed import in_its_places
from planner.headroom.programme import shares_of
from planner.headroom.room import room_field
from planner.headroom.scene import axes_of, scene_of
from planner.headroom.system import Stage, System, system_of
from planner.plan import Plan, PlanError, cross_checks
from planner.plan.model import Aim, Seat, Stand

__all__ = ["COLUMNS", "ROWS", "FloorMap", "ear_height", "figure_at", "floor_map", "floor_of", "heard_on"]

FloatArray = NDArray[np.float64]
SingleArray = NDArray[np.float32]
COLUMNS, ROWS = 60, 45
AROUND_M = 1.0
"""How far a map of the open air reaches beyond seats and stands."""


@dataclass(frozen=True, slots=True, eq=False)
class FloorMap:
    """Figures of one candidate over the floor; arrays run along x first: (X, Y), and bands before them.

    ``loudest_peak_db``, ``headroom_db`` and ``target_db`` (the peak level wanted there) are (X, Y) [dB],
    ``room_gain_db`` is (B, X, Y) [dB], zero in open air. Each place is answered as if someone sat there.
    All are nan where nobody may sit, nearer than 0.3 m to a stand. ``x_m`` (X,) and ``y_m`` (Y,) are the
    middles of cells that fill ``floor``.
    """

    floor: Floor
    x_m: FloatArray
    y_m: FloatArray
    loudest_peak_db: FloatArray
    headroom_db: FloatArray
    target_db: FloatArray
    room_gain_db: SingleArray


def floor_map(
    plan: Plan,
    candidate: int = 0,
    *,
    ear_height_m: float | None = None,
    columns: int = COLUMNS,
    rows: int = ROWS,
) -> FloorMap:
    """The map of one candidate, by default at the mean height of the seats.

    It is within 1 dB of what a seat there would be told, but for single bands in nulls, and but for the
    half metre about a dipole, of which it is only a sketch; :func:`figure_at` is exact.

    Parameters
    ----------
    plan : Plan
        A plan as :func:`planner.plan.load` gives it.
    candidate : int
        Which of the plan's candidates.
    ear_height_m : float, optional
        Height of the map, in the room [m].
    columns, rows : int
        Cells along x and y.

    Raises
    ------
    PlanError
        With all findings, if parts of the plan contradict one another.
    ValueError
        If the height is not in the room.
    """
    _refuse(plan)
    here = in_its_places(plan, candidate)
    return _drawn(_only(here, candidate), floor_of(here, ear_height_m, columns, rows))


def figure_at(
    plan: Plan, candidate: int, x_m: float, y_m: float, *, ear_height_m: float | None = None
) -> SeatOutcome:
    """The exact outcome of one candidate at a place of the floor, as if someone sat there.

    Raises
    ------
    PlanError
        If the plan has findings, or nobody may sit there: outside the room, or too near a stand.
    """
    _refuse(plan)
    height_m = ear_height(plan) if ear_height_m is None else ear_height_m
    here = Seat(name="Here", x_m=x_m, y_m=y_m, z_m=height_m)
    alone = _only(in_its_places(plan, candidate), candidate)
    return compute(alone.model_copy(update={"seats": (here,)})).seats[0]


def ear_height(plan: Plan) -> float:
    """The mean height of the seats [m]."""
    return float(np.mean([seat.z_m for seat in plan.seats]))


def floor_of(
    plan: Plan, ear_height_m: float | None = None, columns: int = COLUMNS, rows: int = ROWS
) -> Floor:
    """The grid of a plan's floor: the whole room, or in open air what holds all seats and stands."""
    height_m = ear_height(plan) if ear_height_m is None else ear_height_m
    if plan.room is None:
        places = np.array([place.position_m[:2] for place in (*plan.seats, *plan.stands)])
        low, high = places.min(axis=0) - AROUND_M, places.max(axis=0) + AROUND_M
        (x, y), (length, width) = low.tolist(), (high - low).tolist()
        return Floor(x, y, length, width, height_m, columns, rows)
    if not 0.0 <= height_m <= plan.room.height_m:
        raise ValueError(f"ear_height_m must be in the room, 0 to {plan.room.height_m:g} m, got {height_m:g}")
    return Floor(0.0, 0.0, plan.room.length_m, plan.room.width_m, height_m, columns, rows)


def heard_on(plan: Plan, candidate: int, floor: Floor) -> FloorField:
    """The field behind the map of one candidate of a plan without findings."""
    return _heard(_only(in_its_places(plan, candidate), candidate), floor)


def _refuse(plan: Plan) -> None:
    findings = cross_checks(plan)
    if findings:
        raise PlanError(findings)


def _only(plan: Plan, candidate: int) -> Plan:
    """What of a placed plan its map depends on: one candidate, and stands that point where they do."""
    stands = tuple(
        stand.model_copy(update={"name": f"{index}", "aim": _along(axis)})
        for index, (stand, axis) in enumerate(zip(plan.stands, axes_of(plan), strict=True))
    )
    return plan.model_copy(
        update={
            "title": "",
            "notes": None,
            "seats": (_stand_in(stands[0]),),
            "stands": stands,
            "candidates": (plan.candidates[candidate],),
        }
    )


def _along(axis: FloatArray) -> Aim:
    x, y, z = axis
    azimuth, elevation = np.degrees(np.arctan2(y, x)), np.degrees(np.arctan2(z, np.hypot(x, y)))
    return Aim(azimuth_deg=float(azimuth), elevation_deg=float(elevation))


def _stand_in(stand: Stand) -> Seat:
    """A seat that only makes the plan whole: the map asks nothing of it."""
    return Seat.model_construct(name="", x_m=stand.x_m + 1.0, y_m=stand.y_m, z_m=stand.z_m)


@lru_cache(maxsize=4)
def _drawn(plan: Plan, floor: Floor) -> FloorMap:
    system, field = _system(_unplaced(plan)), _heard(plan, floor)
    peak_db, steady_db = (
        10.0 * np.log10(np.where(field.masked, np.nan, field.total(part)))
        for part in (field.peak, field.steady)
    )
    full_db, crest_db = system.first.total_db, plan.programme.crest_db
    if plan.target.peak_db is not None:
        gain_db = plan.target.peak_db - crest_db - peak_db
    else:
        gain_db = (plan.target.average_db or 0.0) - steady_db
    return FloorMap(
        floor=floor,
        x_m=floor.columns_m,
        y_m=floor.rows_m,
        loudest_peak_db=peak_db + crest_db + full_db,
        headroom_db=full_db - gain_db,
        target_db=peak_db + crest_db + gain_db,
        room_gain_db=_room_gain_db(field),
    )


def _room_gain_db(field: FloorField) -> SingleArray:
    """Steady level over that of the direct sound alone, (B, X, Y) [dB]."""
    tiny = np.finfo(np.float32).tiny
    steady = np.maximum(np.where(field.masked, np.float32(np.nan), field.steady), tiny)
    return np.asarray(np.float32(10.0) * np.log10(steady / np.maximum(field.direct, tiny)))


@lru_cache(maxsize=4)
def _heard(plan: Plan, floor: Floor) -> FloorField:
    return floor_field(plan, scene_of(plan), _system(_unplaced(plan)), floor)


def _unplaced(plan: Plan) -> Plan:
    """The plan with its stands on one spot: what a candidate can do is the same wherever it stands."""
    spot = {"x_m": 0.0, "y_m": 0.0, "z_m": 0.0, "aim": Aim(azimuth_deg=0.0, elevation_deg=0.0)}
    stands = tuple(stand.model_copy(update=spot) for stand in plan.stands)
    return plan.model_copy(update={"stands": stands, "seats": (_stand_in(stands[0]),)})


@lru_cache(maxsize=4)
def _system(plan: Plan) -> System:
    """The candidate on a stage without modes, which a map works out for itself."""
    scene = scene_of(plan)
    shares = shares_of(plan.programme)
    return system_of(plan, plan.candidates[0], Stage(scene, room_field(plan, scene), None, shares))
