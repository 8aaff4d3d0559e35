"""The sides of a chart: exact places, and figures that never touch."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QLocale
from PySide6.QtGui import (
    QFontMetricsF,
)

from planner.desktop.charts import (
    LinearScale,
    LogScale,
    NameScale,
    frequency_scale,
    names_scale,
    watts_scale,
)
from planner.desktop.charts.figures import figure, nominal_hz, significant, watts_text
from planner.desktop.charts.scales import fitting
from tests.desktop.charts.samples import BANDS_HZ


# IEC 61260-1: octaves have the exact mid frequencies 10^(3n/10); the figures are their nominal names.
def test_that_a_wide_frequency_side_bears_all_ten_octaves_at_their_exact_places():
    ticks = fitting(frequency_scale("Frequency"), 800.0, lambda text: 8.0 * len(text), 12.0)
    assert [tick.text for tick in ticks] == ["31.5", "63", "125", "250", "500", "1k", "2k", "4k", "8k", "16k"]
    assert [tick.place for tick in ticks] == pytest.approx(np.arange(15, 43, 3) / 10.0)


@given(st.floats(70.0, 900.0))
def test_that_a_narrow_frequency_side_thins_its_octaves_and_keeps_1k(width_px):
    ticks = fitting(frequency_scale("Frequency"), width_px, lambda text: 8.0 * len(text), 12.0)
    assert "1k" in [tick.text for tick in ticks]


SIDES = st.sampled_from(
    [
        frequency_scale("Frequency"),
        watts_scale("Watts", 0.01, 1000.0),
        watts_scale("Watts", 0.3, 70.0),
        LinearScale("Level", "dB", -3.7, 112.2),
        LinearScale("Distance", "m", 0.5, 8.0),
        LinearScale("Sensitivity", "dB", 82.0, 112.0, steps=(3.0, 6.0, 12.0), origin=82.0),
        names_scale(("one watt", "watts", "peak over sine", "distance"), downward=False),
    ]
)


@given(SIDES, st.floats(0.0, 2000.0), st.floats(4.0, 16.0))
def test_that_figures_never_touch_and_never_stand_beyond_the_ends(scale, length_px, letter_px):
    ticks = fitting(scale, length_px, lambda text: letter_px * len(text), 12.0)
    low, high = scale.ends
    spans = []
    for tick in ticks:
        assert low - 1e-9 <= tick.place <= high + 1e-9
        middle = (tick.place - low) / (high - low) * length_px
        spans.append((middle - letter_px * len(tick.text) / 2, middle + letter_px * len(tick.text) / 2))
    assert all(after[0] - before[1] >= 12.0 - 1e-6 for before, after in pairwise(spans))


def test_that_a_watts_side_runs_by_1_2_5_from_milliwatts():
    ticks = fitting(watts_scale("Watts", 0.01, 200.0), 3000.0, lambda text: 8.0 * len(text), 12.0)
    assert " ".join(tick.text.replace(" ", "") for tick in ticks) == (
        "10mW 20mW 50mW 100mW 200mW 500mW 1W 2W 5W 10W 20W 50W 100W 200W"
    )
    few = fitting(watts_scale("Watts", 0.01, 200.0), 260.0, lambda text: 8.0 * len(text), 12.0)
    assert [tick.text for tick in few] == ["10 mW", "100 mW", "1 W", "10 W", "100 W"]


def test_that_figures_of_one_side_have_the_same_decimals():
    ticks = fitting(LinearScale("Distance", "m", 0.5, 3.0), 400.0, lambda text: 20.0, 12.0)
    assert [tick.text for tick in ticks] == ["0.5", "1.0", "1.5", "2.0", "2.5", "3.0"]


def test_that_ticks_count_from_the_origin_of_a_side():
    scale = LinearScale("Sensitivity", "dB", 82.0, 112.0, steps=(3.0, 6.0), origin=82.0)
    ticks = fitting(scale, 800.0, lambda text: 24.0, 12.0)
    assert [tick.text for tick in ticks] == [str(db) for db in range(82, 113, 3)]


@pytest.mark.parametrize(
    "make",
    [
        pytest.param(lambda: LinearScale("Level", "dB", 90.0, 90.0), id="no span"),
        pytest.param(lambda: LinearScale("Level", "dB", 90.0, float("nan")), id="not a number"),
        pytest.param(lambda: LogScale("Watts", "W", 0.0, 10.0), id="a log side from 0"),
    ],
)
def test_that_a_side_without_a_span_is_refused(make):
    with pytest.raises(ValueError):
        make()


def test_that_names_stand_in_rows_from_the_top():
    scale = names_scale(("first", "second"))
    assert isinstance(scale, NameScale)
    assert [tick.text for tick in next(scale.choices())] == ["first", "second"]
    assert scale.place(0) > scale.place(1)
    assert scale.ends == (-1.5, 0.5)


# ISO 266 and IEC 61260-1 annex E: the nominal frequencies of the 31 third octaves from 20 Hz.
def test_that_bands_are_called_by_their_nominal_frequencies():
    named = "20 25 31.5 40 50 63 80 100 125 160 200 250 315 400 500 630 800 1000 1250 1600 2000 2500"
    named += " 3150 4000 5000 6300 8000 10000 12500 16000 20000"
    assert [nominal_hz(hz) for hz in BANDS_HZ] == [float(hz) for hz in named.split()]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0 W"), (0.0025, "2.5 mW"), (0.9999, "1 W"), (7.95, "7.95 W"), (999.4, "999 W"), (999.7, "1 kW")],
)
def test_that_watts_take_the_unit_that_reads_best(value, text):
    assert watts_text(value) == text


def test_that_numbers_follow_the_readers_locale_and_have_a_true_minus():
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    try:
        assert (figure(-12345.67, 1), significant(0.25)) == ("−12345,7", "0,25")
    finally:
        QLocale.setDefault(before)
    assert figure(float("nan"), 1) == "–"


@pytest.mark.parametrize("width", [200, 320, 640, 1200])
def test_that_figures_and_grid_lines_share_their_places(shown, qapp, width):
    shown.resize(width, 300)
    qapp.processEvents()
    upright = {line.x1() for line in shown._grid.lines if line.x1() == line.x2()}
    assert upright == {tick.place for tick in shown._bottom.ticks}
    assert upright


def test_that_the_last_figure_and_the_names_fit_into_the_widget(shown, qapp):
    shown.set_scales(
        LinearScale("Distance", "m", 0.0, 12000.0), names_scale(("a very long name indeed", "b"))
    )
    qapp.processEvents()
    bottom, left = shown._bottom, shown._left
    edge = bottom.sceneBoundingRect().left() + 60.0  # the axis paints up to 60 px beyond its ends
    widest = max(QFontMetricsF(bottom._font).horizontalAdvance(tick.text) for tick in bottom.ticks)
    assert edge + bottom.size().width() + widest / 2.0 <= shown.width() + 1.0
    assert left.size().width() >= QFontMetricsF(left._font).horizontalAdvance("a very long name indeed")
