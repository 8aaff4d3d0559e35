"""Charts on paper: what they show, and that figures and marks stand where the data say."""

import re
from itertools import product
from xml.etree import ElementTree

import numpy as np
import pytest
from PySide6.QtGui import QImage

from planner.headroom.curves import watts_against_sensitivity
from planner.plan.units import Preference
from planner.report.figures.all import charts_of
from planner.report.figures.bands import headroom_chart, room_gain_chart
from planner.report.figures.captions import apart
from planner.report.figures.chart import Axis, Bars, Chart, Curve, Dot, Note, Rule, Tick, rounded_axis
from planner.report.figures.distance import distance_chart
from planner.report.figures.efficiency import efficiency_chart
from planner.report.figures.field import TICK
from planner.report.figures.ladder import LEAST_SHOWN_DB, ladder_chart
from planner.report.figures.picture import PNG_SCALE, SIZE_PT, png, svg
from planner.report.pages.typeface import width_of
from tests.report.papers import cases_of

ROOMS = ("map_room", "reading_room", "tea_room", "vaulted_hall")
NEAR_PT = 0.02
pytestmark = pytest.mark.usefixtures("qapp")


def drawn(chart):
    """The texts of an SVG with their left ends and baselines, and its polylines [pt]."""
    texts, lines = [], []
    for group in ElementTree.fromstring(svg(chart)).iter("{http://www.w3.org/2000/svg}g"):
        matrix = re.search(r"matrix\(([^)]*)\)", group.get("transform", "matrix(1,0,0,1,0,0)"))
        a, _, _, d, e, f = (float(number) for number in matrix[1].split(","))
        for text in group.findall("{http://www.w3.org/2000/svg}text"):
            x, y = float(text.get("x")), float(text.get("y"))
            texts.append(("".join(text.itertext()).strip(), a * x + e, d * y + f))
        for line in group.findall("{http://www.w3.org/2000/svg}polyline"):
            points = [tuple(map(float, pair.split(","))) for pair in line.get("points").split()]
            lines.append([(a * x + e, d * y + f) for x, y in points])
    return texts, lines


def linear(title="x"):
    return rounded_axis(title, 80.0, 112.0)


def logarithmic(title="x"):
    return Axis(
        title, 0.5, 50.0, tuple(Tick(one, f"{one:g} ") for one in (0.5, 1.0, 2.0, 5.0, 20.0)), log=True
    )


def turned(title=""):
    return Axis(title, 2.5, -0.5, (Tick(0.0, "first"), Tick(1.0, "second"), Tick(2.0, "third")))


@pytest.mark.parametrize(
    ("x", "y"),
    [
        pytest.param(linear(), rounded_axis("", 3.0, 97.0), id="even sides"),
        pytest.param(logarithmic(), logarithmic(""), id="log sides"),
        pytest.param(linear(), turned(), id="rows from the top down"),
    ],
)
def test_that_the_numbers_of_the_axes_stand_exactly_at_the_data(x, y):
    # One curve through every pair of figures: its corners must lie below and beside those figures.
    pairs = list(product([tick.value for tick in x.ticks], [tick.value for tick in y.ticks]))
    curve = Curve(*(np.array(values) for values in zip(*pairs, strict=True)), "series 0")
    texts, lines = drawn(Chart("test", "", x, y, (curve,)))
    corners = max(lines, key=len)
    assert len(corners) == len(pairs)
    by_text = {text: (left + width_of(text, TICK) / 2.0, left, base) for text, left, base in texts}
    for (across, up), (value, level) in zip(corners, pairs, strict=True):
        label = next(tick.text.strip() for tick in x.ticks if tick.value == value)
        side = next(tick.text.strip() for tick in y.ticks if tick.value == level)
        if [text for text, *_ in texts].count(label) == 1:
            assert by_text[label][0] == pytest.approx(across, abs=NEAR_PT)
        if [text for text, *_ in texts].count(side) == 1:
            # The middle of a figure lies some third of its size above its baseline.
            assert by_text[side][2] - 0.36 * TICK.size_pt == pytest.approx(up, abs=0.15 * TICK.size_pt)


def test_that_the_curve_of_watts_can_be_read_off_its_axes():
    seat = cases_of("map_room")[0].worst.outcome
    curve = watts_against_sensitivity(seat)
    texts, lines = drawn(efficiency_chart(seat))
    below = next(base for text, _, base in texts if text == "85")
    across = {float(t): left + width_of(t, TICK) / 2.0 for t, left, base in texts if base == below}
    up = {float(t): base for t, _, base in texts if base < below and re.fullmatch(r"0\.0*1|10*", t)}
    x_slope, x_start = np.polyfit(list(across), list(across.values()), 1)
    (left, top), (right, bottom) = next(
        line for line in lines if len(line) == 2 and line[0][0] < line[1][0] and line[0][1] < line[1][1]
    )
    decades = (np.log10(max(up)) - np.log10(min(up))) / (up[min(up)] - up[max(up)])
    for x, y in ((left, top), (right, bottom)):
        sensitivity = (x - x_start) / x_slope
        middle = up[min(up)] - 0.36 * TICK.size_pt
        watts = 10.0 ** (np.log10(min(up)) + (middle - y) * decades)
        expected = curve.here_watts * 10.0 ** ((curve.here_db - sensitivity) / 10.0)
        assert watts == pytest.approx(expected, rel=0.05)


