"""What every tap would give: against Ohm's law by hand, and against the plan computed with that tap."""

import numpy as np
import pytest

from planner.headroom.compute import compute
from planner.headroom.taps import tap_choices
from planner.plan import PlanError, put
from tests.headroom.test_against_plain_loops import baffled, several_amplifiers, stereo
from tests.plans import amplifier, changed, in_room, open_air, plan_of

TAP = ("candidates", 0, "amplifiers", 0, "tap_ohm")


def rating(ohm, watts=2.5, distortion_pct=3.0, output_ohm=0.0):
    return {"ohm": ohm, "watts": watts, "distortion_pct": distortion_pct, "output_ohm": output_ohm}


def triode(data, *ratings, **changes):
    return changed(data, "candidates.0.amplifiers", [amplifier(taps=list(ratings), **changes)])


THREE = (rating(4.0), rating(8.0), rating(16.0))
SOFT = (rating(4.0, output_ohm=1.5), rating(8.0, output_ohm=3.0), rating(16.0, output_ohm=6.0))


# By hand: 2.5 W into 4 ohm are 4.472 V of peak, 3.01 dB less than the 6.325 V of 2.5 W into 8 ohm; 2.5 W into
# 16 ohm are 0.559 A of peak, 3.01 dB less than the 0.791 A that 8 ohm take then.
def test_that_half_and_twice_the_load_cost_three_decibels_each_one_by_volts_the_other_by_amps():
    (found,) = tap_choices(plan_of(triode(open_air(), *THREE)))
    four, eight, sixteen = found.taps
    assert [tap.ohm for tap in found.taps] == [4.0, 8.0, 16.0]
    assert four.headroom_db - eight.headroom_db == pytest.approx([-3.0103], abs=1e-3)
    assert sixteen.headroom_db - eight.headroom_db == pytest.approx([-3.0103], abs=1e-3)
    assert (four.first_limit.quantity, sixteen.first_limit.quantity) == ("voltage", "current")
    assert found.best is found.in_use is eight


def test_that_every_tap_gives_what_the_plan_gives_once_that_tap_is_stated():
    plan = plan_of(triode(baffled(stereo(in_room())), *SOFT))
    (found,) = tap_choices(plan)
    for tap in found.taps:
        outcome = compute(put(plan, TAP, tap.ohm))
        assert tap.headroom_db == pytest.approx([seat.headroom_db for seat in outcome.seats], abs=1e-9)
        amplifiers = [seat.amplifiers[0] for seat in outcome.seats]
        assert tap.amplifier_db == pytest.approx([one.headroom_db for one in amplifiers], abs=1e-9)
        assert tap.rating.watts == amplifiers[0].watts_rated
        assert tap.first_limit == outcome.seats[0].first_limit
    now = compute(plan)
    assert found.in_use.headroom_db == pytest.approx([seat.headroom_db for seat in now.seats], abs=1e-9)


@pytest.mark.parametrize(
    ("nominal_ohm", "by_rule_ohm"),
    # The rule of the plan: nearest on a log scale, the lower if two are as near.
    [
        pytest.param(8.0, 8.0, id="its own"),
        pytest.param(6.0, 8.0, id="6 is nearer to 8 than to 4 on a log scale"),
        pytest.param(5.5, 4.0, id="5.5 is below their middle, 5.66"),
        pytest.param(32**0.5, 4.0, id="in the middle the lower"),
    ],
)
def test_that_the_rule_is_told_beside_what_the_plan_states(nominal_ohm, by_rule_ohm):
    data = changed(triode(open_air(), *THREE), "candidates.0.loudspeaker.impedance.nominal_ohm", nominal_ohm)
    (free,) = tap_choices(plan_of(data))
    assert (free.nominal_ohm, free.stated_ohm) == (nominal_ohm, None)
    assert free.in_use_ohm == free.by_rule_ohm == by_rule_ohm
    (stated,) = tap_choices(plan_of(changed(data, "candidates.0.amplifiers.0.tap_ohm", 16.0)))
    assert (stated.stated_ohm, stated.in_use_ohm, stated.by_rule_ohm) == (16.0, 16.0, by_rule_ohm)
    assert stated.in_use.ohm == 16.0


