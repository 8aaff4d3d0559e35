"""One value replaced in an immutable plan."""

import pytest

from planner.plan import PlanError, get, put
from planner.plan.edit import path_text, spec_at
from tests.plans import in_room, plan_of

HEIGHT = ("room", "height_m")
WATTS = ("candidates", 0, "amplifiers", 0, "taps", 0, "watts")


def test_that_a_replaced_value_leaves_the_old_plan_as_it_was():
    plan = plan_of(in_room())
    taller = put(plan, HEIGHT, 4.0)
    assert (plan.room.height_m, taller.room.height_m) == (3.0, 4.0)


def test_that_untouched_parts_are_shared():
    plan = plan_of(in_room())
    louder = put(plan, WATTS, 10.0)
    assert get(louder, WATTS) == 10.0
    assert louder.room is plan.room
    assert louder.candidates[0].loudspeaker is plan.candidates[0].loudspeaker


def test_that_a_value_out_of_range_is_refused_with_its_range():
    with pytest.raises(PlanError, match=r"watts: expected a number from 0.001 to 100000 W"):
        put(plan_of(in_room()), WATTS, 0.0)


def test_that_label_unit_and_range_are_found_by_path():
    spec = spec_at(plan_of(in_room()), WATTS)
    assert (spec.label, spec.unit, spec.low) == ("Rated power", "W", 0.001)


def test_that_a_spec_is_found_where_the_value_may_be_left_out():
    spec = spec_at(plan_of(in_room()), ("candidates", 0, "amplifiers", 0, "tap_ohm"))
    assert spec.unit == "ohm"


def test_that_a_path_reads_as_messages_write_it():
    assert path_text(WATTS) == "candidates[0].amplifiers[0].taps[0].watts"
