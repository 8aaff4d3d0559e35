"""A candidate with places of its own: it is answered as if the plan had these stands, and nobody else is.

What is expected is in each test the program's own answer for the same plan told the plain way, with the
stands in question as those of the plan; that way is tested against hand calculation elsewhere.
"""

from dataclasses import fields, is_dataclass
from math import log10

import numpy as np
import pytest

from planner.headroom import compute, compute_all
from planner.headroom.answer import answer
from planner.headroom.baffle import baffle_curve
from planner.headroom.certainty import certainty
from planner.headroom.coverage import horn_coverage, least_distances
from planner.headroom.curves import level_against_distance
from planner.headroom.floor_map import figure_at, floor_map
from planner.headroom.nulls import nulls
from planner.headroom.placed import in_its_places, placed, put_back
from planner.headroom.placing import Area, best_seat, best_stands
from planner.headroom.room_gain import room_gain
from planner.headroom.system import stage_of, system_of
from planner.headroom.ways import ways_to_clear
from planner.plan import Plan, PlanError, cross_checks, dumps, loads
from tests.plans import candidate, changed, in_room, open_air, plan_of, section

HORN = {
    "kind": "horn",
    "horizontal_deg": 90.0,
    "vertical_deg": 60.0,
    "mouth_width_m": 0.6,
    "mouth_height_m": 0.4,
}
SEATS = [
    {"name": "Chair", "x_m": 5.0, "y_m": 2.3, "z_m": 1.1},
    {"name": "Bench", "x_m": 6.6, "y_m": 1.0, "z_m": 1.0},
]


def stand(name, x_m, y_m, **more):
    return {"name": name, "x_m": x_m, "y_m": y_m, "z_m": 1.0, "aim": {"seat": "Chair"}, **more}


COMMON = [stand("Left", 0.8, 1.2), stand("Right", 0.8, 3.8)]
OWN = [stand("Corner", 1.4, 0.6), stand("Middle", 1.1, 2.5), stand("Far corner", 0.5, 4.4)]


def system(name, radiator, width=0.5):
    bass = section("bass", low_hz=40.0, high_hz=600.0, radiator={"kind": "diaphragm", "diameter_m": 0.3})
    treble = section("treble", low_hz=600.0, high_hz=18_000.0, radiator=radiator)
    data = changed(candidate(name=name), "loudspeaker.sections", [bass, treble])
    return changed(data, "loudspeaker.baffle_width_m", width)


def dipole(name):
    """An open baffle: it alone makes the modal field of dipoles be computed."""
    data = changed(candidate(name=name), "loudspeaker.sections.0.radiator", {"kind": "dipole"})
    data = changed(data, "loudspeaker.radiates_into", "free_field")
    return changed(data, "loudspeaker.baffle_width_m", 0.8)


def three(**middle):
    """Boxes, horns and open baffles in one room; *middle* belongs to the horns."""
    systems = [system("Boxes", {"kind": "omni"}), {**system("Horns", HORN), **middle}, dipole("Baffles")]
    return in_room(seats=SEATS, stands=COMMON, candidates=systems, target={"peak_db": 103.0})


PLAN = plan_of(three(stands=OWN))
PLAINLY = plan_of({**three(), "stands": OWN, "candidates": [three()["candidates"][1]]})
"""The horns alone, on stands of the plan where their own ones are."""


def same(one, other):
    """Whether two answers are equal to the last digit, whatever they are made of."""
    if is_dataclass(one):
        return type(one) is type(other) and all(
            same(getattr(one, field.name), getattr(other, field.name)) for field in fields(one)
        )
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other, equal_nan=True)
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(same, one, other))
    return one == other


def test_that_places_of_its_own_answer_exactly_as_stands_of_the_plan_would():
    assert same(compute(PLAN, 1), compute(PLAINLY))
    assert same(compute_all(PLAN)[1], compute(PLAINLY))
    assert not same(compute(PLAN, 1), compute(plan_of(three()), 1))


def test_that_nobody_else_is_touched_by_them():
    without = plan_of(three())
    for index in (0, 2):
        assert same(compute(PLAN, index), compute(without, index))
        assert same(compute_all(PLAN)[index], compute_all(without)[index])


def test_that_the_distance_is_that_to_its_own_nearest_stand():
    # From the chair at (5.0, 2.3, 1.1) to the stand at (1.1, 2.5, 1.0): sqrt(3.9² + 0.2² + 0.1²) = 3.906 m.
    # To the common ones at (0.8, 1.2, 1.0): sqrt(4.2² + 1.1² + 0.1²) = 4.343 m.
    assert compute(PLAN, 1).seats[0].distance_m == pytest.approx(3.906, abs=5e-4)
    assert compute(PLAN, 0).seats[0].distance_m == pytest.approx(4.343, abs=5e-4)


def test_that_twice_the_distance_in_the_open_costs_six_decibels():
    # One stand at 4 m, the own one at 2 m on the same axis: 20 log 2 = 6.02 dB, less what air takes of 2 m.
    near = {"name": "Near", "x_m": 2.0, "y_m": 2.0, "z_m": 1.0, "aim": {"seat": "Chair"}}
    plan = plan_of(open_air(candidates=[candidate(), candidate(name="Near", stands=[near])]))
    far, close = compute_all(plan)
    air = [next(step.change_db for step in one.worst.ladder if step.key == "air") for one in (far, close)]
    gained = close.worst.loudest_peak_db - far.worst.loudest_peak_db
    assert gained - (air[1] - air[0]) == pytest.approx(20.0 * log10(2.0), abs=1e-6)


