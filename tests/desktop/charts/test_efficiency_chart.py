"""What efficiency buys: the watts halve with every 3 dB, and both loudspeaker and amplifier are marked."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.charts.efficiency import EfficiencyChart
from planner.desktop.document import PlanDocument
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import PEAK, demo, edit, open_air_plan, put_up, words_of
from tests.plans import candidate, section

WATTS = ("candidates", 0, "amplifiers", 0, "taps", 0, "watts")
LEVEL = ("candidates", 0, "loudspeaker", "sections", 0, "sensitivity", "level_db")


@pytest.fixture
def open_air(qtbot):
    return put_up(qtbot, EfficiencyChart, PlanDocument(open_air_plan()))


@pytest.fixture
def map_room(qtbot):
    return put_up(qtbot, EfficiencyChart, demo("map_room"))


def drawn(chart, decibels: float) -> float:
    """Watts of the line as drawn at a sensitivity."""
    x, y = chart.curve.getData()
    return float(10.0 ** np.interp(decibels, x, y))


# By hand: 2.5 W into a loudspeaker of 100 dB make 94.95 dB at 4 m (see the ladder) less a little air, so
# 100 dB ask 10^(5.05/10) = 3.2 times as much, 8.0 W, and a little more; 12 dB lower 15.85 times that.
def test_that_the_headline_says_what_twelve_decibels_cost(open_air):
    needed = open_air.chart.sight.seat.watts_needed
    assert 8.0 < needed < 8.6
    told = f"At 100 dB this seat asks {needed:.1f} W; at 88 dB it would be {15.849 * needed:.0f} W: "
    assert open_air.chart.headline() == told + "every 3 dB halves the watts"


def test_that_a_loudspeaker_with_nothing_below_it_is_compared_upward(qtbot, open_air):
    edit(qtbot, open_air._document, LEVEL, 90.0)
    assert "at 102 dB it would be" in open_air.chart.headline()


# 3.0103 dB are a factor of two in power, by the definition of the decibel.
def test_that_the_line_halves_with_every_three_decibels_from_82_to_112(map_room):
    chart = map_room.chart
    watts = [drawn(chart, decibels) for decibels in (82.0, 85.0103, 109.0, 112.0103 - 0.0103)]
    assert watts[0] / watts[1] == pytest.approx(2.0, rel=1e-4)
    assert watts[0] / watts[3] == pytest.approx(1000.0, rel=1e-6)
    assert chart.scales.x.low == 82.0 and chart.scales.x.high == 112.0


def test_that_loudspeaker_and_amplifier_meet_the_line_where_they_must(map_room):
    chart, seat = map_room.chart, map_room.chart.sight.seat
    (here_db,), (here,) = chart.here.getData()
    assert (here_db, 10.0**here) == pytest.approx((seat.ladder[0].level_db, seat.watts_needed))
    assert 10.0 ** chart.rated.line().y1() == pytest.approx(seat.watts_rated)
    (enough_db,), (rated,) = chart.crossing.getData()
    assert 10.0**rated == pytest.approx(seat.watts_rated)
    assert drawn(chart, enough_db) == pytest.approx(seat.watts_rated, rel=1e-6)
    assert drawn(chart, here_db) == pytest.approx(seat.watts_needed, rel=1e-6)


# The amplifier's own headroom is what the loudspeaker could lose.
def test_that_these_watts_are_enough_from_headroom_below_this_loudspeaker_up(map_room):
    chart, seat = map_room.chart, map_room.chart.sight.seat
    assert chart.shown.enough_db == pytest.approx(
        seat.ladder[0].level_db - seat.amplifiers[0].headroom_db, abs=0.01
    )
    assert f"enough from {chart.shown.enough_db:.1f} dB up" in words_of(chart.captions)
    zone = chart.enough.rect()
    assert (zone.left(), zone.right()) == pytest.approx((chart.shown.enough_db, 112.0))


def test_that_more_watts_are_enough_for_less_efficient_loudspeakers(qtbot, open_air):
    before = open_air.chart.shown.enough_db
    edit(qtbot, open_air._document, WATTS, 5.0)
    assert open_air.chart.shown.enough_db == pytest.approx(before - 3.01, abs=0.01)
    assert 10.0 ** open_air.chart.rated.line().y1() == pytest.approx(5.0)


@pytest.mark.parametrize(("peak_db", "shaded"), [(60.0, True), (130.0, False)])
def test_that_watts_enough_for_all_or_for_none_are_not_said_to_begin_somewhere(
    qtbot, open_air, peak_db, shaded
):
    edit(qtbot, open_air._document, PEAK, peak_db)
    assert not any("enough" in words for words in words_of(open_air.chart.captions))
    assert (open_air.chart.enough.rect().width() > 29.0) is shaded


@pytest.mark.parametrize("level_db", [70.0, 120.0])
def test_that_a_loudspeaker_beyond_the_usual_is_still_on_the_chart(qtbot, level_db):
    system = candidate()
    drive = {"level_db": level_db, "drive": "1 W"}
    system["loudspeaker"]["sections"] = [section(sensitivity=drive)]
    panel = put_up(qtbot, EfficiencyChart, PlanDocument(open_air_plan(candidates=[system])))
    low, high = panel.chart.scales.x.ends
    assert low < level_db < high
    assert panel.chart.curve.getData()[0] == pytest.approx([low, high])


def test_that_the_table_runs_from_82_to_112_and_says_what_the_amplifier_has_to_spare(map_room):
    sensitivity, watts, spare = map_room.chart.table().columns
    assert (sensitivity.values[0], sensitivity.values[-1]) == (82.0, 112.0)
    assert [column.unit for column in (sensitivity, watts, spare)] == ["dB", "W", "dB"]
    assert watts.values * 10.0 ** (spare.values / 10.0) == pytest.approx(
        map_room.chart.sight.seat.watts_rated
    )


def test_that_the_watts_at_a_sensitivity_are_read(open_air):
    press(open_air.chart, Qt.Key.Key_Home)
    needed = 10.0**1.8 * open_air.chart.sight.seat.watts_needed
    spare = 10.0 * np.log10(needed / 2.5)
    assert open_air.chart.reading() == (
        f"82.0 dB:   Watts needed {needed:.0f} W   This amplifier to spare −{spare:.1f} dB"
    )


def test_that_the_axis_of_watts_bears_plain_numbers(open_air):
    assert open_air.chart.scales.y.label == "Watts needed (W)"
    texts = [tick.text for tick in open_air.chart._left.ticks]
    assert {"1", "10", "100"} <= set(texts)
