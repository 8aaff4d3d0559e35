"""Where two plans differ first, by which undo finds the field that it changed."""

import pytest

from planner.plan import put
from planner.plan.presets import preset
from planner.plan.reshape import (
    add_seat,
    aim_along,
    first_difference,
    hold_average,
    noise_kind,
    open_air,
    radiator_kind,
    remove_seat,
    set_octave,
)

RADIATOR = ("candidates", 0, "loudspeaker", "sections", 1, "radiator")
T60 = ("room", "measured_t60_s")


@pytest.fixture
def plan():
    return add_seat(preset("living_room").plan())


@pytest.mark.parametrize(
    ("reshape", "path"),
    [
        pytest.param(lambda plan: put(plan, ("title",), "Other"), ("title",), id="a text"),
        pytest.param(lambda plan: put(plan, ("seats", 1, "y_m"), 1.0), ("seats", 1, "y_m"), id="a number"),
        pytest.param(add_seat, ("seats", 2), id="an entry more"),
        pytest.param(lambda plan: remove_seat(plan, 1), ("seats", 1), id="an entry less"),
        pytest.param(lambda plan: noise_kind(plan, "nc"), ("room", "noise"), id="a part that comes"),
        pytest.param(open_air, ("room",), id="a part that goes"),
        pytest.param(
            lambda plan: radiator_kind(plan, RADIATOR, "omni"), RADIATOR, id="a part of another kind"
        ),
        pytest.param(lambda plan: hold_average(plan, 80.0), ("target", "peak_db"), id="the first of two"),
        pytest.param(lambda plan: aim_along(plan, 0), ("stands", 0, "aim", "seat"), id="an aim"),
        pytest.param(lambda plan: set_octave(plan, T60, "500", 0.4), T60, id="an octave"),
    ],
)
def test_that_the_first_value_that_differs_is_found_both_ways(plan, reshape, path):
    after = reshape(plan)
    assert first_difference(plan, after) == path
    assert first_difference(after, plan) == path


def test_that_equal_plans_do_not_differ(plan):
    again = put(put(plan, ("title",), "Other"), ("title",), plan.title)
    assert again is not plan
    assert first_difference(plan, plan) is None
    assert first_difference(plan, again) is None