ASKED = {
    "the whole answer": lambda plan, index: answer(plan, index, with_ways=False),
    "how sure": certainty,
    "level against distance": lambda plan, index: level_against_distance(plan, index, 1),
    "room gain": lambda plan, index: room_gain(plan, index, 1),
    "baffle": lambda plan, index: baffle_curve(plan, index, 1),
    "nulls": nulls,
    "coverage": horn_coverage,
    "least distance": least_distances,
    "map of the floor": floor_map,
    "one place of the floor": lambda plan, index: figure_at(plan, index, 4.0, 1.5),
}


@pytest.mark.parametrize("asked", ASKED)
def test_that_whatever_is_asked_is_asked_where_the_candidate_stands(asked):
    assert same(ASKED[asked](PLAN, 1), ASKED[asked](PLAINLY, 0))


def test_that_the_places_named_are_its_own():
    assert {one.stand for one in horn_coverage(PLAN, 1)} == {"Corner", "Middle", "Far corner"}
    assert {one.stand for one in least_distances(PLAN, 0)} == {"Left", "Right"}


def test_that_no_map_in_the_open_leaves_its_places_out():
    far = [{"name": "Far", "x_m": -9.0, "y_m": 2.0, "z_m": 1.0, "aim": {"seat": "Chair"}}]
    plan = plan_of(open_air(candidates=[candidate(), candidate(name="Far away", stands=far)]))
    # A metre is left around what stands and sits: from -9 on, and from 0 on.
    assert floor_map(plan, 1, columns=8, rows=6).floor.x_m == pytest.approx(-10.0)
    assert floor_map(plan, 0, columns=8, rows=6).floor.x_m == pytest.approx(-1.0)


def test_that_ways_to_clear_change_its_own_places_and_hold_when_read_from_a_file():
    now = {way.change: way for way in ways_to_clear(PLAN, 1, 0)}
    plain = {way.change: way for way in ways_to_clear(PLAINLY, 0, 0)}
    assert {key: way.to_value for key, way in now.items()} == {
        key: way.to_value for key, way in plain.items()
    }
    possible = [way for way in now.values() if way.plan is not None]
    assert len(possible) > 2
    for way in possible:
        after = loads(dumps(way.plan))
        assert after.stands == PLAN.stands and after.candidates[0] == PLAN.candidates[0]
        assert compute(after, 1).seats[0].headroom_db == pytest.approx(way.headroom_db, abs=1e-6)
    more = now["stands"].plan
    assert more is None or len(more.candidates[1].stands) > len(OWN)


def test_that_the_best_places_are_sought_for_its_own_stands():
    area = Area(0.4, 0.4, 1.6, 2.0)
    found, plain = best_stands(PLAN, 1, (0,), area), best_stands(PLAINLY, 0, (0,), area)
    assert found.plan.candidates[1].stands == plain.plan.stands
    assert found.plan.stands == PLAN.stands
    assert found.plan.candidates[1].stands != PLAN.candidates[1].stands
    assert found.watts_after == plain.watts_after


def test_that_a_seat_keeps_clear_of_the_stands_of_every_candidate():
    # Whoever plays, nobody may be told to sit where a loudspeaker of another candidate stands.
    middle = Area(1.1, 2.5, 1.1, 2.5)
    assert len(PLAN.candidates[1].stands) == 3
    with pytest.raises(PlanError, match="a free place in it"):
        best_seat(PLAN, 0, 0, middle)
    assert cross_checks(best_seat(plan_of(three()), 0, 0, middle).plan) == ()


def test_that_findings_keep_the_paths_of_the_plan_that_was_asked():
    out = plan_of(changed(three(stands=OWN), "candidates.1.stands.2.y_m", 5.5))
    for ask in (compute, certainty, room_gain, floor_map, horn_coverage, placed):
        with pytest.raises(PlanError) as caught:
            ask(out, 1)
        assert [one.path for one in caught.value.findings] == ["candidates[1].stands[2].y_m"]
    with pytest.raises(PlanError):
        compute_all(out)


def test_that_telling_a_plan_from_a_side_and_back_changes_nothing():
    here = in_its_places(PLAN, 1)
    assert here.stands == PLAN.candidates[1].stands and here.candidates[1].stands is None
    assert [here.stands_of(index) for index in range(3)] == [PLAN.stands_of(index) for index in range(3)]
    assert cross_checks(here) == ()
    assert put_back(here, PLAN, 1) == PLAN
    assert in_its_places(PLAN, 0) is PLAN and put_back(PLAN, PLAN, 0) is PLAN


def test_that_a_stage_refuses_who_stands_elsewhere():
    with pytest.raises(AssertionError, match="not where the candidate stands"):
        system_of(PLAN, PLAN.candidates[1], stage_of(PLAN))


def test_that_candidates_may_all_stand_in_places_of_their_own():
    plan = Plan.model_validate(
        {**dict(PLAN), "candidates": [{**dict(one), "stands": OWN} for one in PLAN.candidates]}
    )
    assert [outcome.candidate for outcome in compute_all(plan)] == ["Boxes", "Horns", "Baffles"]
    assert same(compute_all(plan)[1], compute(PLAINLY))
