"""Plan files on disk: whole or refused, with every fault named."""

import json
import os
import stat
import sys

import pytest

from planner.plan import PlanError, load, loads, save
from planner.plan import storage as storage_module
from tests.plans import changed, in_room, open_air, plan_of


def refusal(data):
    with pytest.raises(PlanError) as caught:
        loads(data if isinstance(data, (str, bytes)) else json.dumps(data))
    return caught.value


def test_that_a_saved_plan_loads_as_the_same_plan(tmp_path):
    plan = plan_of(in_room())
    save(plan, tmp_path / "plan.json")
    assert load(tmp_path / "plan.json") == plan


def test_that_open_air_is_written_as_null_and_not_left_out(tmp_path):
    save(plan_of(open_air()), tmp_path / "plan.json")
    assert json.loads((tmp_path / "plan.json").read_text())["room"] is None


def test_that_floats_survive_the_file_to_the_last_bit(tmp_path):
    third = 1.0 / 3.0 + 3.0
    save(plan_of(changed(open_air(), "seats.0.x_m", third)), tmp_path / "plan.json")
    assert load(tmp_path / "plan.json").seats[0].x_m == third


def test_that_every_fault_of_a_file_is_named_at_once():
    data = changed(in_room(), "seats.0.x_m", "3,2")
    data = changed(data, "programme.crest_db", 99)
    data = changed(data, "room.colour", "blue")
    data = changed(data, "candidates.0.amplifiers.0.taps.0.watts", True)
    data = changed(data, "candidates.0.loudspeaker.sections.0.radiator.kind", "organ pipe")
    paths = [finding.path for finding in refusal(data).findings]
    assert sorted(paths) == [
        "candidates[0].amplifiers[0].taps[0].watts",
        "candidates[0].loudspeaker.sections[0].radiator.kind",
        "programme.crest_db",
        "room.colour",
        "seats[0].x_m",
    ]


def test_that_a_fault_names_file_path_value_and_expectation(tmp_path):
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(changed(open_air(), "seats.0.x_m", "3,2")))
    with pytest.raises(PlanError) as caught:
        load(file)
    (finding,) = caught.value.findings
    assert (finding.file, finding.path) == (str(file), "seats[0].x_m")
    assert "3,2" in finding.value
    assert finding.expected == "a number from -100 to 100 m"


def test_that_a_misspelt_key_is_answered_with_the_right_one():
    data = changed(open_air(), "candidates.0.amplifiers.0.trim", 3)
    (finding,) = refusal(data).findings
    assert finding.path == "candidates[0].amplifiers[0].trim"
    assert "trim_db" in finding.expected


def test_that_a_missing_key_is_named_with_what_belongs_there():
    data = in_room()
    del data["room"]["width_m"]
    (finding,) = refusal(data).findings
    assert finding.path == "room.width_m"
    assert "0.5 to 100 m" in finding.expected


@pytest.mark.parametrize(
    ("content", "word"),
    [
        pytest.param("", "JSON", id="empty file"),
        pytest.param(json.dumps(open_air())[:-40], "JSON", id="cut short"),
        pytest.param(b"\xff\xfe{}", "UTF-8", id="not UTF-8"),
        pytest.param("[" * 200_000, "nested", id="deeply nested"),
        pytest.param('{"a": ' * 100_000, "nested", id="deeply nested objects"),
        pytest.param('{"format": "fewwatts-plan", "version": 1, "title": NaN}', "finite", id="NaN"),
        pytest.param('{"format": "fewwatts-plan", "version": 1, "title": Infinity}', "finite", id="Infinity"),
        pytest.param('{"format": "fewwatts-plan", "format": "fewwatts-plan"}', "once", id="duplicate key"),
        pytest.param("9" * 6000, "usual size", id="a number of 6000 digits"),
        pytest.param("[]", "object", id="a list"),
        pytest.param("{}", "fewwatts-plan", id="another kind of JSON"),
        pytest.param('{"format": "fewwatts-plan", "version": 7}', "newer", id="a newer version"),
        pytest.param('{"format": "fewwatts-plan", "version": "1"}', "whole number", id="version as text"),
        pytest.param('{"format": "fewwatts-plan", "version": 0}', "whole number", id="version nought"),
    ],
)
def test_that_unusable_content_gets_one_clear_message(content, word):
    findings = refusal(content).findings
    assert len(findings) == 1
    assert word in str(findings[0])


