"""The grid of all pairs against one full computation a pair."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.pairings import pairings
from planner.plan import PlanError
from planner.plan.model import Candidate
from tests.headroom.test_against_plain_loops import (
    CASES,
    baffled,
    several_amplifiers,
    stereo,
    three_ways,
    triode,
)
from tests.plans import changed, in_room, plan_of

NAMES = ("a pair", "free field", "horn", "dipole", "three ways", "a triode on a dip")


def loudspeakers():
    found = [plan_of(CASES[name]).candidates[0].loudspeaker for name in NAMES]
    limited = changed(stereo(baffled(three_ways(in_room()))), "candidates.0.loudspeaker.sections.0.limits",
                      {"long_term_w": 1.0, "xmax_mm": 0.5})  # fmt: skip
    return [*found, plan_of(limited).candidates[0].loudspeaker]


def amplifiers():
    direct = {"ohm": 8.0, "watts": 60.0, "distortion_pct": 0.1, "output_ohm": 0.05}
    second = {"ohm": 4.0, "watts": 100.0, "distortion_pct": 0.1, "output_ohm": 0.05}
    data = changed(in_room(), "candidates.0.amplifiers.0.taps", [direct, second])
    data = changed(data, "candidates.0.amplifiers.0.output", "direct")
    return [
        plan_of(in_room()).candidates[0].amplifiers[0],
        plan_of(triode(in_room())).candidates[0].amplifiers[0],
        plan_of(data).candidates[0].amplifiers[0],
    ]


@pytest.mark.parametrize("target", [{"peak_db": 100.0}, {"average_db": 85.0}])
def test_that_the_grid_says_what_a_full_computation_of_each_pair_says(target):
    plan = plan_of(changed(stereo(baffled(in_room())), "target", target))
    cable = plan_of(triode(in_room())).candidates[0].cable
    grid = pairings(plan, loudspeakers(), amplifiers(), cable)
    assert grid.findings == {}
    for row, loudspeaker in enumerate(loudspeakers()):
        for column, amplifier in enumerate(amplifiers()):
            pair = Candidate(name="pair", loudspeaker=loudspeaker, amplifiers=(amplifier,), cable=cable)
            seats = compute(plan.model_copy(update={"candidates": (pair,)})).seats
            assert grid.headroom_db[row, column] == pytest.approx([one.headroom_db for one in seats])
            assert grid.watts_needed[row, column] == pytest.approx([one.watts_needed for one in seats])
            assert grid.watts_rated[row, column] == seats[0].watts_rated


def test_that_a_loudspeaker_that_one_amplifier_cannot_drive_is_left_empty_and_said():
    plan = plan_of(stereo(baffled(in_room())))
    apart = plan_of(several_amplifiers(in_room())).candidates[0].loudspeaker
    apart = apart.model_copy(update={"impedance": None, "baffle_width_m": 0.4})
    grid = pairings(plan, [apart, loudspeakers()[0]], amplifiers())
    assert np.all(np.isnan(grid.headroom_db[0]))
    assert np.all(np.isfinite(grid.worst_db[1]))
    assert "impedance" in grid.findings[0][0].path


def test_that_a_room_with_findings_of_its_own_is_refused():
    plan = plan_of(changed(in_room(), "seats.0.x_m", 9.0))
    with pytest.raises(PlanError, match="seats"):
        pairings(plan, loudspeakers(), amplifiers())


def test_that_an_amplifier_whose_tap_is_none_of_its_own_is_left_empty_and_said():
    plan = plan_of(stereo(baffled(in_room())))
    odd = amplifiers()[0].model_copy(update={"tap_ohm": 600.0})
    grid = pairings(plan, loudspeakers()[:2], [odd, *amplifiers()])
    assert np.all(np.isnan(grid.headroom_db[:, 0]))
    assert np.all(np.isfinite(grid.headroom_db[:, 1:]))
    assert grid.findings == {}
    assert "tap_ohm" in grid.amplifier_findings[0][0].path


def test_that_a_loudspeaker_that_is_not_heard_is_left_empty_and_said():
    plan = plan_of(stereo(baffled(in_room())))
    silent = loudspeakers()[0]
    section = silent.sections[0].model_copy(
        update={"low_hz": 1e300, "high_hz": 1e301, "slopes_db_per_octave": (96.0, 96.0)}
    )
    silent = silent.model_copy(update={"sections": (section,)})
    grid = pairings(plan, [loudspeakers()[0], silent], amplifiers())
    assert list(grid.findings) == [1]
    assert "20 Hz" in grid.findings[1][0].expected
    assert np.all(np.isfinite(grid.headroom_db[0]))


def test_that_no_pair_at_all_is_no_fault():
    plan = plan_of(stereo(baffled(in_room())))
    apart = plan_of(several_amplifiers(in_room())).candidates[0].loudspeaker
    apart = apart.model_copy(update={"impedance": None, "baffle_width_m": 0.4})
    grid = pairings(plan, [apart], amplifiers())
    assert grid.headroom_db.shape == (1, 3, len(plan.seats))
    assert np.all(np.isnan(grid.watts_needed))
    assert list(grid.findings) == [0]
