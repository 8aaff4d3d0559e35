"""What the designer's pages say, and that they say nothing that the plan does not know."""

import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from planner.plan.units import Preference
from planner.report.content.answers import answer_tables
from planner.report.content.blocks import Picture, Table, Text
from planner.report.content.buyer import buyer_page
from planner.report.content.by_seat import chunks
from planner.report.content.doubt import way_tables
from planner.report.content.inputs import system_inputs
from planner.report.content.measures import figure
from planner.report.content.silence import gain_tables, noise_tables
from planner.report.content.whole import whole_report
from planner.report.gather import gather
from tests.plans import candidate, changed, in_room, open_air, plan_of
from tests.report.papers import ON, cases_of, text_of, words_in

ROOMS = ("map_room", "reading_room", "tea_room", "vaulted_hall")
CHECKOUT = Path(__file__).parents[2]
every_room = pytest.mark.parametrize("room", ROOMS)


def case_of(**changes):
    return gather(plan_of(in_room(candidates=[candidate(**changes)])))[0]


def test_that_open_air_is_said_and_has_no_room_figures():
    cases = gather(plan_of(open_air()))
    text = text_of(whole_report(cases, Preference.METRIC, ON))
    assert "open air" in text
    assert "Schroeder" not in text.partition("Formulas and sources")[0]
    charts = [block for block in whole_report(cases, Preference.METRIC, ON) if isinstance(block, Picture)]
    assert not any(getattr(one.content, "name", "") == "room_gain" for one in charts)


def test_that_ways_that_are_not_possible_are_said_to_be_so_with_the_best_that_was_met():
    case = cases_of("map_room")[2]
    rows = next(block.rows for block in way_tables(case, Preference.METRIC) if isinstance(block, Table))
    told = [row for row in rows if len(row) > 1]
    ways = [way for seat in case.seats for way in seat.ways]
    assert [row[2] == "not possible" for row in told] == [way.to_value is None for way in ways]
    assert "not possible" in {row[2] for row in told}


def test_that_a_candidate_that_clears_needs_no_way():
    assert "nothing needs to change" in text_of(way_tables(cases_of("tea_room")[0], Preference.METRIC))


def test_that_noise_gain_and_weight_are_left_out_where_the_plan_does_not_say():
    case = case_of()
    assert "gives no residual noise" in text_of(noise_tables(case))
    assert not any(isinstance(block, Table) for block in noise_tables(case))
    assert not any(isinstance(block, Table) for block in gain_tables(case))
    answer = text_of(answer_tables(case, Preference.METRIC))
    assert "Amplifier noise" not in answer and "Room noise" not in answer and "Hours a day" in answer
    assert "Weight" not in text_of(system_inputs(case, Preference.METRIC))


def test_that_noise_gain_and_weight_are_told_where_the_plan_says_enough():
    case = cases_of("map_room")[0]
    noise = next(block for block in noise_tables(case) if isinstance(block, Table))
    assert noise.rows[0][1] == figure(case.seats[0].noise.noise_dba)
    gain = next(block for block in gain_tables(case) if isinstance(block, Table))
    assert gain.rows[-1][-1] == figure(case.worst.gain.amplifiers[-1].links[-1].peak_v, 2)
    assert "Weight on the floor" in text_of(system_inputs(case, Preference.METRIC))


def test_that_any_number_of_seats_is_told_a_few_at_a_time():
    groups = chunks(tuple(range(9)), 4)
    assert [len(group) for group in groups] == [3, 3, 3]
    assert [one for group in groups for one in group] == list(range(9))


def test_that_nine_seats_are_all_in_the_answer_s_tables():
    seat = {"x_m": 4.0, "z_m": 1.0}
    seats = [{"name": f"Chair {n}", "y_m": 0.5 + 0.4 * n, **seat} for n in range(9)]
    data = changed(changed(in_room(), "seats", seats), "stands.0.aim", {"seat": "Chair 3"})
    (case,) = gather(plan_of(data))
    tables = [block for block in answer_tables(case, Preference.METRIC) if isinstance(block, Table)]
    named = [column.heading for block in tables for column in block.columns]
    assert [name for name in named if name.startswith("Chair")] == [one["name"] for one in seats]


@every_room
def test_that_figures_are_written_with_a_point_a_plain_hyphen_and_no_prefix(room):
    tables = [
        block for block in whole_report(cases_of(room), Preference.METRIC, ON) if isinstance(block, Table)
    ]
    cells = [cell for block in tables for row in block.rows for cell in row]
    assert not any(re.search(r"[0-9],[0-9]", cell) for cell in cells)
    assert not any(re.search(r"−[0-9.]+$", cell) for cell in cells)
    units = {column.unit for block in tables for column in block.columns}
    assert units <= {
        "",
        "dB",
        "dB(A)",
        "Hz",
        "W",
        "V",
        "A",
        "Ω",
        "m",
        "m²",
        "%",
        "kg",
        "kN/m²",
        "psf",
        "mV",
        "s",
    }


def test_that_no_text_is_empty_or_lacks_a_value():
    for room in ROOMS:
        blocks = whole_report(cases_of(room), Preference.US, ON)
        assert not any(re.search(r"[{}]|\bNone\b|\bnan\b", text) for text in words_in(tuple(blocks)))
        assert all(block.text for block in blocks if isinstance(block, Text))


def test_that_a_plan_whose_worst_seat_is_not_its_first_is_told_of_that_seat():
    case = cases_of("map_room")[0]
    headrooms = [seat.outcome.headroom_db for seat in case.seats]
    assert case.worst_seat == int(np.argmin(headrooms)) == 1
    assert case.worst.outcome.name in text_of(buyer_page(case, Preference.METRIC))


def test_that_what_a_report_says_is_known_without_qt():
    code = "import planner.report.content.whole, planner.report.figures.all, sys; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, cwd=CHECKOUT
    )
    assert done.returncode == 0, done.stderr
    assert "PySide6" not in done.stdout and "planner.headroom.answer" in done.stdout
