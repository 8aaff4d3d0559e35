"""The search for the best place, against every place tried by the full answer."""

import math

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.placing import Area, best_seat, best_stands
from planner.plan import PlanError, cross_checks
from tests.plans import changed, in_room, open_air, plan_of, section

BOX = "candidates.0.loudspeaker"
JUDGED = slice(2, 11)
"""The thirds from 31.5 to 200 Hz among 20 Hz to 20 kHz."""


def small_room(**changes):
    """4.6 x 3.4 x 2.4 m with a T60 of 0.9 s (modes rule to 310 Hz), a pair, two seats, a flat loudspeaker."""
    data = changed(in_room(), "room.measured_t60_s", {"500": 0.9})
    for key, side in (("length_m", 4.6), ("width_m", 3.4), ("height_m", 2.4)):
        data = changed(data, f"room.{key}", side)
    seats = [
        {"name": "Chair", "x_m": 3.1, "y_m": 1.7, "z_m": 1.1},
        {"name": "Bench", "x_m": 4.1, "y_m": 0.8, "z_m": 0.9},
    ]
    stands = [
        {"name": "L", "x_m": 0.7, "y_m": 0.8, "z_m": 0.9, "aim": {"seat": "Chair"}},
        {
            "name": "R",
            "x_m": 0.7,
            "y_m": 2.6,
            "z_m": 0.9,
            "aim": {"azimuth_deg": -20.0, "elevation_deg": 0.0},
        },
    ]
    data = changed(changed(data, "seats", seats), "stands", stands)
    data = changed(data, f"{BOX}.baffle_width_m", 0.3)
    for path, value in changes.items():
        data = changed(data, path.replace("__", "."), value)
    return data


def judged(seat):
    """Strength and unevenness of the bass at one EMF, from the full answer [dB]."""
    level_db = (seat.bands.level_db + seat.headroom_db)[JUDGED]
    return 10 * np.log10(np.mean(10 ** (level_db / 10))), np.std(level_db)


def score(seat):
    strength, unevenness = judged(seat)
    return strength - unevenness


def test_that_no_seat_of_the_area_is_better_than_the_one_found():
    data, area = small_room(), Area(2.0, 0.5, 4.2, 2.9)
    found = best_seat(plan_of(data), 0, 0, area)
    best = score(compute(found.plan).seats[0])
    tried = [
        {"name": f"{x}/{y}", "x_m": x, "y_m": y, "z_m": 1.1}
        for x in np.linspace(2.0, 4.2, 23).tolist()
        for y in np.linspace(0.5, 2.9, 25).tolist()
    ]
    # The first stand keeps aiming at "Chair", but its source is the same all around.
    every = compute(plan_of(changed(data, "seats", [*data["seats"], *tried]))).seats[2:]
    assert best >= max(map(score, every)) - 1e-6
    assert found.score_gain_db > 1.0


@pytest.mark.parametrize("kind", ["omni", "dipole"])
def test_that_what_is_said_of_the_gain_is_what_the_full_answer_says(kind):
    data = small_room()
    if kind == "dipole":
        data = changed(
            changed(data, f"{BOX}.radiates_into", "free_field"), f"{BOX}.sections.0.radiator.kind", kind
        )
    plan = plan_of(data)
    found = best_seat(plan, 0, 0, Area(2.0, 0.5, 4.2, 2.9))
    before, after = compute(plan).seats[0], compute(found.plan).seats[0]
    (level, uneven), (level_after, uneven_after) = judged(before), judged(after)
    assert found.level_gain_db == pytest.approx(level_after - level, abs=1e-6)
    assert found.evenness_gain_db == pytest.approx(uneven - uneven_after, abs=1e-6)
    assert found.score_gain_db == pytest.approx(found.level_gain_db + found.evenness_gain_db)
    assert found.watts_before == pytest.approx(before.watts_needed)
    assert found.watts_after == pytest.approx(after.watts_needed)
    # 1 V in each third: levels differ from those at full power by one and the same number.
    full_db = (after.bands.level_db + after.headroom_db)[JUDGED]
    assert np.ptp(found.after_db - full_db) == pytest.approx(0.0, abs=1e-6)
    assert found.band_hz == pytest.approx(10 ** np.arange(1.5, 2.35, 0.1))


def test_that_only_the_named_seat_moves_and_what_aims_at_it_follows():
    plan = plan_of(small_room())
    found = best_seat(plan, 0, 0, Area(2.0, 0.5, 4.2, 2.9)).plan
    assert found.seats[0].position_m != plan.seats[0].position_m
    assert found.seats[0].z_m == plan.seats[0].z_m
    assert found.stands == plan.stands and found.seats[1] == plan.seats[1]
    assert cross_checks(found) == ()


