"""What a wider baffle buys, and that no boundary is counted twice."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.baffle import baffle_curve
from tests.headroom.test_against_plain_loops import CASES, baffled, stereo, three_ways
from tests.plans import changed, in_room, open_air, plan_of, section

BOX = "candidates.0.loudspeaker"
BAND_100_HZ = 7


def test_that_the_step_at_100_hz_is_that_of_the_width_by_hand():
    # Open air, half-space levels. Width 0.5 m: f3 = 230 Hz, x2 = (100/230)2/2 = 0.09452 and gain2 =
    # 1.37807/1.09452/4 = 0.31477, -5.020 dB. Width 1.15 m: f3 = 100 Hz, -3.010 dB. So 2.010 dB more.
    plan = plan_of(changed(open_air(), f"{BOX}.baffle_width_m", 0.5))
    curve = baffle_curve(plan)
    assert np.interp(1.15, curve.width_m, curve.level_db) == pytest.approx(2.010, abs=0.01)
    assert curve.level_db[curve.width_m == 0.5] == pytest.approx([0.0], abs=1e-12)
    assert np.all(np.diff(curve.level_db) > 0.0)


@pytest.mark.parametrize("data", [stereo(baffled(in_room())), stereo(baffled(three_ways(in_room())))])
def test_that_every_width_is_answered_as_the_plan_with_that_baffle_would_be(data):
    plan = plan_of(data)
    curve = baffle_curve(plan, 0, 1, points=5)
    now = compute(plan).seats[1]
    assert curve.here_watts == pytest.approx(now.watts_needed)
    assert curve.here_m == 0.4
    for index, width in enumerate(curve.width_m.tolist()):
        then = compute(plan_of(changed(data, f"{BOX}.baffle_width_m", width))).seats[1]
        # At one and the same EMF: the level there plus the headroom that the target leaves.
        level_db = [one.bands.level_db[BAND_100_HZ] + one.headroom_db for one in (then, now)]
        assert curve.level_db[index] == pytest.approx(level_db[0] - level_db[1], abs=1e-9)
        assert curve.watts_needed[index] == pytest.approx(then.watts_needed)
        assert curve.saved_watts[index] == pytest.approx(now.watts_needed - then.watts_needed)


def test_that_a_wall_is_the_widest_baffle_of_all():
    curve = baffle_curve(plan_of(open_air()))
    assert curve.here_m is None
    # Width 0.2 m: f3 = 575 Hz, x2 = 0.015123, gain2 = 1.060491/1.015123/4: -5.831 dB re the wall.
    assert curve.level_db[0] == pytest.approx(-5.831, abs=0.002)
    assert np.all(curve.level_db < 0.0)
    assert np.all(curve.saved_watts < 0.0)


def test_that_a_width_that_changes_nothing_stated_has_no_curve():
    assert baffle_curve(plan_of(CASES["free field"])) is None
    assert baffle_curve(plan_of(CASES["dipole"])) is None


def test_that_a_source_on_a_hard_floor_is_as_loud_stated_for_half_space_as_for_free_field():
    # What makes L over a wide floor makes 20 log 2 = 6.02 dB less in free field. It is small: a baffle of
    # 1 cm steps at 11.5 kHz. It plays to 600 Hz; the step is then 0.02 dB short of 6.02.
    small = changed(in_room(), f"{BOX}.baffle_width_m", 0.01)
    small = changed(changed(small, "stands.0.z_m", 0.0), "room.measured_t60_s", {"500": 0.6})
    low = section(high_hz=600.0, slopes_db_per_octave=[96.0, 96.0])
    half = changed(small, f"{BOX}.sections", [low])
    free = changed(
        changed(half, f"{BOX}.radiates_into", "free_field"), f"{BOX}.sections.0.sensitivity.level_db", 93.98
    )
    one, other = (compute(plan_of(data)).seats[0] for data in (half, free))
    assert one.loudest_peak_db == pytest.approx(other.loudest_peak_db, abs=0.05)
    played = slice(0, 15)
    assert one.bands.level_db[played] == pytest.approx(other.bands.level_db[played], abs=0.05)
    assert one.bands.room_gain_db[played] == pytest.approx(other.bands.room_gain_db[played], abs=0.05)


def test_that_a_source_set_in_a_wall_is_as_loud_as_the_same_one_stood_against_it():
    # Below 40 Hz no baffle of this room is wide, so the half-space level of a small box is stepped by
    # 6.02 dB and its power halves; the wall behind it gives both back. The first mode is at 21 Hz.
    low = section(high_hz=40.0, slopes_db_per_octave=[96.0, 96.0])
    wall = changed(in_room(), f"{BOX}.sections", [low])
    box = changed(wall, f"{BOX}.baffle_width_m", 0.01)
    one, other = (compute(plan_of(data)).seats[0] for data in (wall, box))
    level_db = [seat.bands.level_db[:4] + seat.headroom_db for seat in (one, other)]
    assert level_db[0] == pytest.approx(level_db[1], abs=0.01)
