"""Room and programme: open air and back, patches, furnishings, octaves, noise, and which level is held.

Expected values are worked out by hand from the room in each test.
"""

import pytest

from planner.plan import Plan, PlanError, cross_checks, put
from planner.plan.presets import preset
from planner.plan.reshape import (
    add_furnishing,
    add_patch,
    describe_own,
    hold_average,
    hold_peak,
    noise_kind,
    open_air,
    remove_furnishing,
    remove_patch,
    set_octave,
    with_room,
)
from planner.plan.room import Surface
from planner.resources import OCTAVES, furnishings, materials


@pytest.fixture
def plan() -> Plan:
    """A room of 6.0 × 4.4 × 2.6 m, its ceiling of one material."""
    return preset("living_room").plan()


def test_that_a_room_can_be_left_and_come_back_to(plan):
    outside = open_air(plan)
    assert outside.room is None
    assert with_room(outside, plan.room) == plan


def test_that_a_new_room_holds_every_seat_and_stand(plan):
    wide = put(open_air(plan), ("seats", 0, "x_m"), 14.0)
    after = with_room(wide)
    assert after.room.length_m == pytest.approx(14.5)
    assert cross_checks(after) == ()


def test_that_a_second_material_takes_a_quarter_of_the_face(plan):
    after = add_patch(plan, "ceiling", "curtains_velvet")
    new, old = after.room.surfaces.ceiling
    # By hand: 6.0 m × 4.4 m = 26.4 m², a quarter is 6.6 m².
    assert (new.material, new.area_m2, old.area_m2) == ("curtains_velvet", 6.6, None)
    assert cross_checks(after) == ()


def test_that_a_face_of_given_areas_only_stays_full_when_a_material_is_added(plan):
    full = put(
        plan,
        ("room", "surfaces", "ceiling"),
        (Surface(material="plasterboard", area_m2=20.0), Surface(material="wood_16mm", area_m2=6.4)),
    )
    after = add_patch(full, "ceiling", "curtains_velvet")
    assert [patch.area_m2 for patch in after.room.surfaces.ceiling] == [5.0, None, 6.4]
    assert cross_checks(after) == ()


def test_that_what_remains_of_a_face_never_lies_bare(plan):
    two = add_patch(plan, "ceiling", "curtains_velvet")
    after = remove_patch(two, "ceiling", 1)
    assert after.room.surfaces.ceiling == (Surface(material="curtains_velvet"),)
    assert remove_patch(two, "ceiling", 0) == plan
    assert cross_checks(after) == ()


def test_that_a_face_keeps_its_last_material(plan):
    with pytest.raises(PlanError, match="at least one entry"):
        remove_patch(plan, "ceiling", 0)


def test_that_a_tiny_face_still_gets_a_patch_with_an_area(plan):
    small = put(put(plan, ("room", "width_m"), 0.5), ("room", "height_m"), 0.5)
    assert 0.0 < add_patch(small, "front", "curtains_velvet").room.surfaces.front[0].area_m2 < 0.25


def test_that_the_same_thing_twice_is_counted_in_one_row(plan):
    rows = plan.room.furnishings
    more = add_furnishing(plan, rows[0].item)
    assert [row.count for row in more.room.furnishings] == [
        rows[0].count + 1,
        *(row.count for row in rows[1:]),
    ]
    new = add_furnishing(plan, "bed")
    assert new.room.furnishings[-1].item == "bed"
    assert remove_furnishing(new, len(rows)) == plan


def test_that_a_material_of_ones_own_begins_with_the_figures_of_the_one_it_replaces(plan):
    path = ("room", "surfaces", "ceiling", 0, "material")
    own = describe_own(plan, path).room.surfaces.ceiling[0].material
    assert own.name == materials()["plasterboard"].description
    assert [own.absorption[octave] for octave in OCTAVES] == list(materials()["plasterboard"].absorption)


def test_that_an_item_of_ones_own_begins_with_the_figures_of_the_one_it_replaces(plan):
    path = ("room", "furnishings", 0, "item")
    own = describe_own(plan, path).room.furnishings[0].item
    assert [own.area_m2[octave] for octave in OCTAVES] == list(furnishings()["sofa"].area_m2)


def test_that_one_figure_for_all_octaves_is_spread_over_them(plan):
    path = ("room", "surfaces", "ceiling", 0, "material")
    flat = put(plan, path, {"name": "Felt", "absorption": 0.3})
    own = describe_own(flat, path).room.surfaces.ceiling[0].material
    assert own.name == "Felt"
    assert set(own.absorption.values()) == {0.3}


def test_that_octaves_come_and_go_one_by_one(plan):
    path = ("room", "measured_t60_s")
    one = set_octave(plan, path, "500", 0.42)
    two = set_octave(one, path, "125", 0.6)
    assert dict(two.room.measured_t60_s) == {"125": 0.6, "500": 0.42}
    assert set_octave(set_octave(two, path, "125", None), path, "500", None) == plan


def test_that_an_octave_out_of_its_range_is_refused(plan):
    with pytest.raises(PlanError, match=r"0\.05 to 30 s"):
        set_octave(plan, ("room", "measured_t60_s"), "500", 31.0)


def test_that_room_noise_is_one_of_two_measures_or_unknown(plan):
    assert noise_kind(plan, "nc").room.noise.nc == 20.0
    assert noise_kind(noise_kind(plan, "nc"), "dba").room.noise.nc is None
    assert noise_kind(noise_kind(plan, "dba"), None).room.noise is None


def test_that_holding_one_level_lets_go_of_the_other(plan):
    average = hold_average(plan, 88.0)
    assert (average.target.peak_db, average.target.average_db) == (None, 88.0)
    assert hold_peak(average, plan.target.peak_db) == plan


def test_that_a_target_beyond_any_level_is_refused(plan):
    with pytest.raises(PlanError, match="0 to 194 dB"):
        hold_peak(plan, 195.0)
