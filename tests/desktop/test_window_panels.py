"""The window with its real panels: they answer together, can be copied and exported, and are freed."""

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from planner.desktop.charts import Chart
from planner.desktop.editors import EditorColumn
from planner.desktop.window.panels import LOOKS, PANELS
from planner.plan import put

PEAK = ("target", "peak_db")


@pytest.fixture
def full(qtbot, all_windows, monkeypatch, sample_plan):
    """A window with every panel, as a person sees it."""
    monkeypatch.setattr(all_windows, "panels", PANELS)
    window = all_windows.show(sample_plan)
    window.make_panels()
    window.resize(1700, 1000)
    qtbot.wait(50)
    return window


def test_that_every_panel_is_there_and_the_charts_in_sight_have_names(full):
    assert isinstance(full.docks.all["editors"].panel, EditorColumn)
    names = full.charts.names()
    assert len(names) == len(set(names)) == 4
    assert all(dock.panel is not None for dock in full.docks.all.values())


def test_that_one_edit_moves_the_verdict_and_every_chart_in_sight(qtbot, full):
    before = [chart.summary() for chart in full.charts.visible()]
    sentence = full.verdict.sentence.text()
    with qtbot.waitSignal(full.document.solved):
        full.document.edit(PEAK, 106.0, "Change peak level")
    after = [chart.summary() for chart in full.charts.visible()]
    assert full.verdict.sentence.text() != sentence
    assert len(before) == 4
    assert all(old != new for old, new in zip(before, after, strict=True))
    full.document.history.undo()
    qtbot.waitUntil(lambda: [chart.summary() for chart in full.charts.visible()] == before)
    assert full.verdict.sentence.text() == sentence


@pytest.mark.parametrize("look", [look.name for look in LOOKS])
def test_that_no_chart_out_of_sight_is_drawn(qtbot, full, look):
    full.resize(1280, 800)
    full.looks.choose(look)
    qtbot.wait(300)
    drawn = []

    def watched(chart):
        draw = chart.draw

        def note(view):
            drawn.append(chart)
            draw(view)

        return note

    charts = full.findChildren(Chart)
    for chart in charts:
        chart.draw = watched(chart)
    with qtbot.waitSignal(full.document.solved):
        full.document.edit(PEAK, 106.0, "Change peak level")
    qtbot.wait(300)
    assert {chart.accessibleName() for chart in drawn} <= set(full.charts.names())
    assert len(full.charts.names()) < len(charts) - 5
    assert drawn


def test_that_the_chart_last_looked_at_is_the_one_that_is_copied(qtbot, full):
    full.activateWindow()
    qtbot.waitUntil(full.isActiveWindow)
    _, other, *_ = full.charts.visible()
    other.setFocus()
    full.verdict.candidates.setFocus()
    full.menus.actions["copy_numbers"].trigger()
    other_numbers = QApplication.clipboard().text()
    other.copy_numbers()
    assert other_numbers == QApplication.clipboard().text() != ""
    full.menus.actions["copy_picture"].trigger()
    assert not QApplication.clipboard().image().isNull()


def test_that_each_chart_in_sight_is_offered_for_export(qtbot, full):
    full.menus.export.aboutToShow.emit()
    offered = [action for action in full.menus.export.actions() if action.data() is not None]
    assert [action.text().removesuffix(" as Picture or Table…") for action in offered] == full.charts.names()
    offered[2].trigger()
    chart = full.charts.visible()[2]
    (dialog,) = chart.findChildren(QFileDialog)
    assert dialog.isVisible()
    dialog.reject()


def test_that_everything_that_can_be_reached_by_the_tab_key_has_a_name(full):
    reached = [one for one in full.findChildren(QWidget) if one.isVisible() and one.isEnabled()]
    # The line within a spin box is reached, and named, through the box.
    reached = [one for one in reached if one.focusPolicy() & Qt.FocusPolicy.TabFocus and not one.focusProxy()]
    nameless = [
        f"{type(one).__name__} in {type(one.parent()).__name__}"
        for one in reached
        if not QAccessible.queryAccessibleInterface(one).text(QAccessible.Text.Name)
    ]
    assert len(reached) > 20
    assert nameless == []


def test_that_a_plan_with_findings_shows_them_and_every_panel_survives(qtbot, full):
    with qtbot.waitSignal(full.document.solved):
        full.document.edit(("room", "length_m"), 3.0, "Change length")
    assert full.findings.isVisible()
    assert [chart.stale_look for chart in full.charts.visible()] == [True] * 4
    full.document.history.undo()
    qtbot.waitUntil(lambda: not full.findings.isVisible())
    assert [chart.stale_look for chart in full.charts.visible()] == [False] * 4


def test_that_another_plan_takes_the_place_of_the_first_in_every_panel(qtbot, full, sample_plan):
    full.document.choose(candidate=1, seat=1)
    fewer = put(sample_plan, ("candidates",), sample_plan.candidates[:1])
    full.document.reset(put(fewer, ("seats",), sample_plan.seats[:1]))
    qtbot.wait(20)
    assert full.verdict.candidates.count() == full.verdict.seats.count() == 1
    full.document.reset(put(fewer, ("room",), None))
    qtbot.wait(20)
    full.document.reset(put(sample_plan, ("room", "length_m"), 3.0))
    qtbot.wait(20)
    assert full.findings.isVisible()
    assert full.document.outcome is None


def test_that_a_closed_window_frees_its_charts_and_editors(qtbot, all_windows, monkeypatch, sample_plan):
    monkeypatch.setattr(all_windows, "panels", PANELS)
    window = all_windows.show(sample_plan)
    window.make_panels()
    qtbot.wait(50)
    window.document.edit(PEAK, 106.0, "Change peak level")
    qtbot.wait(20)
    panels = [dock.panel for dock in window.docks.all.values()]
    kept = [window, window.document, *window.findChildren(Chart), *panels]
    refs = [weakref.ref(one) for one in kept]
    assert len(refs) > len(PANELS)
    window.document.history.setClean()
    window.close()
    del kept, panels, window
    for _ in range(3):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QCoreApplication.processEvents()
    gc.collect()
    assert [type(ref()).__name__ for ref in refs if ref() is not None] == []
