"""Limits, footprints, sources, noise, tolerances, prices, own places: what each change makes of a plan.

Expected values are worked out by hand from the plan in each test; what to begin from, and what goes with
what is taken away, is this program's own rule, no published source.
"""

import pytest

from planner.headroom import compute_all
from planner.plan import Plan, PlanError, cross_checks, dumps, get, loads, put
from planner.plan.model import Tolerances
from planner.plan.presets import preset
from planner.plan.reshape import (
    add_section,
    add_stand,
    aim_along,
    aim_at,
    box_kind,
    carry,
    duplicate_candidate,
    duplicate_stand,
    limits_stated,
    move_candidate,
    move_stand,
    own_stands,
    own_tolerance,
    remove_seat,
    remove_section,
    remove_stand,
    rename_seat,
    rename_section,
    residual_stated,
    set_price,
    set_side,
    set_tolerance,
    side_of,
    source_kind,
    usual_tolerances,
    whose_stands,
    with_room,
)

BASS = ("candidates", 0, "loudspeaker", "sections", 0)
LIMITS = (*BASS, "limits")
BOX = (*LIMITS, "box")
SIDES = ("candidates", 0, "loudspeaker", "footprint_m")
RESIDUAL = ("candidates", 0, "amplifiers", 0, "residual")


@pytest.fixture
def plan() -> Plan:
    """Bass from 42 Hz in a room of 6.0 × 4.4 × 2.6 m; one seat, two stands that aim at it."""
    return preset("living_room").plan()


@pytest.fixture
def three(plan) -> Plan:
    """Three candidates; the second stands in places of its own."""
    return own_stands(duplicate_candidate(duplicate_candidate(plan, 0), 0), 1, True)


def sound(plan: Plan) -> bool:
    """Whether it comes back from a file as it is, and can be answered."""
    return loads(dumps(plan)) == plan and bool(compute_all(plan))


# Limits of a section.


def test_that_limits_begin_with_a_power_and_go_altogether(plan):
    stated = limits_stated(plan, LIMITS, True)
    assert get(stated, LIMITS).model_dump(exclude_none=True) == {"long_term_w": 50.0}
    assert sound(stated)
    assert limits_stated(stated, LIMITS, True) is stated
    assert limits_stated(stated, LIMITS, False) == plan
    assert limits_stated(plan, LIMITS, False) is plan


@pytest.mark.parametrize("kind", ["sealed", "horn", "open", None])
def test_that_only_a_vented_box_is_tuned(plan, kind):
    vented = box_kind(limits_stated(plan, LIMITS, True), BOX, "vented")
    # To the low edge of its section.
    assert get(vented, (*LIMITS, "tuning_hz")) == 42.0
    after = box_kind(vented, BOX, kind)
    assert (get(after, BOX), get(after, (*LIMITS, "tuning_hz"))) == (kind, None)
    assert sound(vented) and sound(after)


def test_that_a_vented_box_keeps_its_tuning_when_it_is_chosen_again(plan):
    vented = box_kind(limits_stated(plan, LIMITS, True), BOX, "vented")
    tuned = put(vented, (*LIMITS, "tuning_hz"), 31.0)
    assert box_kind(tuned, BOX, "vented") is tuned


@pytest.mark.parametrize(("low_hz", "tuning_hz"), [(2.0, 20.0), (900.0, 200.0)])
def test_that_no_box_is_tuned_where_none_ever_is(plan, low_hz, tuning_hz):
    plan = put(limits_stated(plan, LIMITS, True), (*BASS, "low_hz"), low_hz)
    assert get(box_kind(plan, BOX, "vented"), (*LIMITS, "tuning_hz")) == tuning_hz


# Footprints.


def test_that_a_footprint_has_both_sides_or_none(plan):
    assert side_of(plan, (*SIDES, 0)) is None
    square = set_side(plan, (*SIDES, 0), 0.6)
    assert get(square, SIDES) == (0.6, 0.6)
    deeper = set_side(square, (*SIDES, 1), 0.45)
    assert get(deeper, SIDES) == (0.6, 0.45)
    assert side_of(deeper, (*SIDES, 1)) == 0.45
    assert sound(deeper)
    assert set_side(deeper, (*SIDES, 0), None) == plan


