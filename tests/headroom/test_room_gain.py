"""Room gain as a curve: modes named by their orders, regions, and no step where the physics changes."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.floor_map import floor_of, heard_on
from planner.headroom.nulls import NULL_DB
from planner.headroom.room_gain import room_gain
from planner.headroom.system import stage_of, system_of
from tests.headroom.test_against_plain_loops import CASES
from tests.plans import changed, in_room, open_air, plan_of

BOX = "candidates.0.loudspeaker"


@pytest.mark.parametrize("name", ["a pair", "dipole", "bass apart"])
def test_that_the_curve_is_the_room_gain_of_the_outcome(name):
    plan = plan_of(CASES[name])
    for seat, outcome in enumerate(compute(plan).seats):
        assert room_gain(plan, 0, seat).gain_db == pytest.approx(outcome.bands.room_gain_db, abs=1e-9)


def test_that_modes_are_named_by_their_orders_up_to_the_schroeder_frequency():
    # 8 x 5 x 3 m at 343.2 m/s, by hand: 343.2/16 = 21.45; 343.2/10 = 34.32; their root sum 40.47;
    # 343.2/8 = 42.90 Hz. T60 of 0.5 s: 2000 sqrt(0.5/120) = 129.1 Hz.
    curve = room_gain(plan_of(changed(in_room(), "room.measured_t60_s", {"500": 0.5})))
    assert curve.mode_hz[:4] == pytest.approx([21.45, 34.32, 40.47, 42.90], abs=0.005)
    assert curve.mode_orders[:4].tolist() == [[1, 0, 0], [0, 1, 0], [1, 1, 0], [2, 0, 0]]
    assert curve.schroeder_hz == pytest.approx(129.1, abs=0.05)
    assert curve.mode_hz.max() <= curve.crossover_hz == curve.schroeder_hz


def test_that_a_mode_couples_fully_in_a_corner_and_not_at_all_in_its_node():
    corner = {"x_m": 0.0, "y_m": 0.0, "z_m": 0.0}
    data = changed(in_room(), "stands.0", {"name": "Left", "aim": {"seat": "Chair"}, **corner})
    curve = room_gain(
        plan_of(changed(data, "seats.0", {"name": "Chair", "x_m": 8.0, "y_m": 5.0, "z_m": 3.0}))
    )
    assert curve.coupling == pytest.approx(np.ones(curve.mode_hz.size))
    # In the middle of the length odd orders along it have their node.
    curve = room_gain(
        plan_of(changed(data, "seats.0", {"name": "Chair", "x_m": 4.0, "y_m": 0.0, "z_m": 0.0}))
    )
    odd = curve.mode_orders[:, 0] % 2 == 1
    assert odd.any()
    assert curve.coupling[odd] == pytest.approx(np.zeros(np.count_nonzero(odd)), abs=1e-12)
    assert curve.coupling[~odd] == pytest.approx(np.ones(np.count_nonzero(~odd)))


def test_that_the_three_regions_follow_one_another_without_gaps():
    data = changed(in_room(), "room.measured_t60_s", {"500": 0.5})
    pressure, modal, statistical = room_gain(plan_of(data)).regions
    assert [one.kind for one in (pressure, modal, statistical)] == ["pressure", "modal", "statistical"]
    assert pressure.high_hz == modal.low_hz == pytest.approx(21.45, abs=0.005)
    assert modal.high_hz == statistical.low_hz == pytest.approx(129.1, abs=0.05)


def test_that_a_great_dead_hall_is_statistical_all_through():
    # 80 x 50 x 30 m, T60 0.5 s: 2000 sqrt(0.5/120000) = 4.08 Hz, below the lowest band. By hand the modes
    # up to there: 343.2/160 = 2.145, 343.2/100 = 3.432 and their root sum 4.047 Hz.
    data = changed(in_room(), "room.measured_t60_s", {"500": 0.5})
    for key, side in (("length_m", 80.0), ("width_m", 50.0), ("height_m", 30.0)):
        data = changed(data, f"room.{key}", side)
    curve = room_gain(plan_of(data))
    assert [one.kind for one in curve.regions] == ["statistical"]
    assert curve.mode_hz == pytest.approx([2.145, 3.432, 4.047], abs=0.001)


def test_that_open_air_has_no_curve():
    assert room_gain(plan_of(open_air())) is None


ROOMS = {
    "small and dry": ((3.1, 2.6, 2.3), 0.2),
    "small and hard": ((3.4, 2.9, 2.4), 1.1),
    "living room": ((5.4, 4.2, 2.6), 0.5),
    "cube": ((4.0, 4.0, 4.0), 0.8),
    "long": ((11.0, 3.2, 2.7), 0.7),
    "hall": ((23.0, 8.2, 7.9), 2.4),
}


def of_size(size, t60, kind):
    """A pair in a room: measured T60, stands a little askew, omnidirectional, flush in a wall, or dipoles."""
    data = changed(in_room(), "room.measured_t60_s", {"125": 1.2 * t60, "500": t60})
    for key, side in zip(("length_m", "width_m", "height_m"), size, strict=True):
        data = changed(data, f"room.{key}", side)
    depth = 0.0 if kind == "wall" else 0.13
    stands = [
        {
            "name": name,
            "x_m": depth * size[0],
            "y_m": across * size[1],
            "z_m": 0.35 * size[2],
            "aim": {"azimuth_deg": turn, "elevation_deg": 0.0},
        }
        for name, across, turn in (("L", 0.22, 15.0), ("R", 0.8, -12.0))
    ]
    data = changed(data, "stands", stands)
    if kind == "wall":
        return data
    data = changed(data, f"{BOX}.baffle_width_m", 0.3)
    if kind == "omni":
        return data
    data = changed(data, f"{BOX}.radiates_into", "free_field")
    return changed(data, f"{BOX}.sections.0.radiator", {"kind": "dipole"})


def seated(data, size, shift_m=(0.0, 0.0, 0.0)):
    """The data with 24 seats spread over the room's inside, all shifted alike."""
    spread = np.random.default_rng(11).uniform(0.05, 0.95, (24, 3)) * np.array(size)
    spread[:, 0] = 0.3 * size[0] + 0.7 * spread[:, 0]
    spread = np.clip(spread + shift_m, 0.0, size)
    seats = [
        {"name": str(index), "x_m": x, "y_m": y, "z_m": z} for index, (x, y, z) in enumerate(spread.tolist())
    ]
    return plan_of(changed(data, "seats", seats))