def test_that_a_pair_stays_a_mirror_image_and_no_such_place_is_better():
    data, area = small_room(), Area(0.3, 0.3, 1.5, 1.5)
    found = best_stands(plan_of(data), 0, (0, 1), area, mirrored=True)
    left, right = found.plan.stands
    assert (left.x_m, left.y_m) == pytest.approx((right.x_m, 3.4 - right.y_m))
    assert (left.z_m, left.aim, right.aim) == (0.9, *(stand.aim for stand in plan_of(data).stands))
    assert 0.3 <= left.x_m <= 1.5 and 0.3 <= left.y_m <= 1.5
    best = score(compute(found.plan).seats[0])
    for x in (0.3, 0.7, 1.1, 1.5):
        for y in (0.3, 0.7, 1.1, 1.5):
            there = changed(changed(data, "stands.0.x_m", x), "stands.0.y_m", y)
            there = changed(changed(there, "stands.1.x_m", x), "stands.1.y_m", 3.4 - y)
            assert best >= score(compute(plan_of(there)).seats[0]) - 1e-6


def test_that_two_stands_moved_one_by_one_end_no_worse_and_apart():
    plan = plan_of(small_room())
    found = best_stands(plan, 0, (0, 1), Area(0.0, 0.0, 1.6, 3.4), seat=1)
    assert found.score_gain_db > 0.0
    assert found.score_gain_db == pytest.approx(
        score(compute(found.plan).seats[1]) - score(compute(plan).seats[1]), abs=1e-6
    )
    places = [stand.position_m for stand in found.plan.stands]
    assert math.dist(*places) >= 0.3
    assert cross_checks(found.plan) == ()


def test_that_the_present_place_is_kept_where_the_area_has_no_better_one():
    plan = plan_of(small_room())
    best = best_seat(plan, 0, 0, Area(2.0, 0.5, 4.2, 2.9)).plan
    again = best_seat(best, 0, 0, Area(2.0, 0.5, 2.2, 0.7))
    assert again.plan == best
    assert (again.score_gain_db, again.level_gain_db, again.evenness_gain_db) == (0.0, 0.0, 0.0)
    assert again.watts_after == again.watts_before


def test_that_loudspeakers_set_in_a_wall_stay_in_a_wall():
    data = small_room(**{"candidates__0__loudspeaker__baffle_width_m": "wall"})
    for index in (0, 1):
        data = changed(data, f"stands.{index}.x_m", 0.0)
    found = best_stands(plan_of(data), 0, (0, 1), Area(0.0, 0.2, 1.0, 1.5), mirrored=True)
    assert all(stand.x_m <= 0.05 for stand in found.plan.stands)
    assert cross_checks(found.plan) == ()


def test_that_bands_the_loudspeaker_does_not_play_are_not_judged():
    # From 60 Hz at 24 dB an octave, the step in its free-field level: at 50 Hz 20 log(1 + (60/50.1)^4) =
    # 9.70 dB down, at 39.8 Hz 15.8 dB, which is more than the 10 dB that count.
    data = small_room(**{"candidates__0__loudspeaker__sections": [section(low_hz=60.0)]})
    data = changed(data, f"{BOX}.radiates_into", "free_field")
    found = best_seat(plan_of(data), 0, 0, Area(2.0, 0.5, 4.2, 2.9))
    assert found.band_hz[0] == pytest.approx(10**1.7)


def test_that_progress_rises_to_the_end_and_can_be_stopped():
    plan, told = plan_of(small_room()), []
    assert best_seat(plan, 0, 0, Area(2.0, 0.5, 4.2, 2.9), progress=lambda share: not told.append(share))
    assert told == sorted(told) and told[0] == 0.0 and told[-1] == pytest.approx(1.0)
    assert len(told) > 4
    stopped = []

    def stop(share):
        stopped.append(share)
        return len(stopped) < 3

    assert best_stands(plan, 0, (0, 1), Area(0.0, 0.0, 1.6, 3.4), progress=stop) is None
    assert len(stopped) == 3


def test_that_a_search_that_cannot_be_is_refused_in_words():
    plan = plan_of(small_room())
    with pytest.raises(PlanError, match="open air"):
        best_seat(plan_of(open_air()), 0, 0, Area(1.0, 1.0, 2.0, 2.0))
    with pytest.raises(PlanError, match="free place"):
        best_seat(plan, 0, 0, Area(5.0, 1.0, 6.0, 2.0))
    with pytest.raises(PlanError, match="free place"):
        best_seat(plan_of(changed(small_room(), "seats.0.z_m", 0.9)), 0, 0, Area(0.65, 0.75, 0.75, 0.85))
    with pytest.raises(ValueError, match="two stands"):
        best_stands(plan, 0, (0,), Area(0.0, 0.0, 1.0, 1.0), mirrored=True)