def test_that_a_side_out_of_range_is_refused(plan):
    with pytest.raises(PlanError, match=r"0\.01 to 20 m"):
        set_side(set_side(plan, (*SIDES, 0), 0.6), (*SIDES, 1), 21.0)


# Source and residual noise.


def test_that_each_kind_of_source_has_its_own_figures(plan):
    line = source_kind(plan, 0, "line")
    assert dict(line.candidates[0].source)["volts"] == 2.0
    phono = source_kind(line, 0, "phono")
    assert (phono.candidates[0].source.cartridge_mv, phono.candidates[0].source.phono_gain_db) == (4.0, 40.0)
    assert sound(line) and sound(phono)
    assert source_kind(phono, 0, None) == plan


def test_that_the_figures_of_a_source_stay_when_its_kind_does(plan):
    own = put(source_kind(plan, 0, "line"), ("candidates", 0, "source", "volts"), 1.2)
    assert source_kind(own, 0, "line") is own


def test_that_residual_noise_begins_whole_at_the_mains_that_was_said(plan):
    noisy = residual_stated(plan, RESIDUAL, True, 60.0)
    known = get(noisy, RESIDUAL)
    assert (known.mains_hz, known.weighting) == (60.0, "Z")
    assert known.hum_mv > 0.0 and known.hiss_mv > 0.0
    assert sound(noisy)
    assert residual_stated(noisy, RESIDUAL, True) is noisy
    assert residual_stated(noisy, RESIDUAL, False) == plan


# Tolerances.


def test_that_one_tolerance_of_its_own_leaves_the_others_usual(plan):
    after = set_tolerance(plan, "t60_pct", 25.0)
    assert after.tolerances == Tolerances(t60_pct=25.0)
    assert own_tolerance(after, "t60_pct") == 25.0
    assert own_tolerance(after, "crest_db") is None
    assert sound(after)


def test_that_the_last_usual_value_leaves_no_tolerances_behind(plan):
    two = set_tolerance(set_tolerance(plan, "t60_pct", 25.0), "distance_m", 0.2)
    assert set_tolerance(two, "t60_pct", None).tolerances == Tolerances(distance_m=0.2)
    assert set_tolerance(set_tolerance(two, "t60_pct", 15.0), "distance_m", None) == plan
    assert usual_tolerances(two) == plan
    assert usual_tolerances(plan) is plan


def test_that_a_tolerance_out_of_range_is_refused(plan):
    with pytest.raises(PlanError, match="from 1 to 10"):
        set_tolerance(plan, "transient_ratio", 0.5)


# Candidates.


def test_that_a_candidate_is_moved_with_all_that_it_has(three):
    names = [one.name for one in three.candidates]
    after = move_candidate(three, 1, 0)
    assert [one.name for one in after.candidates] == [names[1], names[0], names[2]]
    assert after.candidates[0] is three.candidates[1]
    assert move_candidate(after, 0, 1) == three


def test_that_a_price_keeps_its_currency_and_takes_that_of_the_others(three):
    first = set_price(three, 0, 9000.0, "USD")
    assert (first.candidates[0].price.amount, first.candidates[0].price.currency) == (9000.0, "USD")
    second = set_price(first, 2, 12_000.0, "EUR")
    assert second.candidates[2].price.currency == "USD"
    pounds = put(second, ("candidates", 2, "price", "currency"), "GBP")
    assert set_price(pounds, 2, 11_000.0).candidates[2].price.currency == "GBP"
    assert sound(pounds)
    assert set_price(first, 0, None) == three


# Places of its own.


def test_that_its_own_places_begin_as_those_of_the_plan(plan):
    own = own_stands(plan, 0, True)
    assert own.candidates[0].stands == plan.stands and own.stands == plan.stands
    assert whose_stands(own, 0) == 0 and whose_stands(plan, 0) is None
    assert own_stands(own, 0, True) is own
    assert own_stands(own, 0, False) == plan
    assert sound(own)


