"""All inputs stand in the report, with their units; prices only where asked."""

import hashlib
import json
import re

import pytest

from planner.plan import dumps, loads
from planner.plan.units import Preference
from planner.report.content.comparison import comparison_page
from planner.report.content.fields import curve_text
from planner.report.content.formulas import FORMULAS
from planner.report.content.inputs import question_inputs, system_inputs
from planner.report.content.measures import figure, plain
from planner.report.content.whole import plan_digest, whole_report
from planner.report.gather import gather
from tests.plans import candidate, changed, in_room, open_air, plan_of
from tests.report.papers import ON, as_data, cases_of, plan_of_room, text_of

ROOMS = ("map_room", "reading_room", "tea_room", "vaulted_hall")
every_room = pytest.mark.parametrize("room", ROOMS)


@every_room
def test_that_every_number_of_the_plan_stands_among_the_inputs(room):
    plan = plan_of_room(room)
    text = text_of(
        [
            *question_inputs(plan, Preference.METRIC),
            *(block for case in cases_of(room) for block in system_inputs(case, Preference.METRIC)),
        ]
    )
    numbers = set(re.findall(r"-?[0-9]+(?:\.[0-9]+)?", text))
    missing = [
        (path, value)
        for path, value in numbers_of(json.loads(dumps(plan)))
        if not {plain(value), figure(value, 1), figure(value, 2), f"{value:g}"} & numbers
    ]
    assert missing == []


def numbers_of(value, path=""):
    if isinstance(value, dict):
        return [pair for key, one in value.items() for pair in numbers_of(one, f"{path}.{key}")]
    if isinstance(value, list):
        return [pair for one in value for pair in numbers_of(one, path)]
    return [(path, value)] if isinstance(value, int | float) and path != ".version" else []


@every_room
def test_that_every_name_of_the_plan_stands_in_the_report(room):
    plan = plan_of_room(room)
    text = text_of(whole_report(cases_of(room), Preference.METRIC, ON))
    for thing in (*plan.seats, *plan.stands, *plan.candidates):
        assert thing.name in text
    for one in plan.candidates:
        assert one.loudspeaker.name in text and (one.loudspeaker.note or "") in text
        assert all(part.name in text for part in (*one.amplifiers, *one.loudspeaker.sections))


def test_that_own_materials_and_measured_values_are_listed_by_octave():
    data = changed(in_room(), "room.measured_t60_s", {"125": 0.61, "1000": 0.47})
    text = text_of(question_inputs(plan_of(data), Preference.METRIC))
    assert "125 Hz: 0.61; 1000 Hz: 0.47" in text
    assert "test surface" in text and "0.20" in text


def recording():
    return {
        "file": "march.flac",
        "digest": "0" * 64,
        "duration_s": 61.25,
        "rms_dbfs": -18.25,
        "sample_peak_dbfs": -1.5,
        "true_peak_dbtp": -1.25,
        "integrated_lufs": -17.75,
        "loudness_range_lu": 9.5,
        "crest_db": 16.75,
        "loud_crest_db": 14.5,
        "bands": [[63.0, -24.0], [1000.0, -22.5], [8000.0, -31.0]],
        "sections": [{"high_hz": 500.0, "slopes_db_per_octave": [24.0, 24.0], "crest_db": 12.25}],
        "distribution": {"level_re_rms_db": [0.0, 6.0], "share_above": [0.3, 0.02]},
        "clipped_tenths": [400, 12],
        "timeline": {"window_s": 3.0, "peak_dbfs": [-6.0, None, -1.5]},
    }


@pytest.mark.parametrize("preference", Preference)
def test_that_a_recording_is_told_by_its_statistics(preference):
    programme = {"kind": "recording", "crest_db": 14.5, "recording": recording()}
    plan = plan_of(changed(in_room(), "programme", programme))
    text = text_of(question_inputs(plan, preference))
    for said in (
        "march.flac",
        "61.25 s",
        "-18.25 dB",
        "-1.5 dB",
        "-1.25 dB",
        "-17.75 dB",
        "9.5 dB",
        "16.75 dB",
    ):
        assert said in text
    assert "63 Hz: -24 dB; 1000 Hz: -22.5 dB; 8000 Hz: -31 dB" in text
    assert "Crest factor between – and 500 Hz\n12.25 dB" in text


def test_that_a_price_is_told_only_to_those_who_ask():
    data = open_air(candidates=[candidate(price={"amount": 18500.0, "currency": "EUR"})])
    cases = gather(plan_of(data))
    assert "18500" not in text_of(whole_report(cases, Preference.METRIC, ON))
    asked = text_of(whole_report(cases, Preference.METRIC, ON, prices=True))
    assert "System · 18500 EUR" in asked
    several = gather(plan_of(open_air(candidates=[*data["candidates"], candidate(name="Other")])))
    assert "System · 18500 EUR" in text_of(comparison_page(several, Preference.METRIC, prices=True))
    assert "18500" not in text_of(comparison_page(several, Preference.METRIC))


def test_that_stands_of_a_candidate_s_own_are_listed_with_it():
    own = [{"name": "Corner", "x_m": 0.02, "y_m": 0.35, "z_m": 1.15, "aim": {"seat": "Chair"}}]
    cases = gather(plan_of(in_room(candidates=[candidate(), candidate(name="Own", stands=own)])))
    shared, other = (text_of(system_inputs(case, Preference.METRIC)) for case in cases)
    assert "Stands of its own" not in shared
    assert "Corner\n0.02\n0.35\n1.15\nChair" in other
    assert cases[1].worst.outcome.distance_m != pytest.approx(cases[0].worst.outcome.distance_m)


def test_that_a_curve_of_very_many_points_is_told_by_its_ends():
    rows = tuple((float(hertz), 0.0) for hertz in range(20, 2000))
    assert curve_text(rows, "response") == "1980 points from 20 to 1999 Hz, as in the plan file"
    assert curve_text(((100.0, 8.0, -5.0),), "table") == "100 Hz: 8 Ω -5°"


def test_that_the_digest_is_that_of_the_plan_and_not_of_its_file():
    plan = plan_of_room("map_room")
    shuffled = json.loads(dumps(plan))
    again = loads(json.dumps(dict(reversed(shuffled.items())), indent=7))
    assert plan_digest(again) == plan_digest(plan)
    # The rule that the report states, by the book: sorted keys, no spaces, UTF-8.
    data = json.loads(dumps(plan))
    canonical = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
    assert plan_digest(plan) == hashlib.sha256(canonical).hexdigest()
    other = loads(json.dumps(changed(as_data("map_room"), "target.peak_db", 103.0)))
    assert plan_digest(other) != plan_digest(plan)


def test_that_every_formula_has_its_source():
    assert len(FORMULAS) >= 20
    assert all(name and formula and source for name, formula, source in FORMULAS)
