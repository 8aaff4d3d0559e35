"""Cross-checks: what only shows between the parts of a plan."""

import pytest

from planner.headroom import compute
from planner.plan import PlanError, cross_checks, dumps, loads
from tests.plans import amplifier, candidate, changed, in_room, open_air, plan_of, section

SECTIONS = "candidates.0.loudspeaker.sections"


def paths(data):
    return [finding.path for finding in cross_checks(plan_of(data))]


def two_ways(**upper):
    low = section("bass", low_hz=30.0, high_hz=800.0)
    high = section("treble", **{"low_hz": 800.0, "high_hz": 18000.0, **upper})
    return changed(in_room(), SECTIONS, [low, high])


def test_that_a_sound_plan_has_no_findings():
    assert paths(in_room()) == []
    assert paths(two_ways()) == []


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        ("seats.0.x_m", 8.5, "seats[0].x_m"),
        ("stands.0.y_m", -0.1, "stands[0].y_m"),
        ("seats.0.z_m", 3.01, "seats[0].z_m"),
        ("stands.0.aim", {"seat": "Sofa"}, "stands[0].aim.seat"),
        ("stands.0.x_m", 3.9, "seats[0]"),
        ("room.surfaces.floor", [{"material": "wood_16mm", "area_m2": 41}], "room.surfaces.floor"),
        ("room.surfaces.floor", [{"material": "wood_16mm", "area_m2": 39}], "room.surfaces.floor"),
        ("room.surfaces.floor", [{"material": "wood_16mm"}] * 2, "room.surfaces.floor"),
        ("candidates.0.amplifiers.0.drives", "bass", "candidates[0].amplifiers[0].drives"),
        ("candidates.0.amplifiers.0.tap_ohm", 4, "candidates[0].amplifiers[0].tap_ohm"),
        ("stands.0.carries", ["bass"], "stands[0].carries"),
        ("candidates.0.loudspeaker.impedance", None, "candidates[0].loudspeaker.impedance"),
        (f"{SECTIONS}.0.radiator", {"kind": "dipole"}, "candidates[0].loudspeaker.radiates_into"),
    ],
)
def test_that_a_contradiction_is_found_where_it_stands(path, value, where):
    data = changed(in_room(), path, value)
    # A baffle in a wall wants its stand at the wall, which these plans do not all keep to.
    data = changed(data, "candidates.0.loudspeaker.baffle_width_m", 0.4)
    assert where in paths(data)


def test_that_a_gap_between_sections_is_found():
    assert paths(two_ways(low_hz=1000.0)) == ["candidates[0].loudspeaker.sections[1].low_hz"]


def test_that_sections_may_overlap():
    assert paths(two_ways(low_hz=600.0)) == []


def test_that_slopes_at_a_shared_edge_must_be_equal():
    found = paths(two_ways(slopes_db_per_octave=[12.0, 24.0]))
    assert found == ["candidates[0].loudspeaker.sections[1].slopes_db_per_octave[0]"]


def test_that_one_amplifier_a_section_needs_the_impedance_of_each():
    data = two_ways()
    amplifiers = [amplifier(name="Low", drives="bass"), amplifier(name="High", drives="treble")]
    found = paths(changed(data, "candidates.0.amplifiers", amplifiers))
    assert found == [f"candidates[0].loudspeaker.sections[{index}].impedance" for index in (0, 1)]


def test_that_a_section_without_amplifier_is_found():
    data = two_ways()
    for index in (0, 1):
        data = changed(data, f"{SECTIONS}.{index}.impedance", {"nominal_ohm": 8.0})
    found = paths(changed(data, "candidates.0.amplifiers", [amplifier(drives="bass")]))
    assert found == ["candidates[0].amplifiers"]


def test_that_a_loudspeaker_flush_in_a_wall_must_stand_at_one():
    data = changed(in_room(), "stands.0.x_m", 0.06)
    assert paths(data) == ["stands[0]"]
    assert paths(changed(in_room(), "stands.0.x_m", 0.05)) == []


def test_that_two_seats_of_one_name_are_found():
    data = in_room()
    data["seats"].append({**data["seats"][0], "y_m": 3.0})
    assert paths(data) == ["seats"]


def test_that_a_plan_with_findings_loads_and_saves_but_does_not_compute():
    data = changed(in_room(), "seats.0.x_m", 8.5)
    plan = plan_of(changed(data, "stands.0.aim", {"seat": "Sofa"}))
    assert loads(dumps(plan)) == plan
    with pytest.raises(PlanError) as caught:
        compute(plan)
    assert [finding.path for finding in caught.value.findings] == ["seats[0].x_m", "stands[0].aim.seat"]


def test_that_every_candidate_is_checked():
    second = candidate(name="Other", amplifiers=[amplifier(drives="nothing")])
    data = open_air(candidates=[candidate(), second])
    assert all(path.startswith("candidates[1]") for path in paths(data))
    assert paths(data)
