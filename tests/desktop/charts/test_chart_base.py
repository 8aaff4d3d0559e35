"""The charts' frame: drawing when seen, sides that hold still, being freed, being told."""

import gc
import sys
import weakref

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import (
    QAccessible,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import (
    ChartPanel,
    Column,
    Curve,
    LinearScale,
    Scales,
    Table,
    watts_scale,
)
from planner.desktop.theme import DARK, LIGHT
from planner.desktop.theme.palette import palette_of
from tests.desktop.charts.samples import BANDS_HZ, LEVELS_DB, Levels, Steps, press


def test_that_a_hidden_chart_draws_nothing_and_catches_up_once_when_shown(chart):
    for _ in range(5):
        chart.show_data(LEVELS_DB)
    assert chart.drawn == 0
    chart.show()
    assert chart.drawn == 1
    assert chart.first.getData()[1] == pytest.approx(LEVELS_DB)
    chart.hide()
    chart.show()
    assert chart.drawn == 1


def test_that_redraws_build_nothing_anew(shown, qapp):
    parts = len(shown.scene().items())
    for shift in range(20):
        shown.show_data(LEVELS_DB + shift)
        qapp.processEvents()
    assert len(shown.scene().items()) == parts
    assert shown.first.getData()[1] == pytest.approx(LEVELS_DB + 19)


def test_that_curves_stand_at_the_logarithm_of_frequency(shown):
    x, _ = shown.first.getData()
    assert x == pytest.approx(np.arange(13, 44) / 10.0)


def test_that_data_beyond_the_sides_move_no_side(shown, qapp):
    before = shown.plotItem.vb.viewRange()
    shown.show_data(LEVELS_DB + 500.0)
    qapp.processEvents()
    assert shown.plotItem.vb.viewRange() == before
    assert before == [pytest.approx([np.log10(20), np.log10(20000)]), pytest.approx([60.0, 100.0])]


def test_that_a_chart_without_a_single_number_is_drawn_empty(shown, qapp):
    shown.first.show_points(BANDS_HZ, np.full(31, np.nan))
    shown.second.show_points([], [])
    qapp.processEvents()
    assert shown.grab().width() == round(640 * shown.devicePixelRatioF())


def test_that_values_with_no_place_on_a_log_side_leave_a_gap_without_a_warning(shown):
    scales = Scales(LinearScale("x", "", 0, 3), watts_scale("Watts"))
    curve = Curve(scales, "", "series 0")
    curve.show_points([0, 1, 2, 3], [1.0, 0.0, -2.0, 100.0])
    assert np.array_equal(curve.getData()[1], [0.0, np.nan, np.nan, 2.0], equal_nan=True)


def test_that_the_parts_follow_when_a_side_changes(shown):
    shown.set_scales(shown.scales.x, LinearScale("Level", "dB", 0.0, 200.0))
    assert shown.plotItem.vb.viewRange()[1] == pytest.approx([0.0, 200.0])
    shown.set_scales(LinearScale("Frequency", "Hz", 0.0, 20000.0), shown.scales.y)
    assert shown.first.getData()[0] == pytest.approx(BANDS_HZ)
    line = shown.target.line()
    assert (line.x1(), line.x2(), line.y1(), line.y2()) == pytest.approx((0.0, 20000.0, 85.0, 85.0))


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is immortal there")
def test_that_redraws_do_not_use_up_the_references_to_none(shown, qapp):
    shown.show_data(LEVELS_DB)
    qapp.processEvents()
    before = sys.getrefcount(None)
    for shift in range(50):
        shown.show_data(LEVELS_DB + shift)
        qapp.processEvents()
    assert sys.getrefcount(None) >= before


def test_that_two_thousand_live_redraws_survive(shown, qapp):
    painted = shown.drawn
    for shift in range(2000):
        shown.show_data(LEVELS_DB + shift % 7)
        qapp.processEvents()
    assert shown.drawn == painted + 2000


@pytest.mark.parametrize("build", [Levels, Steps, lambda: ChartPanel(Levels())])
def test_that_a_closed_chart_is_freed(qapp, build):
    widget = build()
    chart = getattr(widget, "chart", widget)
    widget.show()
    chart.show_data(LEVELS_DB[:3] if isinstance(chart, Steps) else LEVELS_DB)
    press(chart, Qt.Key.Key_End)
    chart.menu()
    qapp.processEvents()
    gone = [weakref.ref(widget), weakref.ref(chart), weakref.ref(chart.parts[0])]
    widget.close()
    widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del widget, chart
    gc.collect()
    assert [reference() for reference in gone] == [None, None, None]


def test_that_a_closed_chart_can_be_shown_again(shown, qapp):
    shown.close()
    shown.show_data(LEVELS_DB + 1.0)
    shown.show()
    qapp.processEvents()
    assert shown.first.getData()[1] == pytest.approx(LEVELS_DB + 1.0)


def test_that_neither_wheel_nor_drag_moves_the_chart_and_the_wheel_is_left_to_what_holds_it(qtbot, shown):
    before = shown.plotItem.vb.viewRange()
    where = QPointF(200.0, 100.0)
    turn = QWheelEvent(
        where,
        QPointF(shown.viewport().mapToGlobal(where.toPoint())),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QCoreApplication.sendEvent(shown.viewport(), turn)
    assert not turn.isAccepted()
    for button in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton, Qt.MouseButton.RightButton):
        qtbot.mousePress(shown.viewport(), button, pos=QPoint(200, 100))
        qtbot.mouseMove(shown.viewport(), QPoint(300, 180))
        qtbot.mouseRelease(shown.viewport(), button, pos=QPoint(300, 180))
    assert shown.plotItem.vb.viewRange() == before


def test_that_the_menu_is_ours_and_the_librarys_is_off(shown):
    assert not shown.plotItem.vb.menuEnabled()
    assert not shown.plotItem.getMenu() or not shown.plotItem.menuEnabled()
    assert shown.plotItem.buttonsHidden
    texts = [action.text().replace("&", "") for action in shown.menu().actions() if action.text()]
    assert texts == ["Copy picture", "Copy numbers", "Save as…", "Show as table"]


def test_that_another_palette_recolours_everything_at_once(shown, qapp):
    shown.setPalette(palette_of(DARK))
    qapp.processEvents()
    assert shown.backgroundBrush().color() == DARK.pick("surface")
    assert shown.first.opts["pen"].color() == DARK.pick("series 0")
    image = shown.grab().toImage()
    assert image.pixelColor(image.width() - 8, 8) == DARK.pick("surface")
    shown.setPalette(palette_of(LIGHT))
    qapp.processEvents()
    assert shown.first.opts["pen"].color() == LIGHT.pick("series 0")


def test_that_figures_follow_the_size_of_the_font(shown, qapp):
    before = shown._left.size().width()
    font = shown.font()
    font.setPointSizeF(3.0 * font.pointSizeF())
    shown.setFont(font)
    qapp.processEvents()
    assert shown._left.size().width() > 1.5 * before


def test_that_an_old_answer_is_dimmed_and_said_to_be_old(panel):
    panel.set_stale_look(True)
    assert panel.chart.first.opacity() < 0.5
    assert panel.chart.accessibleDescription().startswith("Out of date")
    panel.set_stale_look(False)
    assert panel.chart.first.opacity() == 1.0
    assert panel.chart.accessibleDescription() == panel.chart.summary()


def test_that_a_chart_has_a_name_and_its_content_in_words(shown):
    interface = QAccessible.queryAccessibleInterface(shown)
    assert interface.text(QAccessible.Text.Name) == "Level by band"
    assert interface.text(QAccessible.Text.Description) == shown.summary()


def test_that_everything_in_a_panel_that_takes_the_focus_has_a_name(panel):
    panel.show_table(True)
    takers = [child for child in panel.findChildren(QWidget) if child.focusPolicy() != Qt.FocusPolicy.NoFocus]
    seen = [child for child in takers if child.isVisible() and child.parent() is not panel._numbers]
    assert seen
    for child in seen:
        interface = QAccessible.queryAccessibleInterface(child)
        assert interface.text(QAccessible.Text.Name), child


def test_that_the_panel_says_the_headline_and_follows_it(panel, qapp):
    panel.chart.show_data(np.full(31, 91.0))
    assert panel._headline.text() == "The loudest band has 91.0 dB"


def test_that_the_table_stands_in_the_charts_place_and_follows_the_data(panel, qapp):
    panel.chart.menu().table_action.trigger()
    assert panel.shows_table and not panel.chart.isVisible()
    assert panel.chart.menu().table_action.isChecked()
    panel.chart.show_data(np.full(31, 71.25))
    model = panel._numbers.model()
    headers = [model.headerData(n, Qt.Orientation.Horizontal) for n in range(model.columnCount())]
    assert headers == ["Band (Hz)", "Direct (dB)", "Reverberant (dB)"]
    assert [model.data(model.index(0, n)) for n in range(3)] == ["20", "71.2", "68.2"]
    panel.chart.menu().table_action.trigger()
    assert not panel.shows_table
    assert panel.chart.first.getData()[1] == pytest.approx(np.full(31, 71.25))


def test_that_a_table_of_unequal_columns_is_refused():
    with pytest.raises(ValueError, match="differ in length"):
        Table((Column("a", "", np.zeros(2)), Column("b", "", np.zeros(3))))
