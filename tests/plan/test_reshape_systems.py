"""Candidates: sections, amplifiers, taps, impedances and cables, each changed with all that refers to it.

Expected values are worked out by hand from the candidate in each test.
"""

import math

import pytest

from planner.headroom import compute
from planner.plan import Plan, PlanError, cross_checks, get, put
from planner.plan.presets import preset
from planner.plan.reshape import (
    add_section,
    add_tap,
    amplifier_per_section,
    baffle_kind,
    cable_kind,
    carry,
    duplicate_candidate,
    impedance_kind,
    move_edge,
    one_amplifier,
    radiator_kind,
    remove_candidate,
    remove_section,
    remove_tap,
    rename_section,
    set_slope,
    split_section,
)

SECTIONS = ("candidates", 0, "loudspeaker", "sections")
WHOLE = ("candidates", 0, "loudspeaker", "impedance")
AMPLIFIER = ("candidates", 0, "amplifiers", 0)


@pytest.fixture
def plan() -> Plan:
    """Bass 42 to 1000 Hz, Horn 1000 to 17 000 Hz, one amplifier with taps of 4 and 8 ohm."""
    return preset("living_room").plan()


@pytest.fixture
def by_section(plan) -> Plan:
    """The same with an amplifier on each section, and a bass of its own stand."""
    return carry(carry(amplifier_per_section(plan, 0), 0, ("Bass", "Horn")), 1, ("Bass",))


def sections(plan: Plan) -> list[tuple[str, float, float]]:
    return [(one.name, one.low_hz, one.high_hz) for one in get(plan, SECTIONS)]


def drives(plan: Plan) -> list[str]:
    return [one.drives for one in plan.candidates[0].amplifiers]


def answers(plan: Plan) -> bool:
    """Whether nothing contradicts and an outcome is a number."""
    return cross_checks(plan) == () and math.isfinite(compute(plan).worst.headroom_db)


def test_that_a_renamed_section_keeps_its_amplifier_and_its_stands(by_section):
    after = rename_section(by_section, 0, 0, "Woofer")
    assert drives(after) == ["Woofer", "Horn"]
    assert [stand.carries for stand in after.stands] == [("Woofer", "Horn"), ("Woofer",)]
    assert answers(after)


def test_that_a_section_needs_a_name(plan):
    with pytest.raises(PlanError, match="name"):
        rename_section(plan, 0, 0, "")


def test_that_a_split_section_meets_itself_in_the_middle_of_its_band(by_section):
    after = split_section(by_section, 0, 0)
    # By hand: sqrt(42 × 1000) = 204.9 Hz, to two figures 200 Hz.
    assert sections(after) == [("Bass", 42.0, 200.0), ("Bass 2", 200.0, 1000.0), ("Horn", 1000.0, 17000.0)]
    assert drives(after) == ["Bass", "Bass 2", "Horn"]
    assert [stand.carries for stand in after.stands] == [("Bass", "Horn", "Bass 2"), ("Bass", "Bass 2")]
    assert answers(after)


def test_that_a_narrow_section_is_split_inside_its_band(plan):
    narrow = put(plan, (*SECTIONS, 0), {**get(plan, (*SECTIONS, 0)).model_dump(), "low_hz": 998.5})
    (_, low, middle), (_, again, high), *_ = sections(split_section(narrow, 0, 0))
    assert low < middle == again < high


def test_that_a_new_section_goes_where_the_band_is_open_and_else_splits_the_widest(plan):
    below = add_section(plan, 0)
    assert sections(below)[0] == ("Bass 2", 20.0, 42.0)
    # Bass spans log2(1000 / 42) = 4.6 octaves, Horn log2(17) = 4.1.
    assert sections(add_section(below, 0))[1:3] == [("Bass", 42.0, 200.0), ("Bass 3", 200.0, 1000.0)]
    low = put(plan, (*SECTIONS, 1, "high_hz"), 8000.0)
    assert sections(add_section(low, 0))[-1] == ("Horn 2", 8000.0, 20000.0)
    assert all(answers(one) for one in (below, add_section(below, 0), add_section(low, 0)))


