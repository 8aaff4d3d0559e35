"""The demo rooms: plan files that open, answer, and tell the story they are there for."""

import json
from pathlib import Path

import pytest

from planner.headroom import compute_all
from planner.plan import cross_checks, dumps, load
from planner.resources import demo_rooms

FILES = sorted(Path(str(demo_rooms())).glob("*.json"))
PLANS = {file.stem: load(file) for file in FILES}
OUTCOMES = {name: compute_all(plan) for name, plan in PLANS.items()}
CANDIDATES = [one for plan in PLANS.values() for one in plan.candidates]
AMPLIFIERS = [amplifier for one in CANDIDATES for amplifier in one.amplifiers]

every_room = pytest.mark.parametrize("name", PLANS)


def test_that_the_library_has_its_four_rooms():
    assert {"map_room", "reading_room", "tea_room", "vaulted_hall"} <= set(PLANS)


@every_room
def test_that_a_demo_room_has_nothing_to_mend(name):
    assert cross_checks(PLANS[name]) == ()


@every_room
def test_that_a_demo_file_is_written_as_the_program_writes_it(name):
    file = next(one for one in FILES if one.stem == name)
    text = file.read_text(encoding="utf-8")
    keys = list(json.loads(text))
    assert text == json.dumps(json.loads(text), ensure_ascii=False, indent=2) + "\n"
    assert keys == [key for key in json.loads(dumps(PLANS[name])) if key in keys]


@every_room
def test_that_a_demo_room_says_on_its_face_that_it_is_invented(name):
    plan = PLANS[name]
    assert "invented" in plan.title
    assert plan.notes is not None and plan.notes.startswith("Invented:")
    assert all((one.loudspeaker.note or "").startswith("Invented.") for one in plan.candidates)


def test_that_the_hall_says_what_the_shoebox_leaves_out():
    assert "shoebox" in (PLANS["vaulted_hall"].notes or "")


@every_room
def test_that_every_candidate_is_answered_at_every_seat(name):
    plan, outcomes = PLANS[name], OUTCOMES[name]
    seats = [seat.name for seat in plan.seats]
    assert len(seats) >= 2
    assert [one.candidate for one in outcomes] == [one.name for one in plan.candidates]
    assert all([seat.name for seat in one.seats] == seats for one in outcomes)


@every_room
def test_that_peaks_asked_for_are_those_of_music_evenings(name):
    # 98 to 106 dB at the seat and crest factors of 12 to 18 dB: common practice, no published source.
    peaks = [seat.peak_target_db for outcome in OUTCOMES[name] for seat in outcome.seats]
    assert min(peaks) >= 98.0 and max(peaks) <= 106.0
    assert 12.0 <= PLANS[name].programme.crest_db <= 18.0


def test_that_the_map_room_tells_the_story_on_one_amplifier_of_two_and_a_half_watts():
    plan, outcomes = PLANS["map_room"], OUTCOMES["map_room"]
    amplifiers = [one.amplifiers for one in plan.candidates]
    assert amplifiers[0] == amplifiers[1] == amplifiers[2]
    assert all(seat.watts_rated == 2.5 for outcome in outcomes[:3] for seat in outcome.seats)
    assert [outcome.verdict for outcome in outcomes] == ["clears", "tight", "short", "clears"]


def test_that_the_86_db_loudspeaker_is_hopelessly_short_at_every_seat_and_clears_on_many_watts():
    plan, outcomes = PLANS["map_room"], OUTCOMES["map_room"]
    few, many = plan.candidates[2], plan.candidates[3]
    assert few.loudspeaker == many.loudspeaker
    assert {one.sensitivity.level_db for one in few.loudspeaker.sections} == {86.0}
    # More than eight times the watts there are: 9 dB.
    assert all(seat.watts_needed > 8.0 * seat.watts_rated for seat in outcomes[2].seats)
    assert all(seat.verdict == "clears" for seat in outcomes[3].seats)


def test_that_a_system_with_an_amplifier_for_each_section_is_shown():
    index = next(i for i, one in enumerate(PLANS["reading_room"].candidates) if len(one.amplifiers) == 2)
    bass, horn = OUTCOMES["reading_room"][index].worst.amplifiers
    assert bass.watts_rated > horn.watts_rated == 2.5
    assert 0.0 < horn.watts_needed < horn.watts_rated


def test_that_a_dip_in_the_impedance_runs_an_amplifier_out_of_current_at_the_dip():
    plan = PLANS["reading_room"]
    index = next(i for i, one in enumerate(plan.candidates) if "dip" in one.loudspeaker.name)
    table = plan.candidates[index].loudspeaker.impedance.table
    lowest_ohm, at_hz = min((ohm, hz) for hz, ohm, _ in table)
    limit = OUTCOMES["reading_room"][index].worst.first_limit
    assert lowest_ohm < 0.5 * plan.candidates[index].loudspeaker.impedance.nominal_ohm
    assert limit.quantity == "current"
    assert at_hz / 2.0 < limit.band_hz < at_hz * 2.0


def test_that_the_rooms_between_them_show_every_way_to_describe_a_loudspeaker():
    loudspeakers = [one.loudspeaker for one in CANDIDATES]
    impedances = [part.impedance for one in loudspeakers for part in (one, *one.sections) if part.impedance]
    assert {one.radiates_into for one in loudspeakers} == {"half_space", "free_field"}
    assert "wall" in {one.baffle_width_m for one in loudspeakers}
    assert any(one.table for one in impedances) and any(one.driver for one in impedances)
    kinds = {section.radiator.kind for one in loudspeakers for section in one.sections}
    assert {"horn", "diaphragm", "dipole"} <= kinds


def test_that_triodes_have_the_output_impedance_of_triodes():
    # 2 to 4 ohm behind an 8 ohm tap: a triode without feedback; common practice, no published source.
    triodes = [one for one in AMPLIFIERS if "triode" in one.name.lower()]
    single = [one for one in triodes if "push-pull" not in one.name.lower()]
    assert single
    behind_eight = [tap.output_ohm for one in single for tap in one.taps if tap.ohm == 8.0]
    assert behind_eight and all(2.0 <= ohm <= 4.0 for ohm in behind_eight)
