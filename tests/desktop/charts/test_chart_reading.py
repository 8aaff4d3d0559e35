"""Reading a chart by pointer and by keys."""

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import (
    QFocusEvent,
)

from planner.desktop.charts import (
    export,
)
from planner.desktop.charts.export import ExportError, Kind
from planner.desktop.charts.figures import figure
from planner.desktop.charts.reading import nearest
from tests.desktop.charts.samples import LEVELS_DB, Steps, point_at, press


def test_that_the_pointer_reads_the_nearest_band_with_units(panel):
    point_at(panel.chart, 1050.0, 70.0)
    level = figure(float(LEVELS_DB[17]), 1)
    behind = figure(float(LEVELS_DB[17] - 3.0), 1)
    assert panel.chart.reading() == f"1 kHz:   Direct {level} dB   Reverberant {behind} dB"
    assert panel.chart._reader.cursor.rect().center().x() == pytest.approx(3.0)
    assert panel._strip.text() == panel.chart.reading()
    QCoreApplication.sendEvent(panel.chart, QEvent(QEvent.Type.Leave))
    assert panel.chart.reading() == ""
    assert not panel.chart._reader.cursor.isVisible()


def test_that_the_pointer_outside_the_field_reads_nothing(shown):
    point_at(shown, 1000.0, 80.0)
    point_at(shown, 1000.0, 45.0)
    assert shown.reading() == ""


def test_that_the_arrow_keys_walk_over_the_points_and_escape_ends_it(shown):
    rows = []
    for key in (
        Qt.Key.Key_Right,
        Qt.Key.Key_Right,
        Qt.Key.Key_End,
        Qt.Key.Key_Right,
        Qt.Key.Key_Left,
        Qt.Key.Key_Home,
    ):
        assert press(shown, key)
        rows.append(shown.row_read)
    assert rows == [0, 1, 30, 30, 29, 0]
    assert shown.reading().startswith("20 Hz")
    QCoreApplication.sendEvent(shown, QEvent(QEvent.Type.Leave))
    assert shown.row_read == 0
    assert press(shown, Qt.Key.Key_Escape)
    assert shown.row_read is None


@pytest.mark.parametrize("key", [Qt.Key.Key_Escape, Qt.Key.Key_Up, Qt.Key.Key_A, Qt.Key.Key_Tab])
def test_that_keys_the_chart_does_not_know_go_on_to_the_window(shown, key):
    assert not press(shown, key)


def test_that_a_reading_follows_the_data(shown):
    press(shown, Qt.Key.Key_Home)
    shown.show_data(np.full(31, 71.5))
    assert shown.reading() == "20 Hz:   Direct 71.5 dB   Reverberant 68.5 dB"


def test_that_rows_are_read_downward_by_their_names(qtbot, qapp):
    chart = Steps()
    qtbot.addWidget(chart)
    chart.resize(500, 260)
    chart.show()
    chart.show_data(np.array([96.0, 105.0, 93.9]))
    press(chart, Qt.Key.Key_Down)
    press(chart, Qt.Key.Key_Down)
    assert chart.reading() == "watts:   Level 105.0 dB"
    row = chart._reader.cursor.rect()
    assert (row.top(), row.bottom()) == pytest.approx((-1.5, -0.5))


def test_that_a_chart_without_data_reads_nothing_and_copies_nothing(chart, clipboard):
    chart.show()
    assert not press(chart, Qt.Key.Key_Right)
    chart.copy_numbers()
    chart.copy_picture()
    assert clipboard.text() == "" and clipboard.image().isNull()
    with pytest.raises(ExportError):
        export.save(chart, "nowhere.png", Kind.PNG)


def test_that_places_that_are_no_numbers_are_passed_over():
    assert nearest(np.array([np.nan, 1.0, 4.0]), 3.0) == 2
    assert nearest(np.array([np.nan]), 3.0) is None


@pytest.mark.parametrize(
    ("reason", "ringed"),
    [
        (Qt.FocusReason.TabFocusReason, True),
        (Qt.FocusReason.ShortcutFocusReason, True),
        (Qt.FocusReason.MouseFocusReason, False),
    ],
)
def test_that_focus_by_keys_is_ringed(shown, reason, ringed):
    QCoreApplication.sendEvent(shown, QFocusEvent(QEvent.Type.FocusIn, reason))
    assert shown._ring.isVisible() is ringed
    press(shown, Qt.Key.Key_Home)
    assert shown._ring.isVisible()
    QCoreApplication.sendEvent(shown, QFocusEvent(QEvent.Type.FocusOut, reason))
    assert not shown._ring.isVisible()
