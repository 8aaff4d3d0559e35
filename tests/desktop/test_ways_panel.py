"""Ways to clear: found beside the window, previewed by choosing a row, applied with one undoable click."""

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt
from PySide6.QtWidgets import QAbstractButton

from planner.desktop.background import PATIENCE_MS
from planner.desktop.charts.ladder import LadderChart
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.desktop.theme import DARK, LIGHT, Scheme, apply, chosen_scheme
from planner.desktop.ways import PreviewStrip, WaysPanel
from planner.desktop.ways.found import amount_text
from planner.headroom import compute
from planner.headroom.ways import Way, ways_to_clear
from planner.plan.units import Preference
from tests.plans import changed, open_air, plan_of

PEAK = ("target", "peak_db")
SEATS = [
    {"name": "Chair", "x_m": 4.0, "y_m": 2.0, "z_m": 1.0},
    {"name": "Stool", "x_m": 1.0, "y_m": 2.0, "z_m": 1.0},
]


@pytest.fixture
def document(qapp):
    """In open air, so that ways are found within a moment: short at the chair, clear at the stool."""
    return PlanDocument(plan_of(changed(open_air(seats=SEATS), "target", {"peak_db": 103.0})))


@pytest.fixture
def panel(qtbot, document):
    made = WaysPanel(document)
    qtbot.addWidget(made)
    made.resize(520, 320)
    made.show()
    wait_fresh(qtbot, made)
    return made


def wait_fresh(qtbot, panel):
    qtbot.waitUntil(lambda: panel._late.fresh and not panel._late.busy)


def rows(panel):
    model = panel.model
    return [[model.index(row, column).data() for column in range(3)] for row in range(model.rowCount())]


def row_of(panel, title):
    return [row[0] for row in rows(panel)].index(title)


