"""What a plan keeps of a recording: exact through JSON, and only where the programme is one."""

import pytest

from planner.plan import PlanError, dumps, loads
from planner.plan.edit import put
from planner.plan.recorded import inner_band, recorded, section_bands, with_recording
from planner.programme.clipping import clipping
from planner.programme.sections import SectionBand
from tests.plans import changed, in_room, plan_of, section
from tests.programme.kept import BANDS, beats_kept, beats_read
from tests.programme.signals import measured, sine


def test_that_a_plan_with_a_recording_comes_back_from_json_to_the_last_digit():
    # Floats are written in full (the format's own rule).
    plan = with_recording(plan_of(in_room()), beats_kept())
    assert loads(dumps(plan)) == plan


def test_that_silent_windows_and_missing_loudness_come_back_too():
    kept = beats_kept()
    line = kept.timeline.model_copy(update={"peak_dbfs": (None, -3.25, None)})
    quiet = kept.model_copy(update={"timeline": line, "integrated_lufs": None, "coherence": None})
    plan = with_recording(plan_of(in_room()), quiet)
    assert loads(dumps(plan)) == plan


def test_that_the_crest_factor_of_the_loud_passages_becomes_the_programmes_own():
    plan = with_recording(plan_of(in_room()), beats_kept())
    assert plan.programme.kind == "recording"
    assert plan.programme.crest_db == pytest.approx(beats_read().loud_crest_db)


def test_that_a_coherence_table_of_the_plan_gives_way_to_the_recording():
    own = plan_of(changed(in_room(), "programme.coherence", [[100, 1.0]]))
    assert with_recording(own, beats_kept()).programme.coherence is None


def test_that_what_is_kept_answers_how_much_is_clipped_as_the_statistics_do():
    for level_db in (-3.0, 6.0, 10.13, 15.0):
        assert clipping(beats_kept(), level_db) == clipping(beats_read(), level_db)


@pytest.mark.parametrize(
    "programme",
    [
        {"kind": "recording", "crest_db": 12.0},
        {"kind": "pink", "crest_db": 12.0, "recording": beats_kept().model_dump(mode="json")},
    ],
)
def test_that_a_recording_stands_with_its_kind_alone_and_the_fault_is_told_once(programme):
    with pytest.raises(PlanError) as told:
        plan_of(changed(in_room(), "programme", programme))
    (finding,) = told.value.findings
    assert finding.path == "programme"
    assert finding.expected == 'a recording where kind is "recording", and nowhere else'


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("digest", "xyz", "pattern"),
        ("clipped_tenths", [1, 2], "one share_above and one of clipped_tenths for each"),
        ("clipped_tenths", [0.5], "whole numbers only"),
        ("bands", [], "at least one"),
        ("duration_s", 0, "above 0"),
        ("timeline", {"window_s": 0.1, "peak_dbfs": ["loud"]}, "numbers or null only"),
        ("timeline", {"window_s": 0.1, "peak_dbfs": [None, 1000.0]}, "from -400 to 100"),
    ],
)
def test_that_a_recording_spoilt_by_hand_is_refused_in_words(key, value, words):
    kept = {**beats_kept().model_dump(mode="json"), key: value}
    with pytest.raises(PlanError, match=words):
        plan_of(changed(in_room(), "programme", {"kind": "recording", "crest_db": 12.0, "recording": kept}))


def test_that_editing_the_crest_factor_leaves_the_recording_the_very_same():
    plan = with_recording(plan_of(in_room()), beats_kept())
    edited = put(plan, ("programme", "crest_db"), 9.0)
    assert edited.programme.recording is plan.programme.recording


def test_that_a_recording_without_anything_a_loudspeaker_plays_is_refused():
    # 24 kHz of a file at 96 kHz lies above the highest third octave, whose edge is 22.4 kHz (IEC 61260-1).
    high = measured(sine(30000.0, -6.0, 2.0, rate_hz=96000), rate_hz=96000)
    if any(level is not None for level in high.bands.level_dbfs):
        assert max(level for level in high.bands.level_dbfs if level is not None) < -60.0
    else:
        with pytest.raises(ValueError, match="nothing within 20 Hz to 20 kHz"):
            recorded(high)


def test_that_only_shared_edges_are_electrical_and_each_band_is_asked_for_once():
    # Outer edges are the loudspeaker's own roll-off, and no amplifier sees them (the format's own rule).
    ways = [section("low", low_hz=40.0, high_hz=500.0), section("high", low_hz=500.0, high_hz=18000.0)]
    data = changed(in_room(), "candidates.0.loudspeaker.sections", ways)
    data["candidates"].append(data["candidates"][0])
    plan = plan_of(data)
    assert section_bands(plan) == BANDS
    assert inner_band(plan.candidates[0].loudspeaker.sections, 0) == SectionBand(None, 500.0)
    assert section_bands(plan_of(in_room())) == ()