def peaks_db(plan):
    """Level of every seat and band for a programme of 1 V, and whether it is a null (K, B)."""
    arrival = system_of(plan, plan.candidates[0], stage_of(plan)).arrival
    field = heard_on(plan, 0, floor_of(plan))
    depth_db = 10.0 * np.log10(field.own * field.mean(field.steady) / arrival.steady)
    null = depth_db > NULL_DB
    assert null.mean() < 0.1
    return 10.0 * np.log10(arrival.peak), null


@pytest.mark.parametrize("kind", ["omni", "wall", "dipole"])
@pytest.mark.parametrize("name", ROOMS)
def test_that_a_centimetre_never_moves_a_band_by_a_decibel_but_in_a_null(name, kind):
    size, t60 = ROOMS[name]
    data = of_size(size, t60, kind)
    before_db, null = peaks_db(seated(data, size))
    for shift in np.eye(3) * 0.01:
        after_db, null_after = peaks_db(seated(data, size, shift))
        moved_db = np.abs(after_db - before_db)[~(null | null_after)]
        assert moved_db.max() < 1.0


@pytest.mark.parametrize("kind", ["omni", "wall", "dipole"])
@pytest.mark.parametrize("name", ROOMS)
def test_that_a_hundredth_of_the_decay_never_moves_a_band_by_a_decibel_but_in_a_null(name, kind):
    size, t60 = ROOMS[name]
    before_db, null = peaks_db(seated(of_size(size, t60, kind), size))
    after_db, null_after = peaks_db(seated(of_size(size, 1.01 * t60, kind), size))
    assert np.abs(after_db - before_db)[~(null | null_after)].max() < 1.0
