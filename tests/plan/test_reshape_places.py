"""Seats and stands: what is added, doubled, renamed and taken away, and the aims that go along.

Expected values are worked out by hand from the plan in each test; what to do with what refers to a part
that goes is this program's own rule, no published source.
"""

from math import atan, degrees

import pytest

from planner.plan import Plan, PlanError, cross_checks
from planner.plan.presets import preset
from planner.plan.reshape import (
    add_seat,
    add_stand,
    aim_along,
    aim_at,
    carry,
    duplicate_seat,
    duplicate_stand,
    move_seat,
    move_stand,
    remove_seat,
    remove_stand,
    rename_seat,
    unique_name,
)


@pytest.fixture
def plan() -> Plan:
    """A room of 6.0 × 4.4 × 2.6 m with one seat on its middle line and two stands that aim at it."""
    return preset("living_room").plan()


def aims(plan: Plan) -> list[str | None]:
    return [stand.aim.seat for stand in plan.stands]


@pytest.mark.parametrize(
    ("wanted", "taken", "name"),
    [
        pytest.param("Sofa", ["Desk"], "Sofa", id="free"),
        pytest.param("Sofa", ["Sofa"], "Sofa 2", id="the first double"),
        pytest.param("Sofa", ["Sofa", "Sofa 2", "Sofa 3"], "Sofa 4", id="the next free number"),
        pytest.param("Seat 1", ["Seat 1"], "Seat 2", id="a number is counted on, not put behind another"),
        pytest.param("7", ["7"], "7 2", id="a name that is a number"),
    ],
)
def test_that_a_new_name_is_the_next_free_one(wanted, taken, name):
    assert unique_name(wanted, taken) == name


def test_that_a_new_seat_stands_a_chair_beside_the_last_one_under_its_own_name(plan):
    after = add_seat(plan)
    first, second = after.seats
    assert second.name == "Seat 2"
    assert second.position_m == pytest.approx((first.x_m, first.y_m + 0.6, first.z_m))
    assert cross_checks(after) == ()


def test_that_many_seats_find_room_on_both_sides_without_leaving_the_room(plan):
    for _ in range(5):
        plan = duplicate_seat(plan, 0)
    assert len({seat.position_m for seat in plan.seats}) == 6
    assert len({seat.name for seat in plan.seats}) == 6
    assert cross_checks(plan) == ()


def test_that_a_seat_can_be_moved_up_the_list(plan):
    three = add_seat(add_seat(plan))
    names = [seat.name for seat in three.seats]
    assert [seat.name for seat in move_seat(three, 2, 0).seats] == [names[2], names[0], names[1]]
    assert move_seat(three, 0, 2).stands == three.stands


def test_that_a_renamed_seat_keeps_the_loudspeakers_that_aim_at_it(plan):
    after = rename_seat(plan, 0, "Armchair")
    assert aims(after) == ["Armchair", "Armchair"]
    assert cross_checks(after) == ()


def test_that_a_seat_needs_a_name(plan):
    with pytest.raises(PlanError, match="name"):
        rename_seat(plan, 0, "")


def test_that_aims_stay_where_another_seat_still_has_the_old_name(plan):
    two = add_seat(plan)
    both = rename_seat(two, 1, two.seats[0].name)
    assert aims(rename_seat(both, 1, "Guest")) == ["Seat", "Seat"]


def test_that_loudspeakers_turn_to_the_nearest_seat_when_theirs_is_taken_away(plan):
    near = duplicate_seat(plan, 0)
    far = duplicate_seat(near, 1)
    apart = rename_seat(rename_seat(far, 1, "Near"), 2, "Far")
    after = remove_seat(apart, 0)
    assert [seat.name for seat in after.seats] == ["Near", "Far"]
    assert aims(after) == ["Near", "Near"]
    assert cross_checks(after) == ()


def test_that_the_last_seat_stays(plan):
    with pytest.raises(PlanError, match="at least one entry"):
        remove_seat(plan, 0)


def test_that_a_second_stand_is_the_mirror_image_of_the_first(plan):
    alone = aim_along(remove_stand(plan, 1), 0)
    left, right = add_stand(alone).stands
    assert right.y_m == pytest.approx(4.4 - left.y_m)
    assert right.aim.azimuth_deg == pytest.approx(-left.aim.azimuth_deg)
    assert right.aim.elevation_deg == left.aim.elevation_deg
    assert right.name == "Left 2"


def test_that_a_third_stand_stands_beside_where_its_mirror_image_is_taken(plan):
    third = duplicate_stand(plan, 0).stands[1]
    assert third.y_m == pytest.approx(plan.stands[0].y_m + 0.6)


def test_that_the_mirror_in_the_open_is_the_middle_of_the_audience():
    plan = preset("open_air").plan()
    alone = remove_stand(plan, 1)
    right = add_stand(alone).stands[1]
    assert right.y_m == pytest.approx(2 * alone.seats[0].y_m - alone.stands[0].y_m)


def test_that_stands_can_be_reordered_and_the_last_one_stays(plan):
    assert [stand.name for stand in move_stand(plan, 0, 1).stands] == ["Right", "Left"]
    with pytest.raises(PlanError, match="at least one entry"):
        remove_stand(remove_stand(plan, 0), 0)


def test_that_aiming_by_angles_does_not_turn_the_loudspeaker(plan):
    stand, seat = plan.stands[0], plan.seats[0]
    aim = aim_along(plan, 0).stands[0].aim
    # By hand: the angle whose tangent is across over along, here without a step up.
    across, along = seat.y_m - stand.y_m, seat.x_m - stand.x_m
    assert aim.azimuth_deg == pytest.approx(degrees(atan(across / along)), abs=0.05)
    assert aim.seat is None


def test_that_aiming_by_angles_twice_changes_nothing_more(plan):
    once = aim_along(plan, 0)
    assert aim_along(once, 0) == once


def test_that_a_stand_can_be_aimed_at_a_seat_again(plan):
    assert aim_at(aim_along(plan, 0), 0, "Seat") == plan


def test_that_a_stand_can_carry_some_sections_or_all(plan):
    some = carry(plan, 0, ("Bass",))
    assert some.stands[0].carries == ("Bass",)
    assert carry(some, 0, None) == plan
