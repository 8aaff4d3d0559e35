"""Room gain by third octave with the modes by name, the Schroeder frequency and the three regions."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.acoustics.modes import mode_frequencies
from planner.acoustics.reverberation import schroeder_frequency
from planner.desktop.charts import room_gain as room_gain_chart
from planner.desktop.charts.mode_words import modes_in_band
from planner.desktop.charts.room_gain import RoomGainChart
from planner.desktop.document import PlanDocument
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import PEAK, demo, edit, open_air_plan, put_up, words_of
from tests.plans import in_room, plan_of, room

LENGTH = ("room", "length_m")


@pytest.fixture
def plain(qtbot):
    """A room of 8 × 5 × 3 m with an absorption of 0.2 all round."""
    return put_up(qtbot, RoomGainChart, PlanDocument(plan_of(in_room())))


@pytest.fixture
def map_room(qtbot):
    return put_up(qtbot, RoomGainChart, demo("map_room"))


def heights(chart) -> dict[float, float]:
    """What each bar says, by the tenth of a decade that it stands at."""
    rects = [
        rect for part in (chart.louder, chart.quieter) for group in part._rects.values() for rect in group
    ]
    ends = ((rect, rect.top() if rect.top() < 0.0 else rect.bottom()) for rect in rects)
    return {round(rect.center().x(), 3): end for rect, end in ends}


def test_that_every_band_has_its_gain_up_or_down(map_room):
    chart, bands = map_room.chart, map_room.chart.sight.seat.bands
    shown = heights(chart)
    expected = dict(
        zip(np.log10(bands.centre_hz).round(3).tolist(), bands.room_gain_db.tolist(), strict=True)
    )
    assert shown == pytest.approx(expected)
    fallen = sum(len(group) for group in chart.quieter._rects.values())
    assert fallen == np.sum(bands.room_gain_db < 0.0) > 0


# By hand, c = 343.2 m/s at 20 °C: 343.2/16 = 21.45 Hz along, 343.2/10 = 34.32 Hz across, and
# the root of their squares, 40.47 Hz.
def test_that_the_lowest_modes_stand_at_their_frequencies_by_their_orders(plain):
    chart = plain.chart
    names = words_of(chart.captions)
    assert "1,0,0" in names and "0,1,0" in names
    at = {caption.text: caption.x for caption, _ in chart.captions.placed}
    assert at["1,0,0"] == pytest.approx(21.45, abs=0.01)
    assert at["0,1,0"] == pytest.approx(34.32, abs=0.01)
    assert modes_in_band(chart.shown.room, 10.0**1.6) == "1,1,0: 40.5 Hz; 2,0,0: 42.9 Hz"


def test_that_every_mode_up_to_the_crossover_has_a_mark_or_shares_one(map_room):
    chart, found = map_room.chart, map_room.chart.shown.room
    plan = map_room.chart.sight.plan
    modes, _ = mode_frequencies(plan.room.dimensions_m, found.crossover_hz)
    assert len(found.mode_hz) == pytest.approx(len(modes), abs=1)
    low, high = chart.scales.x.ends
    pixels = np.rint((np.log10(found.mode_hz) - low) / (high - low) * chart.scales.width_px)
    assert {line.x1() - 0.5 for line in chart.modes.lines} == set(pixels[pixels >= 0.0])


def test_that_the_marks_are_longer_where_stand_and_seat_meet_a_mode_more(plain):
    chart, found = plain.chart, plain.chart.shown.room
    low, high = chart.scales.x.ends
    lengths = {line.x1(): line.dy() for line in chart.modes.lines}
    first = round((np.log10(found.mode_hz[0]) - low) / (high - low) * chart.scales.width_px) + 0.5
    assert lengths[first] == pytest.approx(4.0 + 10.0 * found.coupling[0])
    assert min(lengths.values()) >= 4.0 and max(lengths.values()) <= 14.0


# Schroeder 1954 as the design has it, 2000·sqrt(T60/V), with the T60 of the 500 Hz third.
def test_that_the_schroeder_frequency_is_marked_with_its_figure(plain):
    chart, figures = plain.chart, plain.chart.sight.outcome.room
    expected = float(schroeder_frequency(figures.t60_s[14], 120.0))
    assert 10.0 ** chart.schroeder.line().x1() == pytest.approx(expected)
    assert f"Schroeder {expected:.0f} Hz" in words_of(chart.captions)
    assert f"Schroeder frequency {expected:.0f} Hz" in chart.summary()


def test_that_three_regions_without_gaps_are_shaded_and_named(map_room):
    chart = map_room.chart
    kinds = ("pressure", "modal", "statistical")
    assert set(kinds) <= set(words_of(chart.captions))
    rects = [chart.zones[kind].rect() for kind in kinds]
    assert rects[0].left() == pytest.approx(chart.scales.x.ends[0], abs=1e-3)
    assert rects[0].right() == pytest.approx(np.log10(chart.shown.room.mode_hz[0]))
    assert rects[0].right() == pytest.approx(rects[1].left())
    assert rects[1].right() == pytest.approx(rects[2].left())
    assert rects[1].right() == pytest.approx(np.log10(chart.shown.room.crossover_hz))
    assert rects[2].right() == pytest.approx(chart.scales.x.ends[1])


def test_that_the_headline_names_the_strongest_and_the_weakest_band_below_schroeder(map_room):
    bands, found = map_room.chart.sight.seat.bands, map_room.chart.shown.room
    below = bands.room_gain_db[bands.centre_hz <= found.schroeder_hz]
    text = map_room.chart.headline().replace("−", "-")
    assert text.startswith(f"Below {found.schroeder_hz:.0f} Hz the room gives {below.max():+.1f} dB at ")
    assert f" and {below.min():+.1f} dB at " in text


def test_that_a_huge_room_without_a_modal_region_in_sight_is_told_by_all_its_bands(qtbot):
    hall = room(0.5, length_m=100.0, width_m=60.0, height_m=30.0)
    panel = put_up(qtbot, RoomGainChart, PlanDocument(plan_of({**in_room(), "room": hall})))
    assert panel.chart.shown.room.schroeder_hz < 20.0
    assert panel.chart.headline().startswith("The room gives +")


def test_that_open_air_says_there_is_no_room(qtbot):
    panel = put_up(qtbot, RoomGainChart, PlanDocument(open_air_plan()))
    chart = panel.chart
    assert words_of(chart.captions) == ["open air: there is no room"]
    assert chart.headline() == "Open air: there is no room, and no room gain"
    assert chart.key_entries() == [] and not chart.schroeder.isVisible() and chart.modes.lines == []
    assert all(zone.rect().width() == 0.0 for zone in chart.zones.values())
    assert chart.table().columns[1].values == pytest.approx(np.zeros(31))


def test_that_the_table_names_region_and_modes_of_all_bands(plain):
    band, gain, region, modes = plain.chart.table().columns
    assert len(band.values) == 31 and (band.unit, gain.unit) == ("Hz", "dB")
    assert gain.values == pytest.approx(plain.chart.sight.seat.bands.room_gain_db)
    assert (region.values[0], region.values[3], region.values[-1]) == ("pressure", "modal", "statistical")
    assert modes.values[0] == "1,0,0: 21.4 Hz" and modes.values[-1] == "–"
    assert modes.values[8].isdigit()


def test_that_a_band_is_read_with_its_gain_region_and_modes(plain):
    press(plain.chart, Qt.Key.Key_Home)
    gain = plain.chart.sight.seat.bands.room_gain_db[0]
    told = f"{gain:+.1f}".replace("-", "−")
    assert plain.chart.reading() == f"20 Hz:   Room gain {told} dB   Region pressure   Modes 1,0,0: 21.4 Hz"


def test_that_the_side_reaches_far_enough_above_a_high_schroeder_frequency(qtbot):
    hard = room(0.01, length_m=2.5, width_m=2.0, height_m=2.0)
    near = {"x_m": 1.6, "y_m": 1.0, "z_m": 1.0}
    data = in_room()
    seats, stands = [{**data["seats"][0], **near}], [{**data["stands"][0], "y_m": 1.0}]
    plan = plan_of({**data, "room": hard, "seats": seats, "stands": stands})
    panel = put_up(qtbot, RoomGainChart, PlanDocument(plan))
    schroeder = panel.chart.shown.room.schroeder_hz
    assert schroeder > 600.0
    assert panel.chart.scales.x.high >= 2.5 * schroeder


def test_that_a_small_chart_keeps_its_words_off_its_bars(qtbot):
    panel = put_up(qtbot, RoomGainChart, demo("map_room"), (420, 300))
    chart = panel.chart
    top, span = chart.scales.y.high, chart.scales.y.high - chart.scales.y.low
    highest = max(heights(chart).values())
    bars_top_px = (top - highest) / span * chart.scales.height_px
    assert max(box.bottom() for _, box in chart.captions.placed) <= bars_top_px + 2.0


def test_that_the_gain_is_computed_only_where_it_is_seen(qtbot, document, monkeypatch):
    asked = []

    def counted(*args):
        asked.append(args)
        return found(*args)

    found = room_gain_chart.room_gain
    monkeypatch.setattr(room_gain_chart, "room_gain", counted)
    panel = RoomGainChart(document)
    qtbot.addWidget(panel)
    edit(qtbot, document, LENGTH, 7.0)
    edit(qtbot, document, PEAK, 101.0)
    assert asked == []
    panel.show()
    assert len(asked) == 1
