"""Ways to clear: each is applied to the plan, written, read, and computed from scratch."""

import pytest

from planner.headroom import compute
from planner.headroom.ways import ways_to_clear
from planner.plan import cross_checks, dumps, loads
from tests.headroom.test_against_plain_loops import baffled, several_amplifiers, stereo
from tests.plans import changed, in_room, open_air, plan_of


def short(data, level=103.0):
    return plan_of(changed(data, "target", {"peak_db": level}))


PLANS = {
    "one loudspeaker": short(in_room()),
    "a pair on baffles": short(stereo(baffled(in_room()))),
    "an amplifier a section": short(stereo(baffled(several_amplifiers(in_room())))),
    "open air": short(open_air()),
    "average held": plan_of(changed(stereo(baffled(in_room())), "target", {"average_db": 92.0})),
    "measured T60": short(changed(in_room(), "room.measured_t60_s", {"125": 0.6, "1000": 0.4})),
}


@pytest.mark.parametrize("name", PLANS)
def test_that_every_way_applied_and_computed_from_scratch_gives_what_it_claimed(name):
    plan = PLANS[name]
    for seat in range(len(plan.seats)):
        for way in ways_to_clear(plan, 0, seat):
            if way.plan is None:
                assert way.to_value is None
                assert way.headroom_db < 3.0
                continue
            again = loads(dumps(way.plan))
            assert cross_checks(again) == ()
            headroom = compute(again).seats[seat].headroom_db
            assert headroom == pytest.approx(way.headroom_db, abs=1e-6), way.change
            assert headroom >= 3.0, way.change
            if way.change != "stands":
                assert headroom == pytest.approx(3.0, abs=0.1), way.change


def test_that_a_plan_that_clears_needs_no_way():
    assert ways_to_clear(short(in_room(), 80.0), 0, 0) == []


def ways(plan, seat=0):
    return {way.change: way for way in ways_to_clear(plan, 0, seat)}


def test_that_watts_and_sensitivity_agree_with_the_arithmetic():
    plan = PLANS["one loudspeaker"]
    lack = 3.0 - compute(plan).worst.headroom_db
    found = ways(plan)
    assert found["watts"].to_value == pytest.approx(2.5 * 10 ** (lack / 10), rel=2e-3)
    assert found["sensitivity"].to_value - found["sensitivity"].from_value == pytest.approx(lack, abs=0.01)
    assert found["target"].from_value - found["target"].to_value == pytest.approx(lack, abs=0.01)


def test_that_a_seat_is_moved_toward_the_loudspeaker():
    way = ways(PLANS["one loudspeaker"])["distance"]
    assert way.to_value < way.from_value
    moved = way.plan.seats[0]
    assert (moved.y_m, moved.z_m) == (2.0, 1.0)
    assert moved.x_m == pytest.approx(way.to_value)


def test_that_crest_is_a_way_only_where_the_average_is_held():
    assert "crest" not in ways(PLANS["one loudspeaker"])
    assert ways(PLANS["average held"])["crest"].to_value < 12.0


def test_that_a_wider_baffle_is_a_way_only_where_there_is_a_step():
    assert "baffle_width" not in ways(PLANS["one loudspeaker"])
    assert "baffle_width" in ways(PLANS["a pair on baffles"])


def test_that_absorption_is_a_way_only_in_a_room():
    assert "absorption" not in ways(PLANS["open air"])
    assert ways(PLANS["one loudspeaker"])["absorption"].unit == "m2"


def test_that_what_cannot_be_done_is_said():
    hopeless = ways(short(stereo(baffled(in_room())), 130.0))
    assert hopeless["baffle_width"].to_value is None
    assert hopeless["baffle_width"].headroom_db < 3.0
    assert hopeless["distance"].to_value is None


def test_that_more_watts_do_not_clear_a_loudspeaker_that_gives_out_first():
    data = changed(in_room(), "candidates.0.loudspeaker.sections.0.limits", {"long_term_w": 0.5})
    assert ways(short(data))["watts"].to_value is None


def test_that_more_stands_stand_in_the_room_and_carry_what_their_twins_do():
    way = ways(PLANS["a pair on baffles"])["stands"]
    assert len(way.plan.stands) == int(way.to_value)
    assert way.plan.stands[2].aim == way.plan.stands[0].aim


def test_that_progress_is_told_before_each_change_and_may_end_the_search():
    plan, told = PLANS["one loudspeaker"], []
    whole = ways_to_clear(plan, 0, 0, progress=lambda share: told.append(share) or True)
    assert [way.change for way in whole] == [way.change for way in ways_to_clear(plan, 0, 0)]
    assert told == pytest.approx([number / len(whole) for number in range(len(whole))])
    some = ways_to_clear(plan, 0, 0, progress=lambda share: share < 0.3)
    assert [way.change for way in some] == [way.change for way in whole][: len(some)]
    assert 0 < len(some) < len(whole)
