"""The command line as a person or a script meets it: in a process of its own."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from planner import __version__
from planner.cli import main
from planner.headroom import compute_all
from planner.plan import load
from planner.resources import demo_rooms
from tests.plans import changed, in_room, open_air

CHECKOUT = Path(__file__).parent.parent
DEMO_ROOMS = sorted(str(file) for file in Path(str(demo_rooms())).glob("*.json"))


def run(*words, stdin="", **environment):
    """The finished process of ``python -m planner`` with these words."""
    return subprocess.run(
        [sys.executable, "-m", "planner", *map(str, words)],
        input=stdin,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        cwd=CHECKOUT,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
    )


@pytest.fixture
def plan_file(tmp_path):
    def write(data, name="plan.json"):
        file = tmp_path / name
        file.write_text(json.dumps(data), encoding="utf-8")
        return str(file)

    return write


def quiet(data):
    return changed(data, "target", {"peak_db": 80.0})


def test_that_a_plan_that_clears_exits_with_nought(plan_file):
    assert run("check", plan_file(quiet(open_air()))).returncode == 0


def test_that_a_short_candidate_exits_with_one(plan_file):
    done = run("check", plan_file(open_air()))
    assert (done.returncode, done.stderr) == (1, "")
    assert "short" in done.stdout


def test_that_an_unusable_plan_exits_with_two_and_wins_over_a_short_one(plan_file):
    bad = plan_file(changed(open_air(), "seats.0.x_m", "3,2"), "bad.json")
    done = run("check", plan_file(open_air()), bad)
    assert done.returncode == 2
    assert f"{bad}: seats[0].x_m: expected a number from -100 to 100 m" in done.stderr
    assert "short" in done.stdout


def test_that_findings_between_parts_are_all_printed_and_exit_with_two(plan_file):
    data = changed(changed(in_room(), "seats.0.x_m", 9.0), "stands.0.aim", {"seat": "Sofa"})
    done = run("check", plan_file(data))
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 2
    assert "seats[0].x_m" in done.stderr
    assert "stands[0].aim.seat" in done.stderr


def test_that_json_holds_only_the_plans_that_could_be_read(plan_file):
    good, bad = plan_file(open_air()), plan_file({}, "bad.json")
    done = run("check", good, bad, "--json")
    assert done.returncode == 2
    assert [plan["file"] for plan in json.loads(done.stdout)["plans"]] == [good]


def test_that_the_document_has_the_agreed_keys():
    done = run("check", *DEMO_ROOMS, "--json")
    document = json.loads(done.stdout)
    assert document["fewwatts"] == __version__
    assert len(document["plans"]) == len(DEMO_ROOMS)
    seat = document["plans"][0]["candidates"][0]["seats"][0]
    assert {
        *("name", "distance_m", "peak_target_db", "average_db", "average_dba", "watts_needed"),
        *("watts_rated", "headroom_db", "loudest_peak_db", "first_limit", "bands", "amplifiers"),
    } <= set(seat)
    assert set(seat["first_limit"]) == {"part", "quantity", "band_hz"}
    assert {"centre_hz", "level_db", "headroom_db"} <= set(seat["bands"])
    assert {len(values) for values in seat["bands"].values()} == {31}


def test_that_the_document_says_what_compute_says():
    done = run("check", DEMO_ROOMS[0], "--json")
    told = json.loads(done.stdout)["plans"][0]["candidates"]
    for candidate, outcome in zip(told, compute_all(load(DEMO_ROOMS[0])), strict=True):
        assert (candidate["name"], candidate["verdict"]) == (outcome.candidate, outcome.verdict)
        assert [seat["headroom_db"] for seat in candidate["seats"]] == [
            seat.headroom_db for seat in outcome.seats
        ]


def test_that_the_table_gives_every_candidate_at_every_seat_and_the_ladder():
    plan = load(DEMO_ROOMS[0])
    shown = run("check", DEMO_ROOMS[0]).stdout
    for candidate in plan.candidates:
        assert shown.count(f"  {candidate.name}  ") >= len(plan.seats)
        assert f"Level ladder of {candidate.name}" in shown
    assert "1 W at 1 m" in shown


def test_that_a_hyphen_reads_the_plan_from_standard_input():
    done = run("check", "-", stdin=json.dumps(quiet(open_air())))
    assert (done.returncode, done.stderr) == (0, "")
    assert "(-)" in done.stdout


def test_that_output_goes_to_a_file_whole(plan_file, tmp_path):
    there = tmp_path / "answer.json"
    there.write_text("old")
    done = run("check", plan_file(open_air()), "--json", "-o", there)
    assert (done.returncode, done.stdout) == (1, "")
    assert json.loads(there.read_text(encoding="utf-8"))["plans"]


def test_that_an_output_that_cannot_be_written_exits_with_two_in_one_line(plan_file, tmp_path):
    done = run("check", plan_file(open_air()), "-o", tmp_path / "no" / "folder.json")
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "cannot be written" in done.stderr


def test_that_no_terminal_gets_no_colour():
    assert "\x1b" not in run("check", DEMO_ROOMS[0]).stdout


def test_that_a_terminal_gets_colour_unless_it_asks_for_none(monkeypatch, capsys, plan_file):
    file = plan_file(open_air())
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    main(["check", file])
    assert "\x1b[31mshort\x1b[0m" in capsys.readouterr().out
    monkeypatch.setenv("NO_COLOR", "1")
    main(["check", file])
    assert "\x1b" not in capsys.readouterr().out


def test_that_version_and_help_answer_without_a_plan():
    assert run("--version").stdout.strip() == f"fewwatts {__version__}"
    shown = run("--help").stdout
    assert "examples:" in shown
    assert "exit status:" in shown


def test_that_a_wrong_word_exits_with_two():
    assert run("check").returncode == 2
    assert run("check", "--colour").returncode == 2


def test_that_the_schema_accepts_the_demo_rooms_and_refuses_what_the_program_refuses():
    schema = json.loads(run("schema").stdout)
    Draft202012Validator.check_schema(schema)
    judge = Draft202012Validator(schema)
    for file in DEMO_ROOMS:
        assert judge.is_valid(json.loads(Path(file).read_text(encoding="utf-8")))
    for path, value in (("seats.0.x_m", "3,2"), ("room", 7), ("version", 2), ("colour", "blue")):
        assert not judge.is_valid(changed(in_room(), path, value)), path
    assert judge.is_valid(in_room())


def test_that_without_a_screen_the_answer_of_the_demo_room_is_printed():
    environment = {"DISPLAY": "", "WAYLAND_DISPLAY": "", "QT_QPA_PLATFORM": ""}
    done = run(**environment)
    if sys.platform != "linux":
        pytest.skip("only Linux runs without a screen")
    assert done.returncode == 0
    assert done.stdout.startswith("No screen here")
    assert "Level ladder" in done.stdout


def test_that_without_a_screen_a_plan_is_answered_as_check_answers_it(plan_file):
    if sys.platform != "linux":
        pytest.skip("only Linux runs without a screen")
    file = plan_file(quiet(open_air()))
    done = run(file, DISPLAY="", WAYLAND_DISPLAY="", QT_QPA_PLATFORM="")
    assert done.returncode == 0
    assert run("check", file).stdout in done.stdout


def test_that_checking_loads_neither_qt_nor_pint_nor_scipy():
    code = (
        "import sys; from planner.cli import main; main(['check', sys.argv[1]]); "
        "print(sorted({'PySide6', 'pyqtgraph', 'pint', 'scipy'} & set(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, DEMO_ROOMS[0]], capture_output=True, encoding="utf-8", cwd=CHECKOUT
    )
    assert done.stderr.strip() == "[]"


def test_that_a_reader_that_goes_away_gets_no_traceback():
    reader = f'"{sys.executable}" -m planner check {" ".join(DEMO_ROOMS)} | head -n 1'
    done = subprocess.run(["bash", "-c", reader], capture_output=True, encoding="utf-8", cwd=CHECKOUT)
    assert "Traceback" not in done.stderr
    assert "BrokenPipe" not in done.stderr