def test_that_each_3_db_of_sensitivity_halves_the_watts_on_the_chart():
    # By definition of the decibel: 10 log 2 = 3.0103 dB.
    line = next(
        mark
        for mark in efficiency_chart(cases_of("map_room")[2].worst.outcome).marks
        if isinstance(mark, Curve)
    )
    halvings = np.log2(line.y[0] / line.y[-1])
    assert (line.x[-1] - line.x[0]) / halvings == pytest.approx(3.0103, abs=1e-4)


@pytest.mark.parametrize("room", ROOMS)
def test_that_the_bars_of_the_ladder_are_its_steps(room):
    for case in cases_of(room):
        seat = case.worst.outcome
        chart = ladder_chart(seat)
        bars, headroom = (mark for mark in chart.marks if isinstance(mark, Bars))
        shown = [step for step in seat.ladder[1:] if abs(step.change_db) >= LEAST_SHOWN_DB]
        before, after = bars.x
        assert after[0] == seat.ladder[0].level_db
        assert np.array([step.level_db for step in shown]) == pytest.approx(after[1:])
        assert after[:-1] == pytest.approx(before[1:])
        assert headroom.x[1] - headroom.x[0] == pytest.approx(abs(seat.headroom_db))
        assert len(chart.y.ticks) == len(shown) + 2


@pytest.mark.parametrize("room", ROOMS)
def test_that_every_mark_lies_on_its_chart(room):
    for _, chart in charts_of(cases_of(room), Preference.METRIC):
        for mark in chart.marks:
            if isinstance(mark, Curve | Dot):
                for axis, values in ((chart.x, mark.x), (chart.y, mark.y)):
                    share = axis.share(values)
                    assert np.nanmin(share) >= -1e-9 and np.nanmax(share) <= 1.0 + 1e-9, chart.name


@pytest.mark.parametrize("room", ROOMS)
def test_that_no_word_leaves_the_picture(room):
    for _, chart in charts_of(cases_of(room), Preference.US):
        texts, _ = drawn(chart)
        for text, left, base in texts:
            assert left >= 0.0 and 0.0 < base < SIZE_PT.height(), (chart.name, text)
            assert left + width_of(text, TICK) <= SIZE_PT.width() or len(text) > 30, (chart.name, text)


def test_that_distances_are_in_feet_for_those_who_measure_in_them():
    case = cases_of("tea_room")[0]
    metric, us = (distance_chart(case.distance, "Chair", one) for one in (Preference.METRIC, Preference.US))
    curves = [next(mark for mark in chart.marks if isinstance(mark, Curve)) for chart in (metric, us)]
    assert curves[1].x == pytest.approx(curves[0].x / 0.3048)
    assert "m;" in metric.x.title and "ft;" in us.x.title


def test_that_the_seat_of_a_distance_chart_is_the_outcome_itself():
    case = cases_of("reading_room")[1]
    chart = distance_chart(case.distance, "Chair", Preference.METRIC)
    dot = next(mark for mark in chart.marks if isinstance(mark, Dot))
    assert (dot.x, dot.y) == pytest.approx(
        (case.worst.outcome.distance_m, case.worst.outcome.loudest_peak_db), abs=1e-9
    )
    target = next(mark for mark in chart.marks if isinstance(mark, Rule) and mark.axis == "y")
    assert target.at == pytest.approx(case.worst.outcome.peak_target_db)


def test_that_bars_tell_each_band_s_headroom_and_room_gain_its_curve():
    case = cases_of("map_room")[2]
    bands = case.worst.outcome.bands
    bars = next(mark for mark in headroom_chart(case.worst.outcome).marks if isinstance(mark, Bars))
    assert bars.y[0] + bars.y[1] == pytest.approx(np.minimum(bands.headroom_db, 60.0))
    assert np.sqrt(bars.x[0] * bars.x[1]) == pytest.approx(bands.centre_hz)
    gain = next(mark for mark in room_gain_chart(case.room_gain).marks if isinstance(mark, Curve))
    assert gain.y == pytest.approx(bands.room_gain_db, abs=1e-9)


def test_that_a_long_name_beside_a_point_is_cut_short():
    note = Note(100.0, 50.0, "A seat with a name that goes on and on and on, far beyond its chart", "ink")
    texts, _ = drawn(Chart("test", "", linear(), rounded_axis("", 0.0, 100.0), (note,)))
    assert any(text.endswith("…") for text, *_ in texts)


def test_that_names_are_moved_apart_and_stay_within():
    assert apart([5.0, 5.5, 6.0], 2.0, 0.0, 8.0) == [4.0, 6.0, 8.0]
    assert apart([1.0], 2.0, 3.0, 8.0) == [3.0]


def test_that_a_chart_is_saved_as_a_picture_and_as_a_drawing_with_text():
    name, chart = next(iter(charts_of(cases_of("map_room"), Preference.METRIC)))
    image = QImage.fromData(png(chart))
    assert (image.width(), image.height()) == (SIZE_PT.width() * PNG_SCALE, SIZE_PT.height() * PNG_SCALE)
    assert chart.headline in svg(chart).decode()
    assert b"sans-serif" in svg(chart) and name == "candidates"


def test_that_every_candidate_has_its_charts_under_names_of_their_own():
    names = [name for name, _ in charts_of(cases_of("map_room"), Preference.METRIC)]
    assert len(names) == len(set(names)) == 1 + 4 * 6
    assert all(re.fullmatch(r"[a-z0-9_]+", name) for name in names)
