"""What is clipped of the recording: against the samples themselves, counted one by one."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.clipped import clip_level_db, clipped_at
from planner.plan.edit import put
from planner.plan.recorded import with_recording
from tests.plans import amplifier, changed, in_room, plan_of
from tests.programme.kept import beats, beats_kept, beats_read


def at_target(**changes):
    data = changed(in_room(), "candidates.0.amplifiers", [amplifier(**changes)])
    return with_recording(plan_of(data), beats_kept())


def found(plan, offset_db=0.0):
    return clipped_at(plan, 0, compute(plan).seats[0], offset_db)


def test_that_a_typical_programme_has_nothing_to_count():
    plan = plan_of(in_room())
    assert clipped_at(plan, 0, compute(plan).seats[0]) is None


def test_that_the_highest_sample_just_passes_where_the_headroom_is_used_up():
    # By definition: the recording's peak is the peak that is asked for.
    plan = at_target()
    headroom_db = compute(plan).seats[0].amplifiers[0].headroom_db
    assert found(plan, headroom_db - 0.01).share == 0.0
    beyond = found(plan, headroom_db + 0.01)
    assert beyond.moments_per_minute > 0.0 and beyond.starts_s


@pytest.mark.parametrize("over_db", [4.0, 6.0, 9.0])
def test_that_share_and_moments_are_those_of_the_samples(over_db):
    # Independent count over the samples: 1 % of the share, 0.05 dB of the level (the accuracy promised).
    plan = at_target()
    headroom_db = compute(plan).seats[0].amplifiers[0].headroom_db
    cut = found(plan, headroom_db + over_db)
    samples = np.abs(beats().astype(np.float32))
    limit = samples.max() * 10.0 ** (-over_db / 20.0)
    assert cut.clip_dbfs == pytest.approx(20.0 * np.log10(limit), abs=0.05)
    assert cut.share == pytest.approx(np.mean(samples > limit), rel=0.01)
    tenths = (samples.max(axis=0).reshape(-1, 4800) > limit).any(axis=1)
    assert cut.moments_per_minute == pytest.approx(600.0 * tenths.mean(), rel=0.02)
    assert cut.starts_s == pytest.approx(np.flatnonzero(tenths) / 10.0)


def test_that_an_edited_crest_factor_moves_the_clip_level_with_it():
    plan = at_target()
    edited = put(plan, ("programme", "crest_db"), plan.programme.crest_db - 3.0)
    assert clip_level_db(plan, 1.0) == pytest.approx(beats_read().crest_db + 1.0)
    assert clip_level_db(edited, 1.0) == pytest.approx(beats_read().crest_db - 2.0)


def test_that_a_soft_amplifier_changes_more_samples_than_it_cuts_and_a_hard_one_no_more():
    soft, hard, unsaid = (
        found(at_target(**changes), 6.0) for changes in ({"overload": "soft"}, {"overload": "hard"}, {})
    )
    assert (soft.overload, hard.overload, unsaid.overload) == ("soft", "hard", None)
    assert soft.share == hard.share and soft.bent_share > soft.share
    assert hard.bent_share == hard.share and unsaid.bent_share == unsaid.share


def test_that_a_level_offset_is_a_level_and_nothing_else():
    plan = at_target()
    assert found(plan, 5.0).clip_level_db == pytest.approx(found(plan).clip_level_db - 5.0)
