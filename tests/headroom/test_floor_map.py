"""The map of the floor: what it says must be what a seat there would be told."""

from __future__ import annotations

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.floor_map import ear_height, figure_at, floor_map
from planner.headroom.nulls import NULL_DB, nulls
from planner.plan import PlanError
from tests.headroom.test_against_plain_loops import CASES
from tests.plans import changed, in_room, open_air, plan_of

BOX = "candidates.0.loudspeaker"
DRAWN = [
    "a room",
    "measured T60",
    "a pair",
    "given coherence",
    "free field",
    "average held",
    "horn",
    "three ways",
    "an amplifier a section",
    "a triode on a dip",
    "bass apart",
    "dipole",
    "a pair in open air",
]


def at_nodes(plan, count, seed=5):
    """The map of a plan, and exact seats at some of its nodes: (map, [(column, row, outcome)]).

    Of the surroundings of a dipole the map is only a sketch, so there none are taken.
    """
    drawn = floor_map(plan)
    dipoles = any(one.radiator.kind == "dipole" for one in plan.candidates[0].loudspeaker.sections)
    open_nodes = np.argwhere(np.isfinite(drawn.headroom_db))
    place = np.stack([drawn.x_m[open_nodes[:, 0]], drawn.y_m[open_nodes[:, 1]]], axis=-1)
    stands = np.array([stand.position_m[:2] for stand in plan.stands])
    away = np.linalg.norm(place[:, None] - stands, axis=-1).min(axis=-1)
    open_nodes = open_nodes[away > (0.6 if dipoles else 0.0)]
    chosen = np.random.default_rng(seed).choice(open_nodes, count, replace=False)
    return drawn, [
        (column, row, figure_at(plan, 0, drawn.x_m[column], drawn.y_m[row])) for column, row in chosen
    ]


@pytest.mark.parametrize("name", DRAWN)
def test_that_the_map_says_what_a_seat_there_would_be_told(name):
    drawn, seats = at_nodes(plan_of(CASES[name]), 20)
    for column, row, seat in seats:
        assert drawn.headroom_db[column, row] == pytest.approx(seat.headroom_db, abs=1.0)
        assert drawn.loudest_peak_db[column, row] == pytest.approx(seat.loudest_peak_db, abs=1.0)
        assert drawn.target_db[column, row] == pytest.approx(seat.peak_target_db, abs=1.0)


@pytest.mark.parametrize("name", DRAWN)
def test_that_room_gain_on_the_map_is_that_of_a_seat_band_by_band(name):
    # The map takes fewer lines a band and ears of one height: in dips it may be out by more than 1 dB.
    drawn, seats = at_nodes(plan_of(CASES[name]), 40, seed=8)
    off_db = np.array(
        [drawn.room_gain_db[:, column, row] - seat.bands.room_gain_db for column, row, seat in seats]
    )
    assert np.mean(np.abs(off_db) > 1.0) < 0.002
    assert np.abs(off_db).max() < 3.0


def test_that_the_figure_under_the_pointer_is_exact():
    plan = plan_of(CASES["three ways"])
    seat = plan.seats[1]
    told = figure_at(plan, 0, seat.x_m, seat.y_m, ear_height_m=seat.z_m)
    exact = compute(plan).seats[1]
    assert told.headroom_db == pytest.approx(exact.headroom_db, abs=1e-9)
    assert told.bands.room_gain_db == pytest.approx(exact.bands.room_gain_db, abs=1e-9)
    assert told.first_limit == exact.first_limit


def test_that_a_pair_in_the_middle_makes_a_map_that_is_its_own_mirror_image():
    data = CASES["a pair"]
    places = {"x_m": 1.0, "z_m": 1.0}
    ahead = {"azimuth_deg": 10.0, "elevation_deg": 0.0}
    back = {"azimuth_deg": -10.0, "elevation_deg": 0.0}
    stands = [
        {"name": "L", "y_m": 1.25, "aim": ahead, **places},
        {"name": "R", "y_m": 3.75, "aim": back, **places},
    ]
    drawn = floor_map(plan_of(changed(data, "stands", stands)))
    assert drawn.headroom_db == pytest.approx(drawn.headroom_db[:, ::-1], abs=1e-3, nan_ok=True)


def test_that_nobody_is_told_anything_nearer_than_a_seat_may_be_to_a_stand():
    plan = plan_of(CASES["a pair"])
    drawn = floor_map(plan)
    x, y = np.meshgrid(drawn.x_m, drawn.y_m, indexing="ij")
    place = np.stack([x, y, np.full(x.shape, ear_height(plan))], axis=-1)
    stands = np.array([stand.position_m for stand in plan.stands])
    near = (np.linalg.norm(place[:, :, None] - stands, axis=-1) < 0.3).any(axis=-1)
    assert near.any()
    assert np.array_equal(np.isnan(drawn.headroom_db), near)
    assert np.all(np.isnan(drawn.room_gain_db) == near)