def test_that_of_several_ratings_of_a_tap_the_highest_within_the_distortion_counts():
    ratings = (rating(8.0, 1.2, 1.0), rating(8.0, 2.5, 3.0), rating(8.0, 3.4, 10.0), rating(16.0, 3.0, 5.0))
    eight, sixteen = tap_choices(plan_of(triode(open_air(), *ratings)))[0].taps
    assert (eight.rating.watts, eight.counts) == (2.5, True)
    assert (sixteen.rating.watts, sixteen.counts) == (3.0, False)


def test_that_a_tap_of_one_amplifier_leaves_the_others_as_they_are():
    data = several_amplifiers(open_air())
    data = changed(data, "candidates.0.amplifiers.0.taps", list(SOFT))
    plan = plan_of(data)
    found = tap_choices(plan)
    assert [one.name for one in found] == [one.name for one in plan.candidates[0].amplifiers]
    for tap in found[0].taps:
        seat = compute(put(plan, TAP, tap.ohm)).seats[0]
        assert tap.headroom_db[0] == pytest.approx(seat.headroom_db, abs=1e-9)
        assert tap.amplifier_db[0] == pytest.approx(seat.amplifiers[0].headroom_db, abs=1e-9)
        assert tap.headroom_db[0] <= tap.amplifier_db[0] + 1e-9


def test_that_a_candidate_that_stands_elsewhere_is_reckoned_there():
    near = [{"name": "Near", "x_m": 2.0, "y_m": 2.0, "z_m": 1.0, "aim": {"seat": "Chair"}}]
    there = changed(triode(open_air(), *THREE), "candidates.0.stands", near)
    here = triode(open_air(), *THREE)
    plan = plan_of(there)
    (found,) = tap_choices(plan)
    assert found.in_use.headroom_db == pytest.approx([compute(plan).seats[0].headroom_db])
    # Open air, 2 m for 4 m: 6.02 dB, and a little less air.
    (far,) = tap_choices(plan_of(here))
    gained = found.in_use.headroom_db - far.in_use.headroom_db
    assert gained == pytest.approx([6.02], abs=0.15)


def test_that_no_tap_has_more_headroom_than_the_best_at_the_seat_with_least():
    (found,) = tap_choices(plan_of(triode(baffled(stereo(in_room())), *SOFT)))
    least = [float(np.min(tap.headroom_db)) for tap in found.taps]
    assert float(np.min(found.best.headroom_db)) == max(least)


def test_that_of_taps_that_give_the_same_the_lowest_is_the_best():
    # A direct output clips by its largest ratings, whichever load is counted as its tap.
    (found,) = tap_choices(plan_of(triode(open_air(), *THREE, output="direct")))
    assert np.ptp([tap.headroom_db[0] for tap in found.taps]) == pytest.approx(0.0, abs=1e-9)
    assert found.best.ohm == 4.0


def test_that_what_the_amplifier_leaves_is_told_apart_from_what_the_loudspeaker_does():
    data = changed(
        triode(open_air(), *THREE), "candidates.0.loudspeaker.sections.0.limits", {"long_term_w": 0.01}
    )
    plan = plan_of(data)
    eight = tap_choices(plan)[0].in_use
    seat = compute(plan).seats[0]
    assert eight.first_limit.quantity == "peak power"
    assert eight.headroom_db[0] == pytest.approx(seat.headroom_db)
    assert eight.amplifier_db[0] == pytest.approx(seat.amplifiers[0].headroom_db)
    assert eight.amplifier_db[0] > eight.headroom_db[0] + 1.0


def test_that_a_plan_that_contradicts_itself_is_refused():
    data = changed(triode(open_air(), *THREE), "candidates.0.amplifiers.0.tap_ohm", 2.0)
    with pytest.raises(PlanError, match="tap_ohm"):
        tap_choices(plan_of(data))