def test_that_a_number_too_large_for_a_float_is_out_of_range():
    text = json.dumps(open_air()).replace('"crest_db": 12.0', '"crest_db": 1e999')
    (finding,) = refusal(text).findings
    assert finding.path == "programme.crest_db"


def test_that_a_file_over_twenty_megabytes_is_refused_unread(tmp_path, monkeypatch):
    file = tmp_path / "huge.json"
    with file.open("wb") as stream:
        stream.truncate(storage_module.MOST_BYTES + 1)
    monkeypatch.setattr(storage_module, "loads", lambda content: pytest.fail("was read"))
    with pytest.raises(PlanError, match="at most 20000000 bytes"):
        load(file)


def test_that_a_missing_file_is_a_finding_and_no_traceback(tmp_path):
    with pytest.raises(PlanError, match="No such file"):
        load(tmp_path / "nowhere.json")


def test_that_a_failed_write_leaves_the_old_file_whole(tmp_path, monkeypatch):
    file = tmp_path / "plan.json"
    save(plan_of(open_air()), file)
    before = file.read_bytes()

    def no_space(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", no_space)
    with pytest.raises(OSError, match="No space"):
        save(plan_of(in_room()), file)
    assert file.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["plan.json"]


@pytest.mark.skipif(sys.platform == "win32", reason="mode bits and links of POSIX")
def test_that_saving_keeps_mode_bits_and_follows_a_link(tmp_path):
    real, link = tmp_path / "real.json", tmp_path / "link.json"
    save(plan_of(open_air()), real)
    real.chmod(0o640)
    link.symlink_to(real)
    save(plan_of(in_room()), link)
    assert link.is_symlink()
    assert stat.S_IMODE(real.stat().st_mode) == 0o640
    assert load(real).title == "Room"


@pytest.mark.parametrize(
    "cable",
    [
        {},
        {"gauge_awg": 14},
        {"length_m": 3},
        {"loop_ohm": 0.1, "length_m": 3},
        {"gauge_awg": 14, "area_mm2": 2.5, "length_m": 3},
    ],
)
def test_that_a_cable_is_said_in_one_way_only(cable):
    (finding,) = refusal(changed(open_air(), "candidates.0.cable", cable)).findings
    assert finding.path == "candidates[0].cable"


@pytest.mark.parametrize("target", [{}, {"peak_db": 100, "average_db": 85}])
def test_that_a_target_holds_exactly_one_level(target):
    (finding,) = refusal(changed(open_air(), "target", target)).findings
    assert finding.path == "target"


@pytest.mark.parametrize("face", ["floor", "ceiling", "front", "back", "left", "right"])
def test_that_all_six_faces_are_required(face):
    data = in_room()
    del data["room"]["surfaces"][face]
    (finding,) = refusal(data).findings
    assert finding.path == f"room.surfaces.{face}"


def test_that_an_unknown_material_is_answered_with_near_ones():
    data = changed(in_room(), "room.surfaces.floor", [{"material": "carpet"}])
    (finding,) = refusal(data).findings
    assert finding.path == "room.surfaces.floor[0].material"
    assert "carpet_" in finding.expected


def test_that_an_edge_below_its_low_one_is_refused_with_both_figures():
    data = changed(open_air(), "candidates.0.loudspeaker.sections.0.low_hz", 2e9)
    (finding,) = refusal(data).findings
    assert "2e+09 and 1e+09" in finding.expected
