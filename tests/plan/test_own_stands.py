"""Places of its own and a price for a candidate, in the file: read, checked, written, and in the schema."""

import json
from copy import deepcopy

import pytest
from jsonschema import Draft202012Validator

from planner.plan import PlanError, cross_checks, dumps, load, loads, save
from planner.plan.schema import schema_text
from tests.plans import candidate, changed, in_room, open_air, plan_of, section

OWN = [
    {"name": "Low", "x_m": 0.0, "y_m": 1.0, "z_m": 0.5, "aim": {"seat": "Chair"}, "carries": ["bass"]},
    {"name": "High", "x_m": 0.0, "y_m": 3.0, "z_m": 1.2, "aim": {"azimuth_deg": -5.0, "elevation_deg": 0.0}},
]


def two_ways(**changes):
    sections = [
        section("bass", low_hz=30.0, high_hz=800.0),
        section("treble", low_hz=800.0, high_hz=18_000.0),
    ]
    return {**changed(candidate(name="Two ways"), "loudspeaker.sections", sections), **changes}


def in_two_places(**changes):
    return in_room(candidates=[candidate(), two_ways(stands=deepcopy(OWN), **changes)])


def paths(data):
    return [finding.path for finding in cross_checks(plan_of(data))]


def test_that_its_places_and_price_come_back_from_a_file_as_they_were(tmp_path):
    data = in_two_places(price={"amount": 12_345.67, "currency": "EUR"})
    plan, file = plan_of(data), tmp_path / "plan.json"
    save(plan, file)
    again = load(file)
    assert again == plan
    written = json.loads(file.read_text())["candidates"]
    assert written[1]["stands"] == OWN and written[1]["price"] == {"amount": 12_345.67, "currency": "EUR"}
    assert "stands" not in written[0] and "price" not in written[0]


def test_that_a_sound_plan_with_them_has_no_findings():
    assert paths(in_two_places()) == []


def test_that_the_stands_of_the_plan_need_not_carry_what_stands_elsewhere():
    # Each on the stands of the other would be a finding: this one has no section called bass.
    data = in_two_places()
    assert paths(data) == []
    data["candidates"][1].pop("stands")
    assert paths({**data, "stands": OWN}) != []


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        ("0.x_m", -0.01, "candidates[1].stands[0].x_m"),
        ("1.y_m", 5.1, "candidates[1].stands[1].y_m"),
        ("0.z_m", 3.2, "candidates[1].stands[0].z_m"),
        ("0.aim", {"seat": "Sofa"}, "candidates[1].stands[0].aim.seat"),
        ("0.carries", ["middle"], "candidates[1].stands[0].carries"),
        ("1.carries", ["bass"], "candidates[1].stands"),
        ("1.name", "Low", "candidates[1].stands"),
        ("1.x_m", 0.5, "candidates[1].stands[1]"),
    ],
    ids=["x", "y", "z", "aim", "carries", "not carried", "two of a name", "off the wall"],
)
def test_that_what_is_wrong_with_them_is_found_there(path, value, where):
    assert paths(changed(in_two_places(), f"candidates.1.stands.{path}", value)) == [where]


def test_that_one_too_near_a_seat_is_found_with_how_near_it_is():
    # From (3.9, 2.0, 1.0) to the chair at (4.0, 2.0, 1.0) it is 0.1 m.
    place = {"x_m": 3.9, "y_m": 2.0, "z_m": 1.0}
    data = in_two_places()
    data["candidates"][1]["loudspeaker"]["baffle_width_m"] = 0.4
    data["candidates"][1]["stands"][1] = {**data["candidates"][1]["stands"][1], **place}
    (found,) = cross_checks(plan_of(data))
    assert (found.path, found.value) == ("candidates[1].stands[1]", "0.10 m from Chair")
    assert found.expected == "a stand at least 0.3 m from every seat"


def test_that_the_plans_own_stands_are_still_checked_for_themselves():
    data = in_two_places()
    data["candidates"] = data["candidates"][1:]
    assert paths(changed(data, "stands.0.y_m", 9.0)) == ["stands[0].y_m"]


@pytest.mark.parametrize(
    ("key", "value", "word"),
    [
        ("stands", [], "at least one entry"),
        ("price", {"amount": -1.0, "currency": "EUR"}, "a number from 0"),
        ("price", {"amount": 5.0, "currency": "eur"}, "three capital letters"),
        ("price", {"amount": 5.0, "currency": "EURO"}, "three capital letters"),
        ("price", {"amount": 5.0}, "a value"),
        ("price", 5.0, "an object with keys"),
    ],
)
def test_that_single_values_at_fault_are_refused_with_their_path(key, value, word):
    data = open_air(candidates=[candidate(**{key: value})])
    with pytest.raises(PlanError) as caught:
        loads(json.dumps(data))
    (found,) = caught.value.findings
    assert found.path.startswith(f"candidates[0].{key}")
    assert word in found.expected


def test_that_the_schema_takes_and_refuses_what_the_program_does():
    judge = Draft202012Validator(json.loads(schema_text()))
    good = in_two_places(price={"amount": 100, "currency": "USD"})
    assert judge.is_valid(good) and judge.is_valid(json.loads(dumps(plan_of(good))))
    for path, value in (
        ("stands", []),
        ("stands.0.z_m", "low"),
        ("stands.0.spare", 1),
        ("price.currency", "usd"),
        ("price.amount", -1),
        ("price.vat", 19),
    ):
        bad = changed(good, f"candidates.1.{path}", value)
        assert not judge.is_valid(bad), path
        with pytest.raises(PlanError):
            plan_of(bad)
