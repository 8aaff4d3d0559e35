"""The user's own entries: changed by pure functions, kept in one file, and never lost to damage."""

import json
import os
import shutil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.plan import PlanError
from planner.plan.amplifier import Cable
from planner.plan.catalogue import (
    Catalogue,
    added,
    built_in_entries,
    change_own,
    dumps_json,
    entry_of,
    load_catalogue,
    loads_json,
    merged,
    own_path,
    removed,
    renamed,
    replaced,
    save_own,
    title_of,
    updated,
)
from planner.plan.catalogue.entry import MOST_ID, with_id
from planner.plan.presets import preset

ENTRIES = built_in_entries()
PLAN = preset("living_room").plan()


def cable(name="Old cable", ohm=0.1):
    return entry_of(Cable(loop_ohm=ohm), name)


@pytest.fixture
def catalogue():
    return Catalogue(ENTRIES)


@pytest.fixture
def file(tmp_path):
    return tmp_path / "data" / "catalogue.json"


def ids(catalogue):
    return [entry.id for entry in catalogue.own]


def names(catalogue):
    return [title_of(entry) for entry in catalogue.own]


def test_that_adding_leaves_the_old_catalogue_as_it_was(catalogue):
    after = added(catalogue, cable())
    assert catalogue.own == () and ids(after) == ["own-old-cable"]
    assert after.entries == (*ENTRIES, *after.own) and after.built_in is catalogue.built_in
    with pytest.raises(AttributeError):
        after.own = ()


def test_that_ids_and_names_that_are_taken_get_a_number(catalogue):
    for _ in range(3):
        catalogue = added(catalogue, cable())
    assert ids(catalogue) == ["own-old-cable", "own-old-cable-2", "own-old-cable-3"]
    assert names(catalogue) == ["Old cable", "Old cable 2", "Old cable 3"]
    assert names(added(catalogue, cable("Copper, AWG 14, 3 m")))[-1] == "Copper, AWG 14, 3 m 2"


def test_that_an_id_that_is_as_long_as_can_be_still_gets_a_number(catalogue):
    long = with_id(cable(), "own-" + "x" * (MOST_ID - 4))
    twice = added(added(catalogue, long), long)
    assert twice.own[0].id == long.id and twice.own[1].id == f"own-{'x' * (MOST_ID - 6)}-2"


def test_that_a_copy_of_an_entry_of_ours_becomes_one_of_the_users(catalogue):
    after = added(catalogue, ENTRIES[0])
    assert ids(after) == [f"own-{ENTRIES[0].id}"] and after.is_own(after.own[0].id)
    assert title_of(after.own[0]) == f"{title_of(ENTRIES[0])} 2"
    assert not after.is_own(ENTRIES[0].id)


def test_that_a_name_without_latin_letters_still_gives_an_id(catalogue):
    after = added(added(catalogue, cable("縄")), cable("麻"))
    assert ids(after) == ["own-cable", "own-cable-2"] and names(after) == ["縄", "麻"]


def test_that_an_own_entry_is_renamed_and_replaced_under_the_id_it_has(catalogue):
    two = added(added(catalogue, cable()), cable("Another"))
    after = renamed(two, "own-old-cable", "Another")
    assert ids(after) == ids(two) and names(after) == ["Another 2", "Another"]
    after = replaced(after, "own-old-cable", cable("Third", 0.3))
    assert ids(after) == ids(two) and after.entry("own-old-cable").data.loop_ohm == 0.3


def test_that_an_entry_may_be_renamed_to_the_name_it_has(catalogue):
    one = added(catalogue, cable())
    assert renamed(one, "own-old-cable", "Old cable") == one


@pytest.mark.parametrize("part", ["loudspeaker", "amplifier"])
def test_that_what_carries_its_name_in_its_data_is_renamed_there(catalogue, part):
    system = PLAN.candidates[0]
    thing = system.loudspeaker if part == "loudspeaker" else system.amplifiers[0]
    one = added(catalogue, entry_of(thing))
    after = renamed(one, one.own[0].id, "New name").own[0]
    assert title_of(after) == after.data.name == "New name" and after.id == one.own[0].id


def test_that_an_empty_name_is_refused(catalogue):
    one = added(catalogue, cable())
    with pytest.raises(PlanError, match="name"):
        renamed(one, "own-old-cable", "")


def test_that_removing_takes_one_and_leaves_the_order(catalogue):
    for name in "abc":
        catalogue = added(catalogue, cable(name))
    assert names(removed(catalogue, "own-b")) == ["a", "c"]


