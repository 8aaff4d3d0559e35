"""Headroom by third octave: a bar a band, what is lacking below zero, and the band of the first limit."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.charts.bands import MOST_DB, BandsChart
from planner.desktop.document import PlanDocument
from planner.report.words import limit_text
from tests.desktop.charts.samples import BANDS_HZ, point_at, press
from tests.desktop.charts.seat_samples import PEAK, demo, edit, open_air_plan, put_up, words_of


@pytest.fixture
def map_room(qtbot):
    return put_up(qtbot, BandsChart, demo("map_room"))


def heights(chart) -> np.ndarray:
    """What each bar says, in the order of the bands."""
    rects = sorted((rect for group in chart.bars._rects.values() for rect in group), key=lambda r: r.left())
    return np.array([rect.bottom() if rect.bottom() > 0.0 else rect.top() for rect in rects])


def test_that_there_is_a_bar_for_every_third_octave_from_the_zero_line(map_room):
    chart = map_room.chart
    assert heights(chart) == pytest.approx(chart.sight.seat.bands.headroom_db)
    assert chart.zero.line().y1() == 0.0 == chart.zero.line().y2()
    lefts = sorted(rect.left() for group in chart.bars._rects.values() for rect in group)
    assert np.diff(lefts) == pytest.approx(np.full(30, 0.1))


# Pink noise has the same energy in every third octave: each of 31 alone leaves 10 log 31 = 14.9 dB more.
def test_that_pink_noise_leaves_every_band_the_same(qtbot):
    panel = put_up(qtbot, BandsChart, PlanDocument(open_air_plan()))
    together = panel.chart.sight.seat.headroom_db
    assert heights(panel.chart) == pytest.approx(np.full(31, together + 10.0 * np.log10(31.0)), abs=0.01)
    assert panel.chart.together.line().y1() == pytest.approx(together)
    assert [words for _, words in panel.chart.key_entries()] == ["all bands together"]


def test_that_the_band_of_the_first_limit_is_marked_and_named(map_room):
    chart, limit = map_room.chart, map_room.chart.sight.seat.first_limit
    middle = np.log10(limit.band_hz)
    assert chart.hardest.rect().center().x() == pytest.approx(middle)
    (bar,) = chart.bars._rects["accent"]
    assert bar.center().x() == pytest.approx(middle)
    assert words_of(chart.captions) == ["first limit: 250 Hz"]
    assert chart.headline().startswith(f"First limit: {limit_text(limit)}")


@pytest.mark.parametrize(("peak_db", "words"), [(100.0, "dB to spare"), (124.0, "dB short")])
def test_that_the_headline_says_what_is_left_or_lacking(qtbot, map_room, peak_db, words):
    edit(qtbot, map_room._document, PEAK, peak_db)
    headroom = abs(map_room.chart.sight.seat.headroom_db)
    assert map_room.chart.headline().endswith(f", {headroom:.1f} {words}")


# Headroom falls dB for dB as the target rises.
def test_that_bands_that_do_not_clear_alone_take_the_colours_of_their_verdicts(qtbot, map_room):
    seat = map_room.chart.sight.seat
    before = seat.bands.headroom_db
    edit(qtbot, map_room._document, PEAK, seat.peak_target_db + float(before.min()) + 1.0)
    chart, headroom = map_room.chart, map_room.chart.sight.seat.bands.headroom_db
    assert headroom == pytest.approx(before - before.min() - 1.0, abs=0.01)
    assert len(chart.bars._rects["short"]) == np.sum(headroom < 0.0) > 0
    assert len(chart.bars._rects["tight"]) == np.sum((headroom >= 0.0) & (headroom < 3.0)) > 0
    assert chart.scales.y.low < headroom.min()


def test_that_the_table_has_level_and_verdict_beside_the_headroom(map_room):
    bands = map_room.chart.sight.seat.bands
    band, headroom, verdict, level = map_room.chart.table().columns
    assert band.values == pytest.approx(BANDS_HZ, rel=0.02)
    assert band.text(2) == "31.5" and band.reading(20) == "2 kHz"
    assert headroom.values == pytest.approx(bands.headroom_db)
    assert level.values == pytest.approx(bands.level_db)
    assert set(verdict.values) == {"clears"}
    assert [column.unit for column in (band, headroom, level)] == ["Hz", "dB", "dB"]


def test_that_the_pointer_reads_headroom_verdict_and_level(map_room):
    bands = map_room.chart.sight.seat.bands
    point_at(map_room.chart, 260.0, 4.0)
    assert map_room.chart.reading() == (
        f"250 Hz:   Headroom alone {bands.headroom_db[11]:.1f} dB   Verdict clears"
        f"   Level, rms {bands.level_db[11]:.1f} dB"
    )
    press(map_room.chart, Qt.Key.Key_Right)
    assert map_room.chart.reading().startswith("315 Hz")


def test_that_bands_with_next_to_no_music_do_not_squeeze_the_others(qtbot, map_room):
    edit(qtbot, map_room._document, PEAK, 60.0)
    assert map_room.chart.sight.seat.bands.headroom_db.max() > MOST_DB + 12.0
    assert map_room.chart.scales.y.high < MOST_DB + 12.0


def test_that_the_summary_names_the_hardest_and_the_easiest_band(map_room):
    bands = map_room.chart.sight.seat.bands
    least, most = bands.headroom_db.min(), bands.headroom_db.max()
    text = map_room.chart.summary()
    assert f"+{least:.1f} dB at" in text and f"to +{most:.1f} dB" in text