def test_that_the_band_of_a_section_taken_from_between_goes_to_the_one_below(by_section):
    three = split_section(by_section, 0, 0)
    after = remove_section(three, 0, 1)
    assert sections(after) == sections(by_section)
    assert drives(after) == ["Bass", "Horn"]
    assert [stand.carries for stand in after.stands] == [("Bass", "Horn"), ("Bass",)]
    assert answers(after)


def test_that_a_stand_left_with_nothing_to_carry_goes_too(by_section):
    after = remove_section(by_section, 0, 0)
    assert [stand.carries for stand in after.stands] == [("Horn",)]
    assert answers(after)


def test_that_the_only_stand_carries_what_is_left(by_section):
    only = put(by_section, ("stands",), by_section.stands[1:])
    assert remove_section(only, 0, 0).stands[0].carries is None


def test_that_stands_go_on_carrying_what_another_candidate_still_has(by_section):
    two = duplicate_candidate(by_section, 0)
    assert remove_section(two, 0, 0).stands == two.stands


def test_that_the_last_section_stays(plan):
    with pytest.raises(PlanError, match="at least one entry"):
        remove_section(remove_section(plan, 0, 0), 0, 0)


def test_that_neighbours_keep_the_edge_they_share_while_it_moves(plan):
    after = move_edge(plan, (*SECTIONS, 0, "high_hz"), 800.0)
    assert sections(after) == [("Bass", 42.0, 800.0), ("Horn", 800.0, 17000.0)]
    assert sections(move_edge(after, (*SECTIONS, 1, "low_hz"), 700.0))[0][2] == 700.0
    assert sections(move_edge(plan, (*SECTIONS, 1, "high_hz"), 15000.0))[0] == sections(plan)[0]


def test_that_an_edge_not_shared_moves_alone(plan):
    overlapping = put(plan, (*SECTIONS, 0, "high_hz"), 1200.0)
    assert sections(move_edge(overlapping, (*SECTIONS, 0, "high_hz"), 1300.0))[1][1] == 1000.0


def test_that_an_edge_cannot_pass_the_far_edge_of_the_neighbour(plan):
    with pytest.raises(PlanError, match="low_hz below high_hz"):
        move_edge(plan, (*SECTIONS, 0, "high_hz"), 18000.0)


def test_that_both_sides_of_an_edge_have_one_slope(plan):
    after = set_slope(plan, (*SECTIONS, 0, "slopes_db_per_octave", 1), 12.0)
    assert [one.slopes_db_per_octave for one in get(after, SECTIONS)] == [(24.0, 12.0), (12.0, 24.0)]
    outer = set_slope(plan, (*SECTIONS, 0, "slopes_db_per_octave", 0), 12.0)
    assert [one.slopes_db_per_octave for one in get(outer, SECTIONS)] == [(12.0, 24.0), (24.0, 24.0)]


def test_that_radiators_and_baffles_change_kind_and_back(plan):
    path = (*SECTIONS, 1, "radiator")
    for kind in ("diaphragm", "omni", "horn"):
        plan = radiator_kind(plan, path, kind)
        assert get(plan, path).kind == kind
        assert answers(plan)
    assert radiator_kind(plan, path, "horn") is plan
    wall = baffle_kind(plan, ("candidates", 0, "loudspeaker", "baffle_width_m"), in_wall=True)
    assert wall.candidates[0].loudspeaker.baffle_width_m == "wall"
    assert baffle_kind(wall, ("candidates", 0, "loudspeaker", "baffle_width_m"), in_wall=False) == plan


def test_that_the_wiring_of_several_drivers_goes_with_them(plan):
    wired = put(put(plan, (*SECTIONS, 0, "wiring"), "series"), (*SECTIONS, 0, "radiator", "count"), 2)
    after = radiator_kind(wired, (*SECTIONS, 0, "radiator"), "omni")
    assert get(after, (*SECTIONS, 0, "wiring")) is None
    assert answers(after)


def test_that_each_section_gets_a_copy_of_the_amplifier_and_a_load(plan):
    after = amplifier_per_section(plan, 0)
    assert [one.name for one in after.candidates[0].amplifiers] == [
        "Triode amplifier, Bass",
        "Triode amplifier, Horn",
    ]
    assert [one.impedance.nominal_ohm for one in get(after, SECTIONS)] == [8.0, 8.0]
    assert answers(after)
    assert amplifier_per_section(after, 0) is after