@pytest.mark.parametrize("change", [removed, lambda one, key: renamed(one, key, "x"),
                                    lambda one, key: replaced(one, key, cable())])  # fmt: skip
@pytest.mark.parametrize("key", [ENTRIES[0].id, "own-nothing"])
def test_that_only_own_entries_can_be_changed(catalogue, change, key):
    with pytest.raises(KeyError, match="no own entry"):
        change(catalogue, key)


def test_that_entries_are_found_by_id_and_by_kind(catalogue):
    assert catalogue.entry(ENTRIES[3].id) is ENTRIES[3]
    with pytest.raises(KeyError):
        catalogue.entry("nothing")
    after = added(catalogue, cable())
    assert after.of_kind("cable")[-1].id == "own-old-cable" and len(after.of_kind("cable")) == 9


def test_that_what_was_exported_is_not_imported_a_second_time(catalogue):
    full = added(catalogue, cable())
    assert merged(full, loads_json(dumps_json(full.entries))) == full
    assert updated(full, loads_json(dumps_json(full.entries))) == full


def test_that_a_changed_entry_is_merged_beside_or_takes_the_place_of_the_old(catalogue):
    full = added(catalogue, cable())
    thicker = cable(ohm=0.05)
    assert ids(merged(full, [thicker])) == ["own-old-cable", "own-old-cable-2"]
    after = updated(full, [thicker])
    assert ids(after) == ["own-old-cable"] and after.own[0].data.loop_ohm == 0.05


def test_that_a_changed_entry_of_ours_is_updated_as_the_users_own(catalogue):
    ours = ENTRIES[0]
    heavier = ours.model_copy(update={"note": "Weighed again."})
    once = updated(catalogue, [heavier])
    assert catalogue.built_in == once.built_in and ids(once) == [f"own-{ours.id}"]
    again = updated(once, [ours.model_copy(update={"note": "And again."})])
    assert [one.note for one in again.own] == ["And again."]


def test_that_the_users_file_lies_in_the_users_data_folder_and_reading_makes_none(monkeypatch, tmp_path):
    monkeypatch.setattr("platformdirs.user_data_path", lambda program: tmp_path / program)
    assert own_path() == tmp_path / "fewwatts" / "catalogue.json"
    assert load_catalogue() == Catalogue(ENTRIES)
    assert list(tmp_path.iterdir()) == []
    assert change_own(lambda one: added(one, cable())) == load_catalogue()
    assert own_path().is_file()


def test_that_own_entries_come_back_and_the_folder_is_made(catalogue, file):
    full = added(added(catalogue, cable()), entry_of(PLAN.candidates[0].loudspeaker))
    assert save_own(full, file) == full
    assert load_catalogue(file) == full
    assert [one.name for one in file.parent.iterdir()] == ["catalogue.json"]


def test_that_two_windows_do_not_undo_each_others_work(file):
    change_own(lambda one: added(one, cable("First")), file)
    stale = load_catalogue(file)
    change_own(lambda one: added(one, cable("Second")), file)
    assert names(stale) == ["First"]
    assert names(load_catalogue(file)) == ["First", "Second"]


def test_that_a_change_that_fails_leaves_the_file_as_it_was(file):
    change_own(lambda one: added(one, cable()), file)
    before = file.read_bytes()
    with pytest.raises(KeyError):
        change_own(lambda one: removed(one, "own-nothing"), file)
    assert file.read_bytes() == before


def damaged(file, *changes):
    """The user's file with three cables, then changed as plain data."""
    save_own(added(added(added(Catalogue(ENTRIES), cable("a")), cable("b")), cable("c")), file)
    data = json.loads(file.read_text(encoding="utf-8"))
    for change in changes:
        change(data["entries"])
    file.write_text(json.dumps(data), encoding="utf-8")
    return load_catalogue(file)


def test_that_a_bad_entry_is_a_finding_and_the_others_still_load(file):
    def spoil(entries):
        entries[1]["data"]["loop_ohm"] = -1

    found = damaged(file, spoil)
    assert names(found) == ["a", "c"]
    (finding,) = found.findings
    assert (finding.file, finding.path, finding.value) == (str(file), "entries[1].data.loop_ohm", "-1")
    assert finding.expected == "a number from 0 to 1000 ohm"


