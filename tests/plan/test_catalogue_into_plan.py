"""From the catalogue into a plan and back: full copies, and amplifiers that still fit the loudspeaker."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.scene import scene_of
from planner.headroom.sources import sources_of
from planner.headroom.wired import wired_impedance
from planner.plan import cross_checks, dumps, load, loads
from planner.plan.amplifier import Cable
from planner.plan.catalogue import (
    built_in_entries,
    entry_of,
    from_candidate,
    put_into,
    put_material,
    title_of,
)
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.reshape import amplifier_per_section
from planner.resources import demo_rooms
from tests.plans import candidate, section

BY_ID = {entry.id: entry for entry in built_in_entries()}
FOR_TWO = "horn-over-two-bass-drivers-for-two-amplifiers-99-db"
ROOM = load(str(demo_rooms() / "map_room.json"))


def drives(plan):
    return [one.drives for one in plan.candidates[0].amplifiers]


def names(plan):
    return [one.name for one in plan.candidates[0].amplifiers]


def trims(plan):
    return [one.trim_db for one in plan.candidates[0].amplifiers]


@pytest.fixture
def by_section():
    """The candidate with an amplifier for each of its three sections."""
    return amplifier_per_section(ROOM, 0)


def for_a_watt(level_db):
    return {"level_db": level_db, "drive": "1 W"}


def bass_and_horn(bass_db=95.0, horn_db=101.0, **changes):
    """Two sections with an impedance each; "Bass" and "Horn", as the catalogue's loudspeaker for two has."""
    eight = {"nominal_ohm": 8.0}
    data = {
        **candidate()["loudspeaker"],
        "baffle_width_m": 0.5,
        "impedance": None,
        "sections": [
            section(
                "Bass", high_hz=500.0, impedance=eight, sensitivity={"level_db": bass_db, "drive": "1 W"}
            ),
            section("Horn", low_hz=500.0, impedance=eight, sensitivity={"level_db": horn_db, "drive": "1 W"}),
        ],
        **changes,
    }
    return entry_of(Loudspeaker.model_validate(data))


@pytest.mark.parametrize(
    ("key", "part"),
    [
        ("three-straight-horns-104-db", lambda one: one.loudspeaker),
        ("single-triode-8-w", lambda one: one.amplifiers[0]),
        ("copper-awg-12-5-m", lambda one: one.cable),
        ("disc-or-network-player-2-v", lambda one: one.source),
        ("moving-coil-0-5-mv-through-60-db", lambda one: one.source),
    ],
)
def test_that_a_plan_holds_a_full_copy_that_only_remembers_its_entry(key, part):
    plan = put_into(ROOM, 0, BY_ID[key])
    copy = part(plan.candidates[0])
    assert copy.catalogue_id == key
    assert copy.model_copy(update={"catalogue_id": None}) == BY_ID[key].data
    assert plan.candidates[1:] == ROOM.candidates[1:] and plan.room is ROOM.room
    # The plan stays readable without the catalogue, and what it remembers changes no outcome.
    assert loads(dumps(plan)) == plan
    forgetful = loads(dumps(plan).replace(f'"catalogue_id": "{key}"', '"catalogue_id": "gone"'))
    assert compute(forgetful, 0).worst.headroom_db == compute(plan, 0).worst.headroom_db


def test_that_one_amplifier_for_all_stays_with_a_loudspeaker_that_has_a_whole_impedance():
    plan = put_into(ROOM, 0, BY_ID["large-open-baffle-with-a-horn-97-db"])
    assert plan.candidates[0].amplifiers == ROOM.candidates[0].amplifiers
    assert cross_checks(plan) == ()


def test_that_amplifiers_of_sections_with_other_names_become_one_for_all(by_section):
    plan = put_into(by_section, 0, BY_ID["horn-over-vented-bass-box-97-db"])
    assert drives(plan) == ["all"] and names(plan) == names(ROOM) and trims(plan) == [0.0]
    assert cross_checks(plan) == ()


def test_that_a_loudspeaker_without_a_whole_impedance_gets_a_copy_of_the_amplifier_for_each_section():
    plan = put_into(ROOM, 0, BY_ID[FOR_TWO])
    name = ROOM.candidates[0].amplifiers[0].name
    assert drives(plan) == ["Bass", "Horn"]
    assert names(plan) == [f"{name}, Bass", f"{name}, Horn"]
    assert cross_checks(plan) == ()


def test_that_amplifiers_of_other_sections_become_those_of_the_new_ones(by_section):
    plan = put_into(by_section, 0, BY_ID[FOR_TWO])
    assert drives(plan) == ["Bass", "Horn"] and names(plan)[0].endswith(", Bass")
    assert cross_checks(plan) == ()


def test_that_amplifiers_stay_where_sections_have_the_same_names_and_are_trimmed_anew():
    two = put_into(put_into(ROOM, 0, BY_ID[FOR_TWO]), 0, BY_ID["push-pull-triodes-20-w"], amplifier=0)
    plan = put_into(two, 0, bass_and_horn(95.0, 101.0))
    assert names(plan) == names(two) and drives(plan) == ["Bass", "Horn"]
    # By hand: both 8 ohm, so 6 dB for a watt are 6 dB for a volt.
    assert trims(plan) == [0.0, -6.0]
    assert cross_checks(plan) == ()


