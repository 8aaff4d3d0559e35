"""Level against distance: direct and reverberant sound, where they cross, and the seat, in metres or feet."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.charts import distance as distance_chart
from planner.desktop.charts.distance import DistanceChart
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.plan.units import Preference
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import PEAK, demo, edit, open_air_plan, put_up, words_of
from tests.plans import in_room, plan_of, room

FOOT_M = 0.3048


@pytest.fixture
def metric():
    settings().units = Preference.METRIC


@pytest.fixture
def map_room(qtbot, metric):
    return put_up(qtbot, DistanceChart, demo("map_room"))


@pytest.fixture
def open_air(qtbot, metric):
    return put_up(qtbot, DistanceChart, PlanDocument(open_air_plan()))


def level_at(curve, distance: float) -> float:
    return float(np.interp(distance, *curve.getData()))


# The 1/r law: 6.02 dB for a doubling of the distance; air takes less than 0.1 dB a metre of this noise.
def test_that_direct_sound_loses_six_decibels_with_each_doubling(open_air):
    lost = [
        level_at(open_air.chart.direct, near) - level_at(open_air.chart.direct, 2.0 * near)
        for near in (1, 2, 4)
    ]
    assert lost == pytest.approx([6.02, 6.02, 6.02], abs=0.3)
    assert open_air.chart.headline() == "In open air every doubling of the distance costs 6 dB"


def test_that_open_air_has_direct_sound_and_a_seat_and_nothing_else(open_air):
    chart = open_air.chart
    assert [words for _, words in chart.key_entries()] == ["Direct", "The seat"]
    assert not chart.critical.isVisible()
    assert [column.title for column in chart.table().columns] == ["Distance", "Direct"]
    assert not any("modes" in words for words in words_of(chart.captions))
    assert "modes" not in chart.summary()
    (x,), (y,) = chart.here.getData()
    assert (x, y) == pytest.approx((4.0, chart.sight.seat.loudest_peak_db))


def test_that_direct_and_reverberant_sound_add_up_and_cross_at_the_critical_distance(map_room):
    chart = map_room.chart
    (x, together), (_, direct), (_, reverberant) = (
        curve.getData() for curve in (chart.together, chart.direct, chart.reverberant)
    )
    assert together == pytest.approx(10.0 * np.log10(10.0 ** (direct / 10.0) + 10.0 ** (reverberant / 10.0)))
    critical = chart.critical.line().x1()
    assert np.interp(critical, x, direct) == pytest.approx(np.interp(critical, x, reverberant), abs=0.05)
    assert f"critical distance {critical:.2f} m" in words_of(chart.captions)
    assert chart.headline() == f"From {critical:.2f} m on the room is louder than the direct sound"


def test_that_the_seat_stands_at_its_own_loudest_peak_against_the_target(map_room):
    chart, seat = map_room.chart, map_room.chart.sight.seat
    (x,), (y,) = chart.here.getData()
    assert (x, y) == pytest.approx((seat.distance_m, seat.loudest_peak_db))
    assert chart.target.line().y1() == pytest.approx(seat.peak_target_db)
    assert f"{seat.name}: {seat.loudest_peak_db:.1f} dB" in words_of(chart.captions)
    assert "curves without room modes" in words_of(chart.captions)
    assert "without room modes, the seat's own figure is with them" in chart.summary()


# An absorption of 0.99 leaves next to no reverberant sound; one of 0.001 leaves little else.
@pytest.mark.parametrize(
    ("absorption", "headline"),
    [
        (0.99, "The direct sound is louder than the room everywhere"),
        (0.001, "The room is louder than the direct sound everywhere"),
    ],
)
def test_that_rooms_without_a_critical_distance_are_told_so(qtbot, metric, absorption, headline):
    plan = plan_of({**in_room(), "room": room(absorption)})
    plan = plan.model_copy(update={"programme": plan.programme.model_copy(update={"transient_ms": 2000.0})})
    panel = put_up(qtbot, DistanceChart, PlanDocument(plan))
    assert panel.chart.headline() == headline
    assert not panel.chart.critical.isVisible()


def test_that_feet_replace_metres_at_once_and_move_nothing(map_room):
    chart = map_room.chart
    metres, levels = chart.together.getData()
    mark_m = chart.here.getData()[0][0]
    settings().units = Preference.US
    feet, same = chart.together.getData()
    assert feet == pytest.approx(metres / FOOT_M) and same == pytest.approx(levels)
    assert chart.here.getData()[0][0] == pytest.approx(mark_m / FOOT_M)
    assert chart.scales.x.label == "Distance from the loudspeakers (ft)"
    assert chart.table().columns[0].header == "Distance (ft)"
    assert " ft " in chart.headline() and " m " not in chart.headline() + chart.summary()
    assert chart.scales.x.high >= feet[-1]


def test_that_the_curves_are_read_at_each_distance(map_room):
    chart = map_room.chart
    press(chart, Qt.Key.Key_Home)
    levels = [column.values[0] for column in chart.table().columns[1:]]
    told = "   ".join(
        f"{name} {level:.1f} dB"
        for name, level in zip(("Together", "Direct", "Reverberant"), levels, strict=True)
    )
    assert chart.reading() == f"0.50 m:   {told}"
    dots = chart._reader.dots.getData()[1]
    assert sorted(dots) == pytest.approx(sorted(levels))


def test_that_the_curves_are_computed_only_where_they_are_seen(qtbot, document, monkeypatch):
    asked = []

    def counted(*args):
        asked.append(args)
        return curves(*args)

    curves = distance_chart.level_against_distance
    monkeypatch.setattr(distance_chart, "level_against_distance", counted)
    panel = DistanceChart(document)
    qtbot.addWidget(panel)
    for peak_db in (101.0, 102.0, 103.0):
        edit(qtbot, document, PEAK, peak_db)
    edit(qtbot, document, ("seats", 0, "x_m"), 90.0)
    edit(qtbot, document, ("seats", 0, "x_m"), 4.0)
    assert asked == []
    panel.show()
    assert len(asked) == 1
    edit(qtbot, document, PEAK, 104.0)
    assert len(asked) == 2


def test_that_the_whole_of_the_chart_holds_direct_sound_seat_and_target(map_room):
    chart = map_room.chart
    low, high = chart.scales.y.ends
    levels = [*chart.direct.getData()[1], *chart.together.getData()[1], chart.sight.seat.peak_target_db]
    assert low < min(levels) and max(levels) <= high
    assert chart.scales.x.low == 0.0
