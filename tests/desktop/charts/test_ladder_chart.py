"""The level ladder as a waterfall: every bar where the outcome has it, the target beside the loudest peak."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.charts.ladder import LadderChart, _room_for
from planner.desktop.charts.scales import fitting
from planner.desktop.document import PlanDocument
from planner.plan import load
from planner.report.words import step_name
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import (
    DEMO_ROOMS,
    PEAK,
    demo,
    edit,
    open_air_plan,
    put_up,
    words_of,
)


@pytest.fixture
def open_air(qtbot):
    return put_up(qtbot, LadderChart, PlanDocument(open_air_plan()))


@pytest.fixture
def map_room(qtbot):
    return put_up(qtbot, LadderChart, demo("map_room"))


def bars_of(*parts) -> dict[float, tuple[float, float]]:
    """Ends of every bar by the place of its row."""
    rects = [rect for part in parts for group in part._rects.values() for rect in group]
    return {rect.center().y(): (rect.left(), rect.right()) for rect in rects}


# By hand: 100 + 10 log 2.5 + 3.01 − 20 log 4 = 100 + 3.979 + 3.010 − 12.041 = 94.95, from which the air takes
# a little more. Load, cable, response, angle, a second stand and a room are not there to change anything.
def test_that_four_steps_make_the_ladder_of_one_loudspeaker_in_open_air(open_air):
    table = open_air.chart.table()
    assert [tick.text for tick in open_air.chart._left.ticks] == [
        "1 W at 1 m",
        "watts",
        "peak over sine",
        "distance",
        "air",
        "headroom",
    ]
    levels = dict(zip(table.columns[0].values, table.columns[2].values, strict=True))
    assert levels["1 W at 1 m"] == pytest.approx(100.0, abs=0.01)
    assert levels["watts"] == pytest.approx(103.98, abs=0.01)
    assert levels["peak over sine"] == pytest.approx(106.99, abs=0.01)
    assert levels["distance"] == pytest.approx(94.95, abs=0.01)
    loudest = levels["air"]
    assert 94.6 < loudest < 94.95
    told = f"{loudest:.1f} dB at Chair: {100.0 - loudest:.1f} dB below the 100 dB asked for"
    assert open_air.chart.headline() == told


def test_that_every_bar_leads_from_the_level_before_to_the_level_after(map_room):
    chart, steps = map_room.chart, map_room.chart.sight.seat.ladder
    shown = [n for n, step in enumerate(steps) if n == 0 or abs(step.change_db) >= 0.05]
    bars = bars_of(chart.first, chart.louder, chart.quieter)
    assert len(bars) == len(shown)
    for row, number in enumerate(shown):
        before = steps[number - 1].level_db if number else chart.scales.x.low
        ends = sorted((before, steps[number].level_db))
        assert bars[-float(row)] == pytest.approx(ends)


def test_that_rising_and_falling_differ_by_colour_and_by_sign(map_room):
    chart = map_room.chart
    steps = {n: step for n, step in enumerate(chart.sight.seat.ladder) if n and abs(step.change_db) >= 0.05}
    rising = sum(step.change_db > 0.0 for step in steps.values())
    assert len(bars_of(chart.louder)) == rising
    assert len(bars_of(chart.quieter)) == len(steps) - rising
    words = words_of(chart.figures)
    for step in steps.values():
        sign = "+" if step.change_db > 0.0 else "−"
        assert f"{sign}{abs(step.change_db):.1f}" in words
        assert f"{step.level_db:.1f}" in words
    assert [key.name for key, _ in chart.key_entries()] == ["louder", "quieter"]


@pytest.mark.parametrize(("peak_db", "verdict", "sign"), [(103.0, "clears", "+"), (114.0, "short", "−")])
def test_that_the_target_stands_beside_the_loudest_peak(qtbot, map_room, peak_db, verdict, sign):
    edit(qtbot, map_room._document, PEAK, peak_db)
    chart, seat = map_room.chart, map_room.chart.sight.seat
    ends = sorted((peak_db, seat.loudest_peak_db))
    assert chart.target.line().x1() == pytest.approx(peak_db)
    assert list(chart.headroom._rects) == [verdict]
    (bracket,) = chart.headroom._rects[verdict]
    assert (bracket.left(), bracket.right()) == pytest.approx(ends)
    zone = chart.zones[verdict].rect()
    assert (zone.left(), zone.right()) == pytest.approx(ends)
    assert all(other.rect().width() == 0.0 for name, other in chart.zones.items() if name != verdict)
    assert f"target {peak_db:.0f} dB" in words_of(chart.figures)
    assert f"{sign}{abs(seat.headroom_db):.1f} dB" in words_of(chart.figures)
    assert chart.headline().endswith(
        f"dB {'above' if sign == '+' else 'below'} the {peak_db:.0f} dB asked for"
    )


def test_that_the_table_holds_every_step_and_adds_up_to_the_loudest_peak(map_room):
    seat = map_room.chart.sight.seat
    step, change, level = map_room.chart.table().columns
    assert step.values == (*(step_name(one.key) for one in seat.ladder), "target", "headroom")
    assert np.isnan(change.values[0])
    total = level.values[0] + np.sum(change.values[1 : len(seat.ladder)])
    assert total == pytest.approx(seat.loudest_peak_db, abs=0.01)
    assert level.values[-2] == pytest.approx(seat.peak_target_db)
    assert change.values[-1] == pytest.approx(seat.headroom_db)


def test_that_a_step_that_changes_nothing_is_read_without_a_row(open_air):
    chart, names = open_air.chart, open_air.chart.table().columns[0].values
    press(chart, Qt.Key.Key_Home)
    for name in names[:3]:
        assert chart.reading().startswith(name)
        assert chart._reader.cursor.isVisible()
        press(chart, Qt.Key.Key_Down)
    assert chart.reading() == "load and output impedance:   Change 0.0 dB   Level 107.0 dB"
    assert not chart._reader.cursor.isVisible()
    press(chart, Qt.Key.Key_End)
    loudest = chart.sight.seat.loudest_peak_db
    assert chart.reading() == f"headroom:   Change −{100.0 - loudest:.1f} dB   Level {loudest:.1f} dB"
    assert chart._reader.cursor.isVisible()


def test_that_a_change_is_read_with_its_sign(map_room):
    press(map_room.chart, Qt.Key.Key_Down)
    press(map_room.chart, Qt.Key.Key_Down)
    change_db = map_room.chart.sight.seat.ladder[1].change_db
    assert f"watts:   Change +{change_db:.1f} dB" in map_room.chart.reading()


@pytest.mark.parametrize("room", DEMO_ROOMS, ids=lambda path: path.stem)
def test_that_at_640_by_300_every_row_is_named_and_every_figure_stands(qtbot, room):
    document = PlanDocument(load(str(room)))
    panel = put_up(qtbot, LadderChart, document, (640, 300))
    chart = panel.chart
    for candidate in range(len(document.outcomes)):
        document.choose(candidate=candidate)
        rows = len(chart.scales.y.picked)
        assert len(chart._left.ticks) == rows
        assert len(chart.figures.placed) == 2 * rows - 1


def test_that_the_summary_tells_the_whole_ladder(map_room):
    seat = map_room.chart.sight.seat
    text = map_room.chart.summary()
    for step in seat.ladder[1:]:
        change = f"{step.change_db:+.1f}".replace("-", "−")
        told = f"{step_name(step.key)} {change} dB to {step.level_db:.1f} dB"
        assert (told in text) is (abs(step.change_db) >= 0.05)


# By hand: two levels 20 dB apart in 300 px with 50 px of words at each side share the 200 px left, 0.1 dB
# a pixel, so the sides stand 5 dB off.
def test_that_words_get_the_room_that_they_ask_for():
    low, high = _room_for([(90.0, 50.0, 0.0), (110.0, 0.0, 50.0)], 300.0)
    assert (low, high) == pytest.approx((85.0, 115.0))


def test_that_names_thin_out_where_there_is_no_room_for_all(map_room):
    side = map_room.chart.scales.y
    few = fitting(side, 60.0, lambda text: 15.0, 0.0)
    assert 1 <= len(few) <= 4
    assert few[0].text == "1 W at 1 m"