def test_that_going_back_to_one_amplifier_gives_the_amplifier_back(plan):
    after = one_amplifier(amplifier_per_section(plan, 0), 0)
    assert after.candidates[0].amplifiers == plan.candidates[0].amplifiers
    assert answers(after)
    assert one_amplifier(plan, 0) is plan


def test_that_one_amplifier_gets_the_load_of_its_section_where_the_whole_is_unknown(plan):
    apart = put(
        put(amplifier_per_section(plan, 0), WHOLE, None), (*SECTIONS, 0, "impedance", "nominal_ohm"), 6.0
    )
    assert get(one_amplifier(apart, 0), WHOLE).nominal_ohm == 6.0


def test_that_a_new_tap_is_for_twice_the_load(plan):
    after = add_tap(plan, AMPLIFIER)
    assert (after.candidates[0].amplifiers[0].taps[-1].ohm, len(after.candidates[0].amplifiers[0].taps)) == (
        16.0,
        3,
    )
    assert remove_tap(after, AMPLIFIER, 2) == plan


def test_that_a_chosen_tap_is_chosen_no_longer_when_it_is_gone(plan):
    chosen = put(plan, (*AMPLIFIER, "tap_ohm"), 8.0)
    assert get(remove_tap(chosen, AMPLIFIER, 1), AMPLIFIER).tap_ohm is None
    assert get(remove_tap(chosen, AMPLIFIER, 0), AMPLIFIER).tap_ohm == 8.0
    assert answers(remove_tap(chosen, AMPLIFIER, 1))


def test_that_a_drivers_parameters_become_the_table_of_their_curve(plan):
    driver = impedance_kind(plan, WHOLE, "driver")
    table = get(impedance_kind(driver, WHOLE, "table"), WHOLE).table
    # By hand at resonance (50 Hz; the nearest third is 50.12 Hz): 6 ohm × (1 + 5 / 0.4) = 81 ohm, to which
    # the coil adds no more than 0.2 ohm of reactance.
    assert len(table) == 31
    assert max(table, key=lambda row: row[1])[0] == pytest.approx(50.12, abs=0.01)
    assert max(row[1] for row in table) == pytest.approx(81.0, rel=0.01)
    assert answers(impedance_kind(driver, WHOLE, "table"))


def test_that_a_nominal_value_becomes_a_flat_table_and_comes_back(plan):
    table = impedance_kind(plan, WHOLE, "table")
    assert get(table, WHOLE).table == ((20.0, 8.0, 0.0), (1000.0, 8.0, 0.0), (20000.0, 8.0, 0.0))
    assert impedance_kind(table, WHOLE, "table") == table
    assert impedance_kind(table, WHOLE, "nominal") == plan
    assert get(impedance_kind(plan, WHOLE, None), WHOLE) is None


def test_that_a_cable_keeps_its_length_where_it_has_one(plan):
    long = put(plan, ("candidates", 0, "cable", "length_m"), 7.5)
    gauge = cable_kind(long, 0, "gauge").candidates[0].cable
    assert (gauge.gauge_awg, gauge.area_mm2, gauge.length_m) == (14, None, 7.5)
    loop = cable_kind(long, 0, "loop").candidates[0].cable
    assert (loop.loop_ohm, loop.length_m) == (0.05, None)
    assert cable_kind(long, 0, None).candidates[0].cable is None
    assert cable_kind(cable_kind(long, 0, None), 0, "area").candidates[0].cable.length_m == 3.0


def test_that_a_doubled_candidate_is_a_full_copy_under_its_own_name(plan):
    two = duplicate_candidate(plan, 0)
    assert [one.name for one in two.candidates] == ["A first system", "A first system 2"]
    assert two.candidates[1].loudspeaker == two.candidates[0].loudspeaker
    assert remove_candidate(two, 1) == plan
    with pytest.raises(PlanError, match="at least one entry"):
        remove_candidate(plan, 0)
