"""What a wider baffle buys, shown, read and set."""

import gc
import weakref

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent

from planner.desktop.charts.baffle import BaffleChart
from planner.desktop.charts.baffle_sides import round_about
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.headroom import compute
from planner.headroom.baffle import AT_HZ, baffle_curve
from planner.plan import put
from planner.plan.units import Preference
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import edit, open_air_plan, put_up, words_of

WIDTH = ("candidates", 0, "loudspeaker", "baffle_width_m")
STEPS = 12


@pytest.fixture
def up(qtbot, document):
    return put_up(qtbot, BaffleChart, document)


def mouse(chart, kind, across_px, button=Qt.MouseButton.LeftButton):
    """A mouse event so far from the left of the field, half way up."""
    field = chart.plotItem.vb.sceneBoundingRect()
    where = QPointF(chart.mapFromScene(QPointF(field.left() + across_px, field.center().y())))
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    held = none if kind in (QEvent.Type.MouseButtonRelease,) else left
    pressed = none if kind is QEvent.Type.MouseMove else button
    event = QMouseEvent(
        kind,
        where,
        QPointF(chart.viewport().mapToGlobal(where.toPoint())),
        pressed,
        held,
        Qt.KeyboardModifier.NoModifier,
    )
    QCoreApplication.sendEvent(chart.viewport(), event)


def across_px(chart, width_m):
    return chart.scales.x.share(width_m) * chart.plotItem.vb.width()


def drag(chart, width_m, *, let_go=True):
    """Take the handle and bring it to a width, as a hand does: in many small moves."""
    start, end = across_px(chart, chart.handle.value), across_px(chart, width_m)
    mouse(chart, QEvent.Type.MouseMove, start)
    mouse(chart, QEvent.Type.MouseButtonPress, start)
    for step in range(1, STEPS + 1):
        mouse(chart, QEvent.Type.MouseMove, start + (end - start) * step / STEPS)
    if let_go:
        mouse(chart, QEvent.Type.MouseButtonRelease, end)


def test_that_the_curves_are_those_of_the_computation(up, document):
    curve = baffle_curve(document.plan, 0, 0)
    assert up.chart.level.shown[0] == pytest.approx(curve.width_m)
    assert up.chart.level.shown[1] == pytest.approx(curve.level_db)
    table = up.chart.table()
    assert table.headers == ["Width (m)", "Level at 100 Hz (dB)", "Watts needed (W)"]
    assert table.columns[2].values == pytest.approx(curve.watts_needed)


def test_that_watts_stand_beside_the_figures_of_the_right_side(up):
    chart, watts = up.chart, up.chart.shown.curve.watts_needed
    scale, left = chart.right.scale_shown, chart.scales.y
    assert scale.low <= watts.min() and watts.max() <= scale.high
    share = (np.asarray(chart.watts.shown[1]) - left.low) / (left.high - left.low)
    assert scale.low + share * (scale.high - scale.low) == pytest.approx(watts)


def test_that_the_present_width_is_marked_where_nothing_changes(up, document):
    assert up.chart.handle.value == pytest.approx(0.6)
    level_db, watts = up.chart.shown.bought(up.chart.shown.curve, 0.6)
    assert level_db == pytest.approx(0.0, abs=1e-9)
    assert watts == pytest.approx(document.outcome.seats[0].watts_needed, rel=1e-6)
    assert "now 0.60 m" in words_of(up.chart.captions)


def test_that_what_the_headline_says_comes_true(up, document):
    wider = put(document.plan, WIDTH, 1.2)
    before, after = (compute(plan).seats[0] for plan in (document.plan, wider))
    band = int(np.argmin(np.abs(before.bands.centre_hz - AT_HZ)))
    # The target holds the peak, so that at one EMF the level has changed by as much as the headroom less.
    level_db = (after.bands.level_db - before.bands.level_db)[band]
    level_db += after.headroom_db - before.headroom_db
    assert f"A baffle of 1.20 m buys +{level_db:.1f} dB" in up.chart.headline()
    assert f"{after.watts_needed:.2g}" in up.chart.headline()


def test_that_a_drag_sets_the_width_in_centimetres_as_one_undo_step(up, document):
    before = document.plan
    drag(up.chart, 1.234)
    width = document.plan.candidates[0].loudspeaker.baffle_width_m
    assert width == pytest.approx(1.23, abs=0.011) and round(width, 2) == width
    assert document.history.count() == 1 and document.history.undoText() == "Change baffle width"
    document.history.undo()
    assert document.plan is before


def test_that_the_answer_moves_while_the_handle_is_dragged_and_the_curve_stands_still(qtbot, up, document):
    shown = np.array(up.chart.level.shown[1])
    headroom_db = document.outcome.seats[0].headroom_db
    with qtbot.waitSignal(document.solved):
        drag(up.chart, 1.5, let_go=False)
    qtbot.wait(100)
    assert document.outcome.seats[0].headroom_db > headroom_db
    assert up.chart.level.shown[1] == pytest.approx(shown)
    (words,) = [text for text in words_of(up.chart.captions) if "W" in text]
    assert words.startswith("1.50 m:") and "dB" in words
    mouse(up.chart, QEvent.Type.MouseButtonRelease, across_px(up.chart, 1.5))
    # Let go, it counts from the new width.
    assert up.chart.level.shown[1] == pytest.approx(baffle_curve(document.plan, 0, 0).level_db)
    assert "now 1.50 m" in words_of(up.chart.captions)