def test_that_a_bad_entry_is_kept_word_for_word_when_the_file_is_written_again(file):
    def spoil(entries):
        entries[1] = {"kind": "ribbon", "of": ["a newer", {"program": 1.5}]}

    spoiled = damaged(file, spoil)
    assert "one of loudspeaker" in spoiled.findings[0].expected
    after = change_own(lambda one: removed(one, "own-a"), file)
    assert names(after) == ["c"]
    listed = json.loads(file.read_text(encoding="utf-8"))["entries"]
    assert [one["kind"] for one in listed] == ["cable", "ribbon"]
    assert listed[1] == {"kind": "ribbon", "of": ["a newer", {"program": 1.5}]}
    assert load_catalogue(file).unread == after.unread


def test_that_an_id_given_twice_or_taken_by_one_of_ours_is_made_free_and_said(file):
    def clash(entries):
        entries[1]["id"] = "own-a"
        entries[2]["id"] = ENTRIES[0].id

    found = damaged(file, clash)
    assert ids(found) == ["own-a", "own-a-2", f"{ENTRIES[0].id}-2"]
    assert [one.value for one in found.findings] == [
        'the id "own-a" again',
        f'the id "{ENTRIES[0].id}" again',
    ]
    assert load_catalogue(file).findings and save_own(found, file)
    assert load_catalogue(file).findings == ()


@pytest.mark.parametrize(
    "content",
    [
        pytest.param(b"", id="empty"),
        pytest.param(b'{"format": "fewwatts-catalogue", "version": 1, "entries": [', id="cut short"),
        pytest.param(b"\x00\xff\xfe", id="not text"),
        pytest.param(b'{"format": "fewwatts-plan"}', id="something else"),
        pytest.param(b'{"format": "fewwatts-catalogue", "version": 9, "entries": []}', id="newer"),
        pytest.param(b"[" * 100_000, id="nested without end"),
    ],
)
def test_that_a_file_that_cannot_be_read_is_a_finding_and_is_set_aside_before_it_is_written(file, content):
    file.parent.mkdir()
    file.write_bytes(content)
    found = load_catalogue(file)
    assert found.entries == ENTRIES and found.findings and found.findings[0].file == str(file)
    assert file.read_bytes() == content
    after = save_own(added(found, cable()), file)
    assert names(load_catalogue(file)) == ["Old cable"]
    assert (file.parent / "catalogue.unread.json").read_bytes() == content
    save_own(after, file)
    assert len(list(file.parent.iterdir())) == 2


def test_that_a_second_unreadable_file_does_not_replace_the_first_one_set_aside(file):
    file.parent.mkdir()
    for content in (b"one", b"two"):
        file.write_bytes(content)
        change_own(lambda one: added(one, cable()), file)
    kept = [one.read_bytes() for one in sorted(file.parent.glob("*unread*"))]
    assert sorted(kept) == [b"one", b"two"]


def test_that_deep_nesting_in_one_entry_stops_nothing(file):
    file.parent.mkdir()
    for depth in (100, 400, 900, 985, 990, 995, 20_000):
        head = '{"format": "fewwatts-catalogue", "version": 1, "entries": ['
        file.write_text(f"{head}{'[' * depth}{']' * depth}]}}", encoding="utf-8")
        found = load_catalogue(file)
        assert found.entries == ENTRIES and found.findings


@given(cut=st.integers(0, 1200), junk=st.binary(max_size=8))
def test_that_no_damage_stops_the_program_or_touches_the_file(tmp_path_factory, cut, junk):
    file = tmp_path_factory.mktemp("own") / "catalogue.json"
    whole = dumps_json([cable("a"), cable("b")]).encode()
    content = whole[:cut] + junk + whole[cut + len(junk) :]
    file.write_bytes(content)
    found = load_catalogue(file)
    assert found.built_in == ENTRIES
    assert len(found.own) == 2 or found.findings
    assert file.read_bytes() == content
    shutil.rmtree(file.parent)


@pytest.mark.skipif(os.name != "posix", reason="elsewhere the system says it in other words")
def test_that_a_folder_in_the_place_of_the_file_is_a_finding(file):
    file.mkdir(parents=True)
    found = load_catalogue(file)
    assert found.entries == ENTRIES and "directory" in found.findings[0].expected
    with pytest.raises(OSError):
        save_own(found, file)


def test_that_a_huge_file_is_refused_unread(file):
    file.parent.mkdir()
    with file.open("wb") as stream:
        stream.truncate(20_000_001)
    assert "at most 20000000 bytes" in str(load_catalogue(file).findings[0])