def test_that_a_seat_that_no_stand_aims_at_moves_without_a_new_map():
    plan = plan_of(CASES["a pair"])
    moved = plan.seats[1].model_copy(update={"x_m": 2.0, "y_m": 3.0})
    other = plan.model_copy(update={"seats": (plan.seats[0], moved), "title": "Another"})
    assert floor_map(other) is floor_map(plan)


def test_that_three_decibels_more_wanted_are_three_decibels_less_headroom_everywhere():
    data = CASES["a pair"]
    less, more = (floor_map(plan_of(changed(data, "target", {"peak_db": peak}))) for peak in (95.0, 98.0))
    heard = np.isfinite(less.headroom_db)
    assert (less.headroom_db - more.headroom_db)[heard] == pytest.approx(3.0)
    assert less.loudest_peak_db == pytest.approx(more.loudest_peak_db, nan_ok=True)


def test_that_open_air_gains_nothing_and_falls_with_distance():
    # One stand at (0, 2, 1), ears at 1 m: from 1 m to 2 m on its axis the level falls by 6.02 dB and air.
    drawn = floor_map(plan_of(open_air()), columns=61, rows=41)
    assert np.nanmax(np.abs(drawn.room_gain_db)) == 0.0
    row = int(np.argmin(np.abs(drawn.y_m - 2.0)))
    distance = np.hypot(drawn.x_m, drawn.y_m[row] - 2.0)
    heard = np.isfinite(drawn.loudest_peak_db[:, row])
    level = np.interp([1.0, 2.0], distance[heard], drawn.loudest_peak_db[heard, row])
    assert level[0] - level[1] == pytest.approx(6.02, abs=0.1)


def test_that_a_plan_with_findings_has_no_map_and_no_figures():
    plan = plan_of(changed(in_room(), "seats.0.x_m", 9.0))
    with pytest.raises(PlanError, match="a place in the room"):
        floor_map(plan)
    with pytest.raises(PlanError, match=r"seat at least 0\.3 m"):
        figure_at(plan_of(in_room()), 0, 0.05, 2.0)
    with pytest.raises(ValueError, match="ear_height_m"):
        floor_map(plan_of(in_room()), ear_height_m=3.5)


def test_that_a_band_is_a_null_where_it_lies_20_db_below_its_mean_over_the_floor():
    # 115 seats over the floor, clear of the stands and each answered in full, give the mean.
    data = changed(CASES["a pair"], "room.measured_t60_s", {"500": 2.0})
    grid = [
        {"name": f"{column}/{row}", "x_m": (column + 0.5) * 8 / 13, "y_m": (row + 0.5) * 5 / 9, "z_m": 1.1}
        for column in range(13)
        for row in range(9)
        if (column, row) not in ((1, 1), (1, 7))
    ]
    aimed = {"azimuth_deg": 0.0, "elevation_deg": 0.0}
    data = changed(changed(data, "stands.0.aim", aimed), "stands.1.aim", aimed)
    plan = plan_of(changed(data, "seats", grid))
    seats = compute(plan).seats
    # Pink noise, an omnidirectional source: at one EMF the level follows the room, but for the direct sound.
    level_db = np.array([seat.bands.level_db + seat.headroom_db for seat in seats])
    mean_db = 10.0 * np.log10(np.mean(10.0 ** (level_db / 10.0), axis=0))
    below_db = {
        (seat.name, hz): depth
        for seat, depths in zip(seats, mean_db - level_db, strict=True)
        for hz, depth in zip(seat.bands.centre_hz, depths, strict=True)
    }
    found = {(one.seat, one.band_hz): one.below_db for one in nulls(plan)}
    assert len(found) >= 3
    assert {place for place, depth in below_db.items() if depth > NULL_DB + 1.5} <= set(found)
    for place, depth in found.items():
        assert depth == pytest.approx(below_db[place], abs=1.5)


def test_that_there_are_no_nulls_in_open_air():
    assert nulls(plan_of(open_air())) == ()


SIZES = [(1.0, 1.0, 1.0), (100.0, 100.0, 100.0), (100.0, 60.0, 0.5), (5.4, 4.2, 2.9)]
CORNER, WALL = (0.0, 0.0, 0.0), (0.5, 0.0, 0.5)


@pytest.mark.parametrize("t60", [0.05, 12.0])
@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("stand", [CORNER, WALL], ids=["in a corner", "on a wall"])
def test_that_rooms_of_any_size_and_decay_have_finite_maps(size, t60, stand):
    data = changed(changed(in_room(), "room.measured_t60_s", {"500": t60}), f"{BOX}.baffle_width_m", 0.3)
    for key, side, at in zip("xyz", size, stand, strict=True):
        data = changed(data, f"room.{dict(x='length_m', y='width_m', z='height_m')[key]}", side)
        data = changed(data, f"stands.0.{key}_m", side * at)
        data = changed(data, f"seats.0.{key}_m", side * 0.9)
    drawn = floor_map(plan_of(data))
    heard = np.isfinite(drawn.headroom_db)
    assert heard.mean() > 0.5
    assert not np.isinf(drawn.headroom_db).any()
    assert np.all(np.isfinite(drawn.room_gain_db[:, heard]))
