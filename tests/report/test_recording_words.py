"""A recording in words and in the report."""

from datetime import date

import pytest

from planner.headroom import compute
from planner.headroom.clipped import clipped_at
from planner.plan.recorded import with_recording
from planner.plan.units import Preference
from planner.report.clipped_words import clipped_text, share_text
from planner.report.content.blocks import Heading, Terms
from planner.report.content.recording import recording_terms
from planner.report.content.whole import whole_report
from planner.report.gather import gather
from planner.report.words import asked_text
from tests.plans import amplifier, changed, in_room, plan_of
from tests.programme.kept import beats_kept


def with_beats(**changes):
    data = changed(in_room(), "candidates.0.amplifiers", [amplifier(**changes)])
    return with_recording(plan_of(data), beats_kept())


def told(offset_over_headroom_db, **changes):
    plan = with_beats(**changes)
    seat = compute(plan).seats[0]
    offset_db = seat.amplifiers[0].headroom_db + offset_over_headroom_db
    return clipped_text(clipped_at(plan, 0, seat, offset_db), beats_kept())


def test_that_what_passes_is_told_with_its_margin():
    assert told(-2.0) == (
        "Triode passes the whole recording: its loudest sample stays 2.0 dB below clipping."
    )


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"overload": "hard"}, "cuts off hard"),
        ({"overload": "soft"}, "rounds off"),
        ({}, "soft or hard is not in the plan"),
    ],
)
def test_that_hard_and_soft_are_told_apart(changes, words):
    text = told(6.0, **changes)
    assert words in text and "moments a minute: at 0:00" in text
    assert ("bends from half its limit" in text) == (changes.get("overload") == "soft")


def test_that_a_soft_amplifier_bends_before_it_clips():
    text = told(-2.0, overload="soft")
    assert text.startswith("Triode: Being soft") or "bends from half its limit" in text


def test_that_shares_are_written_to_two_digits():
    assert [share_text(one) for one in (0.0, 0.5, 0.00104, 0.00002)] == [
        "none",
        "50 %",
        "0.1 %",
        "1 in 50000",
    ]


def test_that_the_question_names_the_recording():
    assert "from the recording beats.wav of 22.2 dB crest;" in asked_text(with_beats())


def test_that_the_report_tells_it_at_every_seat_and_lists_no_thousand_numbers():
    plan = with_beats()
    (case,) = gather(plan)
    heading, terms = recording_terms(case)
    assert isinstance(heading, Heading) and isinstance(terms, Terms)
    assert [name for name, _ in terms.pairs] == [seat.name for seat in plan.seats]
    blocks = whole_report((case,), Preference.METRIC, date(2026, 1, 1))
    assert heading in blocks
    assert max(len(str(block)) for block in blocks) < 60_000
    assert not list(recording_terms(gather(plan_of(in_room()))[0]))