def test_that_escape_puts_the_width_back(qtbot, up, document):
    before = document.plan
    drag(up.chart, 1.5, let_go=False)
    press(up.chart, Qt.Key.Key_Escape)
    mouse(up.chart, QEvent.Type.MouseMove, 10.0)
    assert document.plan == before and document.history.count() == 0


def test_that_a_drag_elsewhere_moves_nothing(up, document):
    far = across_px(up.chart, 1.5)
    mouse(up.chart, QEvent.Type.MouseButtonPress, far)
    mouse(up.chart, QEvent.Type.MouseMove, far + 40.0)
    mouse(up.chart, QEvent.Type.MouseButtonRelease, far + 40.0)
    assert document.history.count() == 0
    assert up.chart.handle.value == pytest.approx(0.6)


def test_that_a_double_click_brings_the_handle(up, document):
    mouse(up.chart, QEvent.Type.MouseButtonDblClick, across_px(up.chart, 1.0))
    assert document.plan.candidates[0].loudspeaker.baffle_width_m == pytest.approx(1.0, abs=0.011)
    assert document.history.count() == 1


def test_that_enter_sets_the_width_that_is_read(up, document):
    press(up.chart, Qt.Key.Key_End)
    assert up.chart.reading().startswith("2.4 m") or up.chart.reading().startswith("2.40 m")
    press(up.chart, Qt.Key.Key_Return)
    assert document.plan.candidates[0].loudspeaker.baffle_width_m == pytest.approx(2.4)
    assert "Enter sets the width" in up.chart.summary()


def test_that_widths_are_set_in_half_inches_for_who_reads_feet(qtbot, up, document):
    settings().units = Preference.US
    qtbot.waitUntil(lambda: up.chart.scales.x.unit == "ft")
    drag(up.chart, 4.0)
    halves = document.plan.candidates[0].loudspeaker.baffle_width_m / 0.0127
    assert halves == pytest.approx(round(halves), abs=1e-3) and halves == pytest.approx(96.0, abs=1.1)


@pytest.mark.parametrize(
    ("change", "value", "why"),
    [
        (("radiates_into",), "free_field", "stated in free field"),
        (("baffle_width_m",), "wall", "the wall is the baffle"),
    ],
)
def test_that_it_says_why_nothing_is_to_be_gained(qtbot, document, change, value, why):
    plan = put(document.plan, ("candidates", 0, "loudspeaker", *change), value)
    for stand, x_m in ((0, 0.0), (1, 0.0)):
        plan = put(plan, ("stands", stand, "x_m"), x_m)
    up = put_up(qtbot, BaffleChart, PlanDocument(plan))
    assert why in up.chart.headline() and why in up.chart.summary()
    assert not up.chart.handle.isVisible()
    press(up.chart, Qt.Key.Key_End)
    press(up.chart, Qt.Key.Key_Return)
    assert up._document.history.count() == 0


def test_that_an_open_baffle_is_told_to_have_no_step(qtbot, document):
    dipole = {"kind": "dipole"}
    loudspeaker = document.plan.candidates[0].loudspeaker.model_dump(exclude_none=True)
    loudspeaker["radiates_into"] = "free_field"
    for section in loudspeaker["sections"]:
        section["radiator"] = dipole
    plan = put(document.plan, ("candidates", 0, "loudspeaker"), loudspeaker)
    up = put_up(qtbot, BaffleChart, PlanDocument(plan))
    assert "gradient source" in up.chart.headline()


def test_that_open_air_and_plans_out_of_date_are_no_trouble(qtbot, up, document):
    assert put_up(qtbot, BaffleChart, PlanDocument(open_air_plan())).chart.has_data
    edit(qtbot, document, ("seats", 0, "x_m"), 90.0)
    assert up.chart.stale_look and all(part.opacity() < 0.5 for part in up.chart.parts)


def test_that_a_hidden_chart_computes_nothing(qtbot, document, monkeypatch):
    from planner.desktop.charts import baffle_view

    computed = []
    monkeypatch.setattr(baffle_view, "baffle_curve", lambda *about: computed.append(about))
    panel = BaffleChart(document)
    qtbot.addWidget(panel)
    edit(qtbot, document, ("target", "peak_db"), 101.0)
    assert computed == []


def test_that_a_closed_chart_is_freed(qapp, document):
    panel = BaffleChart(document)
    panel.show()
    qapp.processEvents()
    drag(panel.chart, 1.0)
    gone = [weakref.ref(panel), weakref.ref(panel.chart), weakref.ref(panel.chart.handle)]
    panel.close()
    panel.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del panel
    gc.collect()
    assert [reference() for reference in gone] == [None, None, None]
    document.solved.emit()


@pytest.mark.parametrize("values", [(0.58, 0.684), (2.5, 2.5), (0.0004, 12.0), (99.0, 101.0)])
def test_that_the_right_side_ends_in_round_figures_about_the_watts(values):
    low, high = round_about(np.array(values))
    assert low < min(values) and max(values) < high
    assert low >= 0.0 and f"{low:.3g}" == f"{low:g}" and f"{high:.3g}" == f"{high:g}"
