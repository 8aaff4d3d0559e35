"""A recording in the engine: its bands, its coherence, the crest factors of what the sections get."""

import numpy as np
import pytest

from planner.headroom import compute
from planner.headroom.floor_map import floor_map
from planner.headroom.pairings import pairings
from planner.headroom.programme import SILENT_SHARE, coherence_of, crests_of, shares_of
from planner.headroom.scene import BAND_HZ
from planner.plan.edit import put
from planner.plan.recorded import with_recording
from planner.programme.spectra import shares
from tests.plans import changed, in_room, plan_of, section
from tests.programme.kept import beats_kept, beats_read

LIMITS = {"long_term_w": 100.0, "peak_w": 1.0}


def two_ways(crossover_hz=500.0):
    low = section("low", low_hz=40.0, high_hz=crossover_hz, limits=LIMITS)
    high = section("high", low_hz=crossover_hz, high_hz=18000.0, limits=LIMITS)
    data = changed(in_room(), "candidates.0.loudspeaker.sections", [low, high])
    return with_recording(plan_of(data), beats_kept())


def peak_power_db(plan, part):
    (found,) = (
        one.headroom_db
        for one in compute(plan).worst.limits
        if (one.part, one.quantity) == (part, "peak power")
    )
    return found


@pytest.mark.parametrize("kind", ["pink", "simulated"])
def test_that_typical_programmes_keep_their_shares_to_the_last_bit(kind):
    programme = plan_of(changed(in_room(), "programme.kind", kind)).programme
    assert np.array_equal(shares_of(programme), shares(kind, BAND_HZ))


def test_that_the_shares_are_those_of_the_recordings_bands():
    levels = np.array(beats_read().bands.level_dbfs, dtype=float)
    found = shares_of(two_ways().programme)
    assert found.sum() == pytest.approx(1.0, abs=1e-12)
    assert 10.0 * np.log10(found / found[17]) == pytest.approx(levels - levels[17], abs=1e-9)


def test_that_a_band_with_nothing_in_it_is_held_at_a_floor():
    kept = beats_kept().model_copy(update={"bands": ((1000.0, -20.0),)})
    programme = two_ways().programme.model_copy(update={"recording": kept})
    found = shares_of(programme)
    assert found.max() == pytest.approx(1.0) and np.all(found >= 0.99 * SILENT_SHARE)
    outcome = compute(with_recording(two_ways(), kept))
    assert np.isfinite(outcome.worst.headroom_db)
    assert outcome.worst.first_limit.band_hz == pytest.approx(1000.0)


def test_that_the_plans_own_coherence_goes_before_the_recordings():
    programme = two_ways().programme
    assert coherence_of(programme, BAND_HZ)[5] == pytest.approx(beats_read().bands.coherence[5])
    own = programme.model_copy(update={"coherence": ((100.0, 0.25),)})
    assert np.all(coherence_of(own, BAND_HZ) == 0.25)


def test_that_a_section_is_held_to_the_peaks_it_gets():
    # By hand: plans that differ in the crest factor of one section differ by that in its peak power.
    plan = two_ways()
    low, high = beats_kept().sections
    louder = beats_kept().model_copy(
        update={"sections": (low.model_copy(update={"crest_db": low.crest_db + 2.0}), high)}
    )
    after = put(plan, ("programme", "recording"), louder)
    assert peak_power_db(after, "low") == pytest.approx(peak_power_db(plan, "low") - 2.0, abs=1e-9)
    assert peak_power_db(after, "high") == pytest.approx(peak_power_db(plan, "high"), abs=1e-9)


def test_that_the_sections_crest_moves_with_the_programmes_and_falls_back_where_edges_are_others():
    programme, kept = two_ways().programme, beats_kept()
    loudspeaker = two_ways().candidates[0].loudspeaker
    moved_db = programme.crest_db - kept.crest_db
    assert crests_of(programme, loudspeaker) == pytest.approx(
        [one.crest_db + moved_db for one in kept.sections]
    )
    elsewhere = two_ways(800.0).candidates[0].loudspeaker
    assert crests_of(programme, elsewhere) == (programme.crest_db,) * 2


def test_that_pairings_and_the_map_hear_the_recording_as_the_outcome_does():
    plan = two_ways()
    candidate, outcome = plan.candidates[0], compute(plan)
    found = pairings(plan, [candidate.loudspeaker], list(candidate.amplifiers), candidate.cable)
    assert found.headroom_db[0, 0] == pytest.approx([one.headroom_db for one in outcome.seats], abs=1e-6)
    pink = plan.model_copy(update={"programme": plan_of(in_room()).programme})
    assert abs(np.nanmean(floor_map(plan).headroom_db) - np.nanmean(floor_map(pink).headroom_db)) > 0.01