def test_that_trims_bring_all_sections_to_the_level_of_the_least_for_a_volt():
    plan = put_into(ROOM, 0, BY_ID[FOR_TWO])
    loudspeaker = plan.candidates[0].loudspeaker
    loads_of = [wired_impedance(one) for one in loudspeaker.sections]
    for_a_volt = 20.0 * np.log10(sources_of(loudspeaker, loads_of, scene_of(plan)).flat[:, 0])
    together = for_a_volt + np.array(trims(plan))
    assert together[0] == pytest.approx(together[1], abs=0.01) == pytest.approx(for_a_volt.min(), abs=0.01)
    # By hand: two of 93 dB in parallel make 99.02 for 2.83 V; 108 dB for 4 V are 104.99 for 2.83 V.
    assert trims(plan) == [0.0, pytest.approx(-5.97, abs=0.01)]


def test_that_a_difference_beyond_the_range_of_a_trim_stops_at_its_end():
    plan = put_into(ROOM, 0, bass_and_horn(45.0, 125.0))
    assert trims(plan) == [0.0, -60.0]


def test_that_a_loudspeaker_without_any_impedance_keeps_one_amplifier_and_the_finding_says_what_is_missing(
    by_section,
):
    bare = bass_and_horn(sections=[section("Full")])
    for plan in (put_into(ROOM, 0, bare), put_into(by_section, 0, bare)):
        assert drives(plan) == ["all"]
        assert [one.path for one in cross_checks(plan)] == ["candidates[0].loudspeaker.impedance"]


def test_that_stands_stay_as_they_are():
    assert put_into(ROOM, 0, BY_ID[FOR_TWO]).stands == ROOM.stands


def test_that_an_amplifier_takes_the_place_of_the_one_for_all():
    plan = put_into(ROOM, 0, BY_ID["single-triode-5-w"])
    assert names(plan) == ["Single triode, 5 W"] and drives(plan) == ["all"]


def test_that_of_several_amplifiers_the_named_one_is_replaced_and_keeps_what_it_drives_and_its_trim():
    two = put_into(ROOM, 0, BY_ID[FOR_TWO])
    plan = put_into(two, 0, BY_ID["push-pull-triodes-20-w"], amplifier=1)
    assert names(plan) == [names(two)[0], "Push-pull triodes, 20 W"]
    assert drives(plan) == ["Bass", "Horn"] and trims(plan) == trims(two)
    # The same again beside it has a name of its own.
    both = put_into(plan, 0, BY_ID["push-pull-triodes-20-w"], amplifier=0)
    assert len(set(names(both))) == 2 and cross_checks(both) == ()


def test_that_without_a_named_one_each_of_several_amplifiers_is_replaced():
    two = put_into(ROOM, 0, BY_ID[FOR_TWO])
    plan = put_into(two, 0, BY_ID["single-triode-2-5-w"])
    assert names(plan) == ["Single triode, 2.5 W, Bass", "Single triode, 2.5 W, Horn"]
    assert drives(plan) == drives(two) and trims(plan) == trims(two) and cross_checks(plan) == ()


def test_that_a_material_goes_onto_a_surface_and_not_into_a_candidate():
    material = BY_ID["thick-wool-rug-on-felt"]
    plan = put_material(ROOM, ("room", "surfaces", "floor", 0), material)
    assert plan.room.surfaces.floor[0].material == material.data
    assert plan.room.surfaces.floor[0].area_m2 == ROOM.room.surfaces.floor[0].area_m2
    with pytest.raises(TypeError, match="surface"):
        put_into(ROOM, 0, material)


def test_that_a_part_of_a_candidate_becomes_an_entry_and_comes_back_as_it_was():
    system = ROOM.candidates[0]
    for kind in ("loudspeaker", "amplifier", "cable"):
        entry = from_candidate(system, kind)
        after = put_into(ROOM, 0, entry).candidates[0]
        part = after.amplifiers[0] if kind == "amplifier" else getattr(after, kind)
        was = system.amplifiers[0] if kind == "amplifier" else getattr(system, kind)
        assert part.model_copy(update={"catalogue_id": None}) == was
        assert part.catalogue_id == entry.id and entry.id.startswith("own-")


def test_that_an_entry_made_of_a_copy_is_no_longer_the_entry_it_came_from():
    plan = put_into(ROOM, 0, BY_ID["three-straight-horns-104-db"])
    entry = from_candidate(plan.candidates[0], "loudspeaker", "Ours")
    assert entry.data.catalogue_id is None and title_of(entry) == entry.data.name == "Ours"


def test_that_an_amplifier_of_one_section_is_taken_as_one_that_drives_all():
    plan = put_into(ROOM, 0, BY_ID[FOR_TWO])
    entry = from_candidate(plan.candidates[0], "amplifier", amplifier=1)
    assert (entry.data.drives, entry.data.trim_db) == ("all", 0.0)
    assert title_of(entry).endswith(", Horn")


def test_that_a_cable_and_a_source_are_named_by_the_candidate_unless_a_name_is_given():
    plan = put_into(ROOM, 0, BY_ID["radio-tuner-1-v"])
    system = plan.candidates[0]
    assert title_of(from_candidate(system, "source")) == system.name
    assert title_of(from_candidate(system, "source", "The old tuner")) == "The old tuner"
    assert from_candidate(system, "cable", note="Bought with the house.").note == "Bought with the house."


@pytest.mark.parametrize("kind", ["source", "material", "name", "nothing"])
def test_that_what_a_candidate_has_not_cannot_be_taken_from_it(kind):
    with pytest.raises(LookupError, match=f"has no {kind}"):
        from_candidate(ROOM.candidates[0].model_copy(update={"source": None}), kind)


def test_that_an_entry_without_a_name_is_refused():
    with pytest.raises(ValueError, match="name"):
        entry_of(Cable(loop_ohm=0.1))
