"""From threshold to limit at one seat: the lines stand where the answer's own figures put them."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.noise import seat_noises
from planner.headroom.quiet_to_loud import quiet_to_loud
from planner.headroom.system import stage_of, system_of
from tests.plans import amplifier, changed, in_room, open_air, plan_of, section

SECTIONS = "candidates.0.loudspeaker.sections"
RESIDUAL = {"hum_mv": 0.3, "mains_hz": 50.0, "hiss_mv": 0.05, "weighting": "Z"}


def lines(data):
    plan = plan_of(data)
    system = system_of(plan, plan.candidates[0], stage_of(plan))
    return quiet_to_loud(system, plan, 0, seat_noises(system, plan)[0]), compute(plan).seats[0]


def total(levels_db):
    return 10.0 * np.log10(np.sum(10.0 ** (levels_db / 10.0)))


def full():
    data = changed(
        changed(in_room(), "room.noise", {"nc": 20.0}), "candidates.0.amplifiers.0.residual", RESIDUAL
    )
    return changed(data, SECTIONS, [section(limits={"long_term_w": 30.0})])


def test_that_every_line_adds_up_to_the_figure_of_the_answer():
    found, seat = lines(full())
    assert total(found.average_db) == pytest.approx(seat.average_db, abs=1e-9)
    assert total(found.peak_db) == pytest.approx(seat.peak_target_db, abs=1e-9)
    # The amplifier gives out before the loudspeaker here, so the peaks at its clip are the loudest of all.
    assert total(found.clip_db) == pytest.approx(seat.loudest_peak_db, abs=1e-9)
    assert found.peak_db == pytest.approx(seat.bands.level_db + 12.0, abs=1e-9)


def test_that_the_loudspeaker_stands_above_the_amplifier_by_what_its_power_allows():
    # By hand: peaks of 4 x 30 W in 8 ohm are 960 V2, those of 2.5 sine watts 40 V2: 10 log10(24) = 13.80 dB.
    found, _ = lines(full())
    assert found.loudspeaker_db - found.clip_db == pytest.approx(13.802, abs=0.01)


def test_that_clip_lies_below_the_target_just_where_the_answer_is_short():
    for watts, short in ((0.05, True), (50.0, False)):
        taps = [{"ohm": 8.0, "watts": watts, "distortion_pct": 3.0, "output_ohm": 0.0}]
        found, seat = lines(changed(full(), "candidates.0.amplifiers", [amplifier(taps=taps)]))
        assert (seat.verdict == "short") == short
        assert np.all((found.clip_db < found.peak_db) == short)


def test_that_quiet_lines_are_those_of_the_noise():
    data = full()
    plan = plan_of(data)
    system = system_of(plan, plan.candidates[0], stage_of(plan))
    noise = seat_noises(system, plan)[0]
    found = quiet_to_loud(system, plan, 0, noise)
    assert found.room_db is noise.quiet.room.third_db
    assert found.noise_db is noise.amplifier.level_db
    # ISO 226:2003 at 1 kHz: 2.4 dB.
    assert found.threshold_db[17] == pytest.approx(2.4, abs=0.01)


def test_that_what_is_not_known_is_left_out():
    found, _ = lines(open_air())
    assert found.room_db is None and found.noise_db is None and found.loudspeaker_db is None
    assert np.all(np.isfinite(found.average_db)) and np.all(np.isfinite(found.clip_db))
