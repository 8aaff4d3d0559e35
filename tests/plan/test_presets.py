"""Typical rooms: each is a complete plan with an answer."""

import pytest

from planner.headroom import compute, compute_all
from planner.plan import cross_checks, dumps, loads
from planner.plan.presets import NOTE, OPEN_AIR, PRESETS, preset

BAND_500_HZ = 14
ROOMS = [one for one in PRESETS if one.size_m is not None]


def key(one):
    return one.key


@pytest.mark.parametrize("one", PRESETS, ids=key)
def test_that_a_typical_room_has_no_findings_and_an_answer_at_once(one):
    plan = one.plan()
    assert cross_checks(plan) == ()
    (outcome,) = compute_all(plan)
    assert len(plan.candidates) == len(plan.candidates[0].amplifiers) == 1
    assert outcome.seats[0].watts_rated == 8.0
    assert outcome.seats[0].peak_target_db == one.peak_db


@pytest.mark.parametrize("one", PRESETS, ids=key)
def test_that_a_typical_room_says_in_the_plan_itself_that_it_is_typical(one):
    plan = one.plan()
    assert plan.notes == NOTE
    assert "Typical" in plan.notes and "invented" in plan.notes
    assert plan.title == one.name


@pytest.mark.parametrize("one", PRESETS, ids=key)
def test_that_a_typical_room_survives_saving_and_opening(one):
    assert loads(dumps(one.plan())) == one.plan()


# Furnished rooms 0.4–0.7 s, hard or tall ones from 1 s up: common practice, no published source.
@pytest.mark.parametrize(
    ("name", "least_s", "most_s"),
    [
        ("small_living_room", 0.4, 0.7),
        ("living_room", 0.4, 0.7),
        ("carpeted_study", 0.3, 0.5),
        ("bedroom", 0.4, 0.7),
        ("large_hard_room", 1.0, 2.5),
        ("tall_loft", 1.0, 2.5),
    ],
)
def test_that_a_typical_room_reverberates_as_such_rooms_do(name, least_s, most_s):
    room = compute(preset(name).plan()).room
    assert least_s < room.t60_s[BAND_500_HZ] < most_s


def test_that_every_room_but_the_open_air_has_walls():
    assert [one.key for one in PRESETS if one.plan().room is None] == [OPEN_AIR]
    assert {one.plan().room.dimensions_m for one in ROOMS} == {one.size_m for one in ROOMS}


def test_that_keys_and_names_tell_the_rooms_apart():
    assert len({one.key for one in PRESETS}) == len({one.name for one in PRESETS}) == len(PRESETS)


def test_that_an_unknown_room_is_refused():
    with pytest.raises(KeyError):
        preset("a castle")