def click_row(qtbot, panel, title):
    place = panel.table.visualRect(panel.model.index(row_of(panel, title), 0)).center()
    qtbot.mouseClick(panel.table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    QCoreApplication.processEvents()


def button(widget, text):
    (found,) = [one for one in widget.findChildren(QAbstractButton) if one.text().replace("&", "") == text]
    return found


def headroom_db(document, seat=0):
    return document.outcome.seats[seat].headroom_db


def test_that_every_way_stands_in_a_row_with_its_amount_and_what_it_gives(panel, document):
    ways = ways_to_clear(document.plan, 0, 0)
    shown = rows(panel)
    assert [row[0] for row in shown] == [
        "More watts",
        "Higher sensitivity",
        "Nearer seat",
        "Lower target",
        "More loudspeakers",
    ]
    assert shown[0][1] == f"2.5 W → {ways[0].to_value:.1f} W"
    assert shown[2][1] == f"4.00 m → {ways[2].to_value:.2f} m"
    assert [row[2] for row in shown[:4]] == ["+3.0 dB"] * 4
    assert "Chair" in panel.headline.text() and "8.2 dB short" in panel.headline.text()


def test_that_what_cannot_clear_is_said_with_the_best_that_it_could_do(qtbot, panel, document):
    best = next(way for way in ways_to_clear(document.plan, 0, 0) if way.change == "stands")
    assert best.plan is None
    assert rows(panel)[-1] == ["More loudspeakers", "not possible", f"at best {best.headroom_db:+.1f} dB"]
    click_row(qtbot, panel, "More loudspeakers")
    assert not panel.apply_button.isEnabled()
    assert document.previewed is None
    assert "less than 3 dB" in panel.detail.text()


def test_that_a_seat_that_clears_is_told_in_a_sentence_and_has_no_rows(qtbot, panel, document):
    document.choose(seat=1)
    wait_fresh(qtbot, panel)
    assert "clears Stool" in panel.headline.text() and "nothing needs to change" in panel.headline.text()
    assert not panel.table.isVisible() and not panel.apply_button.isVisible()


def test_that_a_chosen_row_is_previewed_in_the_charts_and_the_plan_stays(qtbot, panel, document):
    ladder = LadderChart(document)
    qtbot.addWidget(ladder)
    ladder.resize(600, 300)
    ladder.show()
    before = document.plan
    click_row(qtbot, panel, "More watts")
    assert headroom_db(document) == pytest.approx(3.0, abs=0.01)
    assert "3.0 dB above" in ladder.chart.headline()
    assert document.plan is before and document.history.count() == 0
    assert "All ratings of Triode" in panel.detail.text()


def test_that_coming_by_tab_previews_nothing_and_the_first_key_chooses_the_first_row(qtbot, panel, document):
    panel.apply_button.setFocus()
    panel.table.setFocus(Qt.FocusReason.TabFocusReason)
    assert document.previewed is None and panel.table.chosen_row() == -1
    qtbot.keyClick(panel.table, Qt.Key.Key_Down)
    assert panel.table.chosen_row() == 0
    assert document.preview_text.startswith("More watts")


def test_that_arrow_keys_walk_through_the_previews_and_escape_ends_them(qtbot, panel, document):
    panel.table.setFocus()
    qtbot.keyClick(panel.table, Qt.Key.Key_Down)
    first = document.previewed
    qtbot.keyClick(panel.table, Qt.Key.Key_Down)
    assert first is not None and document.previewed is not None and document.previewed is not first
    qtbot.keyClick(panel.table, Qt.Key.Key_Escape)
    assert document.previewed is None
    QCoreApplication.processEvents()
    assert headroom_db(document) == pytest.approx(-8.236, abs=0.01)


def test_that_applying_is_one_undoable_step_that_gives_what_it_claimed(qtbot, panel, document):
    before = document.plan
    click_row(qtbot, panel, "Nearer seat")
    qtbot.mouseClick(panel.apply_button, Qt.MouseButton.LeftButton)
    assert document.history.count() == 1
    assert document.history.undoText().startswith("Nearer seat: 4.00 m →")
    assert compute(document.plan).seats[0].headroom_db == pytest.approx(3.0, abs=0.1)
    wait_fresh(qtbot, panel)
    assert "nothing needs to change" in panel.headline.text()
    document.history.undo()
    assert document.plan is before
    wait_fresh(qtbot, panel)
    assert len(rows(panel)) == 5


def test_that_return_applies_the_chosen_row(qtbot, panel, document):
    panel.table.setFocus()
    qtbot.keyClick(panel.table, Qt.Key.Key_Down)
    qtbot.keyClick(panel.table, Qt.Key.Key_Return)
    assert document.plan.candidates[0].amplifiers[0].taps[0].watts > 30.0
    assert document.history.count() == 1


def test_that_an_edit_greys_the_rows_ends_the_preview_and_finds_other_ways(qtbot, panel, document):
    click_row(qtbot, panel, "More watts")
    document.edit(PEAK, 101.0, "Change peak level")
    assert not panel.table.isEnabled() and not panel.apply_button.isEnabled()
    assert document.previewed is None and not panel.table.chosen_row() >= 0
    old = rows(panel)
    assert panel.progress.isVisible()
    wait_fresh(qtbot, panel)
    assert panel.table.isEnabled() and not panel.progress.isVisible()
    assert rows(panel)[0][1] != old[0][1]


def test_that_another_seat_ends_the_preview(qtbot, panel, document):
    click_row(qtbot, panel, "More watts")
    document.choose(seat=1)
    assert document.previewed is None


def test_that_nothing_is_sought_while_the_panel_is_hidden(qtbot, document):
    panel = WaysPanel(document)
    qtbot.addWidget(panel)
    qtbot.wait(PATIENCE_MS + 60)
    assert panel._late.value is None
    panel.show()
    wait_fresh(qtbot, panel)
    assert panel.model.rowCount() == 5


def test_that_a_preview_outlives_its_panel_being_hidden_behind_another_tab(qtbot, panel, document):
    click_row(qtbot, panel, "More watts")
    panel.hide()
    QCoreApplication.processEvents()
    assert document.previewed is not None
    panel.show()
    assert document.previewed is not None and panel.table.chosen_row() == 0


def test_that_a_plan_without_an_answer_keeps_the_old_rows_greyed(qtbot, panel, document):
    with qtbot.waitSignal(document.solved):
        document.edit(("seats", 0, "x_m"), 0.01, "Move seat")
    assert document.stale
    assert panel.model.rowCount() == 5 and not panel.table.isEnabled()
    assert not panel.progress.isVisible()
    assert panel.detail.text() == "The plan has no answer yet."


def test_that_amounts_follow_the_units_preferred_and_the_preview_stays(qtbot, panel, document):
    click_row(qtbot, panel, "More watts")
    settings().units = Preference.US
    assert rows(panel)[2][1].startswith("13 ft 1 in → 3 ft ")
    assert panel.table.chosen_row() == 0 and document.previewed is not None
    settings().units = Preference.METRIC
    assert rows(panel)[2][1].startswith("4.00 m")


@pytest.mark.parametrize(
    ("way", "metric", "us"),
    [
        # 1 m² is 10.764 ft²: 16 m² are 172.2 ft², 12 m² are 129.2 ft².
        (Way("absorption", 16.0, 12.0, "m2", 3.0, object()), "16.0 m² → 12.0 m²", "172 ft² → 129 ft²"),
        (Way("stands", 2.0, 3.0, "", 3.4, object()), "2 → 3", "2 → 3"),
        (Way("watts", 2.5, 53.32, "W", 3.0, object()), "2.5 W → 53.3 W", "2.5 W → 53.3 W"),
    ],
)
def test_that_each_amount_is_said_in_its_unit(way, metric, us):
    assert amount_text(way, Preference.METRIC) == metric
    assert amount_text(way, Preference.US) == us


@pytest.fixture
def strip(qtbot, document):
    made = PreviewStrip(document)
    qtbot.addWidget(made)
    return made


def test_that_the_strip_says_what_is_previewed_only_while_it_is(qtbot, panel, strip, document):
    assert strip.isHidden()
    click_row(qtbot, panel, "More watts")
    assert not strip.isHidden()
    assert "More watts: 2.5 W →" in strip.message.text()
    qtbot.mouseClick(button(strip, "Go Back"), Qt.MouseButton.LeftButton)
    QCoreApplication.processEvents()
    assert strip.isHidden() and document.previewed is None
    assert not panel.table.chosen_row() >= 0


def test_that_the_strip_keeps_the_change_as_one_step(qtbot, panel, strip, document):
    click_row(qtbot, panel, "Lower target")
    qtbot.mouseClick(button(strip, "Keep It"), Qt.MouseButton.LeftButton)
    assert document.plan.target.peak_db == pytest.approx(91.76, abs=0.01)
    assert document.history.count() == 1
    assert strip.isHidden()


def test_that_everything_has_a_name_and_rows_say_their_verdict(panel, strip):
    for widget in (panel, panel.table, panel.progress, strip):
        assert widget.accessibleName()
    said = panel.model.index(4, 2).data(Qt.ItemDataRole.AccessibleTextRole)
    assert said.startswith("at best") and said.endswith("Tight")


def test_that_the_panel_follows_the_theme(qtbot, qapp, panel):
    before = chosen_scheme(qapp)
    try:
        for scheme, colours in ((Scheme.DARK, DARK), (Scheme.LIGHT, LIGHT)):
            apply(qapp, scheme)
            picture = panel.grab().toImage()
            assert picture.pixelColor(QPoint(6, 40)).name() == colours.pick("surface").name()
            assert panel.model.colours == colours
    finally:
        apply(qapp, before)


def test_that_a_closed_panel_is_freed(qtbot, document):
    panel, strip = WaysPanel(document), PreviewStrip(document)
    panel.show()
    wait_fresh(qtbot, panel)
    gone = [weakref.ref(one) for one in (panel, strip, panel.model, panel._late)]
    for one in (panel, strip):
        one.close()
        one.deleteLater()
    del panel, strip, one
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    document.edit(PEAK, 99.0, "Change peak level")
    qtbot.wait(10)
    assert [ref() for ref in gone] == [None] * 4