@pytest.mark.parametrize(
    "reshape",
    [
        pytest.param(add_stand, id="added"),
        pytest.param(lambda plan, whose: duplicate_stand(plan, 0, whose), id="doubled"),
        pytest.param(lambda plan, whose: remove_stand(plan, 0, whose), id="taken away"),
        pytest.param(lambda plan, whose: move_stand(plan, 0, 1, whose), id="moved in the list"),
        pytest.param(lambda plan, whose: aim_along(plan, 0, whose), id="aimed along"),
        pytest.param(lambda plan, whose: aim_at(aim_along(plan, 0, whose), 0, "Seat", whose), id="aimed at"),
        pytest.param(lambda plan, whose: carry(plan, 1, ("Bass",), whose), id="carrying"),
    ],
)
def test_that_a_stand_is_changed_where_it_belongs_and_nowhere_else(three, reshape):
    own, common = reshape(three, 1), reshape(three, None)
    assert own.candidates[1].stands == common.stands
    assert own.stands == three.stands and common.candidates == three.candidates
    assert (own.candidates[0], own.candidates[2]) == (three.candidates[0], three.candidates[2])


def test_that_the_last_of_its_own_stands_cannot_go(three):
    with pytest.raises(PlanError, match="at least one entry"):
        remove_stand(remove_stand(three, 0, 1), 0, 1)


def test_that_its_own_stands_follow_the_seat_they_aim_at(three):
    renamed = rename_seat(three, 0, "Sofa")
    assert [stand.aim.seat for stand in renamed.candidates[1].stands] == ["Sofa", "Sofa"]
    two = put(three, ("seats",), (*three.seats, put(three.seats[0], ("name",), "Bench")))
    fewer = remove_seat(two, 0)
    assert [stand.aim.seat for stand in fewer.candidates[1].stands] == ["Bench", "Bench"]
    assert cross_checks(renamed) == () and cross_checks(fewer) == ()


def test_that_a_renamed_section_is_carried_on_by_whoever_carries_it(three):
    carried = carry(three, 0, ("Bass", "Horn"), 1)
    own = rename_section(carried, 1, 0, "Woofer")
    assert [stand.carries for stand in own.candidates[1].stands] == [("Woofer", "Horn"), None]
    assert own.stands == carried.stands
    # The same name in a candidate on the plan's stands is another section.
    assert rename_section(carried, 0, 0, "Woofer").candidates[1] == carried.candidates[1]


def test_that_a_section_more_or_less_is_one_more_or_less_on_its_own_stands(three):
    carried = carry(carry(three, 0, ("Bass",), 1), 1, ("Bass", "Horn"), 1)
    more = add_section(carried, 1)
    # From 20 to 42 Hz the band is open below.
    assert [stand.carries for stand in more.candidates[1].stands] == [
        ("Bass", "Bass 2"),
        ("Bass", "Horn", "Bass 2"),
    ]
    less = remove_section(carried, 1, 0)
    # The first of them carried nothing else. The others still have a section of that name: it does not count.
    assert [stand.carries for stand in less.candidates[1].stands] == [("Horn",)]
    assert cross_checks(more) == () and cross_checks(less) == ()


def test_that_an_only_stand_of_its_own_carries_all_when_its_section_goes(three):
    only = carry(remove_stand(three, 1, 1), 0, ("Bass",), 1)
    assert remove_section(only, 1, 0).candidates[1].stands[0].carries is None


def test_that_others_on_the_plans_stands_do_not_lose_what_is_carried_elsewhere(three):
    carried = carry(three, 0, ("Bass", "Horn"))
    assert remove_section(carried, 1, 0).stands == carried.stands


def test_that_a_room_is_made_to_hold_its_own_places_too(three):
    outside = put(put(three, ("room",), None), ("candidates", 1, "stands", 0, "x_m"), 9.0)
    room = with_room(outside).room
    # Half a metre behind whatever stands farthest.
    assert room.length_m == pytest.approx(9.5)
