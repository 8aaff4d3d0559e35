"""Candidates side by side: the table, what can be done there, and the curves laid over one another."""

import gc
import math
import weakref

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit, QMessageBox

from planner.desktop.background import PATIENCE_MS
from planner.desktop.compare import ComparePanel
from planner.desktop.compare.overlay import Kind
from planner.desktop.compare.table_file import TableDialog, save_table
from planner.desktop.document import PlanDocument
from planner.desktop.theme import DARK, Scheme, apply, chosen_scheme
from planner.headroom import compute_all
from planner.headroom.answer import answer
from planner.plan import put
from planner.report.words import chance_text, limit_text, verdict_word, watts_text
from tests.plans import amplifier, candidate, in_room, plan_of

SEATS = [
    {"name": "Chair", "x_m": 4.0, "y_m": 2.0, "z_m": 1.0},
    {"name": "Stool", "x_m": 7.0, "y_m": 4.0, "z_m": 1.0},
]
SILENT = {"hum_mv": 0.0, "mains_hz": 50.0, "hiss_mv": 0.001, "weighting": "A"}
LOUD = {"hum_mv": 20.0, "mains_hz": 50.0, "hiss_mv": 5.0, "weighting": "A"}
PEAK = ("target", "peak_db")


def taps(watts):
    return [{"ohm": 8.0, "watts": watts, "distortion_pct": 3.0, "output_ohm": 0.0}]


def data(**changes):
    """Three systems that differ in watts, noise and price only."""
    return in_room(
        seats=SEATS,
        candidates=[
            candidate(name="Middle", amplifiers=[amplifier(taps=taps(2.5), residual=SILENT)]),
            candidate(name="Weak", amplifiers=[amplifier(taps=taps(0.4))]),
            candidate(
                name="Ample",
                amplifiers=[amplifier(taps=taps(10.0), residual=LOUD)],
                price={"amount": 12500.0, "currency": "EUR"},
            ),
        ],
        **changes,
    )


@pytest.fixture
def document(qapp):
    return PlanDocument(plan_of(data()))


@pytest.fixture
def panel(qtbot, document):
    return put_up(qtbot, document)


def put_up(qtbot, document, size=(1100, 900)):
    made = ComparePanel(document)
    qtbot.addWidget(made)
    made.resize(*size)
    made.show()
    wait_fresh(qtbot, made)
    return made


def wait_fresh(qtbot, panel):
    qtbot.waitUntil(lambda: panel._late.fresh and not panel._late.busy)
    for _ in range(3):
        QCoreApplication.processEvents()


def column(panel, title):
    """What the table shows in one column, row by row as it is sorted now."""
    model = panel.table.model()
    titles = [one.title for one in panel.model.columns]
    return [model.index(row, titles.index(title)).data() for row in range(model.rowCount())]


def names(panel):
    return column(panel, "Candidate")


def click_head(panel, title):
    heads = panel.table.horizontalHeader()
    section = [one.title for one in panel.model.columns].index(title)
    if section == 0:
        panel.table.frozen.horizontalHeader().sectionClicked.emit(0)
        return
    here, order = heads.sortIndicatorSection(), heads.sortIndicatorOrder()
    if here != section:
        heads.setSortIndicator(section, Qt.SortOrder.AscendingOrder)
    elif order == Qt.SortOrder.AscendingOrder:
        heads.setSortIndicator(section, Qt.SortOrder.DescendingOrder)
    else:
        heads.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)


def press(qtbot, panel, key, modifier=Qt.KeyboardModifier.NoModifier):
    panel.table.setFocus()
    qtbot.keyClick(panel.table, key, modifier)
    for _ in range(3):
        QCoreApplication.processEvents()


def test_that_each_row_says_what_the_outcome_of_that_candidate_at_its_worst_seat_is(panel, document):
    worst = [outcome.worst for outcome in compute_all(document.plan)]
    assert names(panel) == ["Middle", "Weak", "Ample"]
    assert column(panel, "Verdict") == [verdict_word(seat.verdict) for seat in worst]
    assert column(panel, "Headroom") == [f"{seat.headroom_db:+.1f} dB".replace("-", "−") for seat in worst]
    assert column(panel, "Watts needed") == [watts_text(seat.watts_needed) for seat in worst]
    assert column(panel, "Watts rated") == ["2.5 W", "0.4 W", "10.0 W"]
    assert column(panel, "Loudest peak") == [f"{seat.loudest_peak_db:.1f} dB" for seat in worst]
    assert column(panel, "1 W at 1 m") == ["100.0 dB"] * 3
    assert column(panel, "First limit") == [limit_text(seat.first_limit) for seat in worst]
    assert column(panel, "Seat") == [seat.name for seat in worst]


def test_that_chance_and_noise_follow_beside_the_window(panel, document):
    answers = [answer(document.plan, index, with_ways=False).worst for index in range(3)]
    assert column(panel, "Chance") == [chance_text(one.certainty.chance_unclipped) for one in answers]
    assert column(panel, "Hum and hiss") == ["not heard", "not given", "heard"]


def test_that_they_are_not_shown_for_another_plan(qtbot, panel, document):
    with qtbot.waitSignal(document.solved):
        document.edit(PEAK, 93.0, "Change peak level")
    assert column(panel, "Chance") == ["…"] * 3 and column(panel, "Hum and hiss") == ["…"] * 3
    wait_fresh(qtbot, panel)
    assert "…" not in column(panel, "Chance")


def test_that_a_seat_can_be_chosen_for_all(panel, document):
    assert panel.card.seats.currentText() == "its worst seat"
    panel.card.seats.setCurrentIndex(1)
    panel.card.seats.activated.emit(1)
    at_chair = [outcome.seats[0].headroom_db for outcome in compute_all(document.plan)]
    assert column(panel, "Seat") == ["Chair"] * 3
    assert column(panel, "Headroom") == [f"{value:+.1f} dB".replace("-", "−") for value in at_chair]
    assert "at Chair" in panel.curves.panel.chart.headline()


def test_that_a_click_on_a_row_looks_at_that_candidate_and_the_row_follows(qtbot, panel, document):
    place = panel.table.frozen.visualRect(panel.table.model().index(2, 0)).center()
    qtbot.mouseClick(panel.table.frozen.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert document.candidate == 2 and document.history.count() == 0
    document.choose(candidate=1)
    assert panel.table.chosen_row() == 1


def test_that_arrow_keys_look_at_the_next_candidate(qtbot, panel, document):
    press(qtbot, panel, Qt.Key.Key_Down)
    assert document.candidate == 1
    press(qtbot, panel, Qt.Key.Key_Down)
    assert document.candidate == 2


def test_that_heads_sort_by_size_and_a_third_click_gives_the_order_of_the_plan_back(panel, document):
    click_head(panel, "Watts rated")
    assert names(panel) == ["Weak", "Middle", "Ample"]
    click_head(panel, "Watts rated")
    assert names(panel) == ["Ample", "Middle", "Weak"]
    click_head(panel, "Watts rated")
    assert names(panel) == ["Middle", "Weak", "Ample"]
    click_head(panel, "Candidate")
    assert names(panel) == ["Ample", "Middle", "Weak"]
    assert document.plan.candidates[0].name == "Middle"


def test_that_a_sorted_row_still_looks_at_its_own_candidate(qtbot, panel, document):
    click_head(panel, "Watts rated")
    panel.table.look_at(1)
    press(qtbot, panel, Qt.Key.Key_Down)
    assert document.candidate == 0
    assert panel.table.chosen_row() == 1


def test_that_prices_are_shown_only_if_asked_for_and_sort_with_the_unknown_last(panel):
    titles = [one.title for one in panel.model.columns]
    assert "Price" not in titles
    panel.table.menu.refresh()
    assert panel.table.menu.prices.isEnabled()
    panel.table.menu.prices.trigger()
    assert column(panel, "Price") == ["–", "–", "12 500 EUR"]
    for _ in range(2):
        click_head(panel, "Price")
        assert names(panel)[0] == "Ample"
    panel.table.menu.prices.trigger()
    assert "Price" not in [one.title for one in panel.model.columns]


def test_that_a_candidate_is_doubled_moved_and_removed_each_in_one_undoable_step(qtbot, panel, document):
    press(qtbot, panel, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert names(panel) == ["Middle", "Middle 2", "Weak", "Ample"] and document.candidate == 1
    press(qtbot, panel, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert names(panel) == ["Middle", "Weak", "Middle 2", "Ample"] and document.candidate == 2
    press(qtbot, panel, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert names(panel) == ["Middle", "Middle 2", "Weak", "Ample"] and document.candidate == 1
    press(qtbot, panel, Qt.Key.Key_Delete)
    assert names(panel) == ["Middle", "Weak", "Ample"]
    assert document.history.count() == 4
    for _ in range(4):
        with qtbot.waitSignal(document.solved):
            document.history.undo()
    assert names(panel) == ["Middle", "Weak", "Ample"]


def test_that_buttons_do_the_same_and_offer_only_what_can_be_done(qtbot, panel, document):
    card = panel.card
    assert not card.up.isEnabled() and card.down.isEnabled() and card.remove.isEnabled()
    for button in (card.duplicate, card.down, card.up, card.remove, card.remove, card.remove):
        with qtbot.waitSignal(document.solved):
            qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert len(document.plan.candidates) == 1
    assert not (card.up.isEnabled() or card.down.isEnabled() or card.remove.isEnabled())
    press(qtbot, panel, Qt.Key.Key_Delete)
    assert len(document.plan.candidates) == 1
    assert panel.card.headline.text().startswith("One candidate")


def test_that_f2_lets_a_name_be_typed_over(qtbot, panel, document):
    press(qtbot, panel, Qt.Key.Key_Down)
    press(qtbot, panel, Qt.Key.Key_F2)
    editor = panel.table.frozen.findChild(QLineEdit)
    assert editor.text() == "Weak"
    editor.selectAll()
    qtbot.keyClicks(editor, "Flea watts")
    with qtbot.waitSignal(document.solved):
        qtbot.keyClick(editor, Qt.Key.Key_Return)
    assert document.plan.candidates[1].name == "Flea watts"
    assert names(panel)[1] == "Flea watts"
    assert document.history.undoText() == "Rename the candidate"


def test_that_a_name_of_nothing_is_not_taken(qtbot, panel, document):
    index = panel.model.index(0, 0)
    assert not panel.model.setData(index, "  ")
    assert document.history.count() == 0


def test_that_the_table_is_copied_with_units_and_for_what_it_holds(qtbot, panel, document):
    QGuiApplication.clipboard().clear()
    press(qtbot, panel, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    head, *lines = QGuiApplication.clipboard().text().splitlines()
    assert head.split("\t")[:3] == ["Candidate", "Verdict", "Headroom (dB)"]
    worst = compute_all(document.plan)[1].worst
    assert lines[1].split("\t")[0] == "Weak"
    assert float(lines[1].split("\t")[2]) == pytest.approx(worst.headroom_db, rel=1e-9)


def test_that_the_table_is_saved_as_csv_and_a_fault_is_told(qtbot, panel, tmp_path, monkeypatch):
    told = []
    monkeypatch.setattr(QMessageBox, "open", lambda box: told.append(box.text()))
    dialog = TableDialog(panel._as_table(), "candidates", panel)
    dialog.save_to(str(tmp_path / "candidates.csv"))
    text = (tmp_path / "candidates.csv").read_text()
    assert "# Room" in text and "# each candidate at its worst seat" in text
    assert text.count("\n") == 2 + 1 + 3
    dialog.save_to(str(tmp_path / "nowhere" / "candidates.csv"))
    assert len(told) == 1 and "cannot be written" in told[0]


def test_that_a_name_that_a_spreadsheet_would_run_is_saved_as_words(panel, document, tmp_path, qtbot):
    with qtbot.waitSignal(document.solved):
        document.edit(("candidates", 0, "name"), "=1+1", "Rename the candidate")
    assert save_table(panel._as_table(), str(tmp_path / "one.csv")) == ""
    assert "'=1+1" in (tmp_path / "one.csv").read_text()


def turn_to(panel, kind):
    index = list(Kind).index(kind)
    panel.curves.chooser.setCurrentIndex(index)
    panel.curves.chooser.activated.emit(index)
    QCoreApplication.processEvents()
    return panel.curves.panel.chart


@pytest.mark.parametrize(
    ("kind", "quantity"),
    [(Kind.HEADROOM, "headroom_db"), (Kind.LEVEL, "level_db"), (Kind.GAIN, "room_gain_db")],
)
def test_that_a_curve_of_each_candidate_is_drawn_by_band(panel, document, kind, quantity):
    chart = turn_to(panel, kind)
    seats = [outcome.worst for outcome in compute_all(document.plan)]
    drawn = [curve for curve in chart.curves if curve.isVisible()]
    assert len(drawn) == 3
    for curve, seat in zip(drawn, seats, strict=True):
        np.testing.assert_allclose(curve.shown[1], getattr(seat.bands, quantity), atol=1e-9)
    assert [entry.name for entry, _ in chart.key_entries()] == ["Middle", "Weak", "Ample"]
    assert chart.headline().startswith(kind.title)


def test_that_the_ladders_lead_to_the_loudest_peak_of_each(panel, document):
    chart = turn_to(panel, Kind.LADDER)
    seats = [outcome.worst for outcome in compute_all(document.plan)]
    drawn = [curve for curve in chart.curves if curve.isVisible()]
    assert [curve.shown[0][-1] for curve in drawn] == pytest.approx([one.loudest_peak_db for one in seats])
    assert [curve.shown[0][0] for curve in drawn] == pytest.approx([100.0] * 3)
    assert chart.target.isVisible()
    assert chart.table().columns[0].cell(0) == "1 W at 1 m"


def test_that_no_two_curves_share_both_colour_and_dashes(qtbot):
    many = [candidate(name=f"System {number}") for number in range(12)]
    panel = put_up(qtbot, PlanDocument(plan_of(in_room(candidates=many))))
    chart = panel.curves.panel.chart
    looks = {(curve.key.token.split()[1], curve.key.dash) for curve in chart.curves}
    assert len({(int(number) % 6, dash) for number, dash in looks}) == 12


def test_that_curves_of_candidates_taken_away_are_taken_off_the_chart(qtbot, panel, document):
    with qtbot.waitSignal(document.solved):
        panel.candidates.remove()
    chart = panel.curves.panel.chart
    assert [curve.isVisible() for curve in chart.curves] == [True, True, False]
    assert [entry.name for entry, _ in chart.key_entries()] == ["Weak", "Ample"]
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert [curve.isVisible() for curve in chart.curves] == [True] * 3


def test_that_a_chart_can_be_read_with_the_name_of_each_candidate(panel):
    chart = turn_to(panel, Kind.HEADROOM)
    said = chart.table().reading(0)
    assert all(name in said for name in ("Middle", "Weak", "Ample")) and said.startswith("20 Hz")


def test_that_the_candidate_looked_at_has_its_name_in_strong_letters(panel, document):
    chart = turn_to(panel, Kind.HEADROOM)
    document.choose(candidate=2)
    strong = [caption.text for caption, _ in chart.captions.placed if caption.strong]
    assert strong in ([], ["Ample"])
    assert chart.shown.chosen == 2


def test_that_a_preview_is_compared_and_the_plan_then_again(qtbot, panel, document):
    before = column(panel, "Headroom")
    document.preview(put(document.plan, PEAK, 94.0), "A lower target")
    QCoreApplication.processEvents()
    assert column(panel, "Headroom") != before
    document.preview(None)
    QCoreApplication.processEvents()
    assert column(panel, "Headroom") == before


def test_that_a_plan_without_an_answer_keeps_the_last_rows_greyed(qtbot, panel, document):
    before = column(panel, "Headroom")
    with qtbot.waitSignal(document.solved):
        document.edit(("seats", 0, "x_m"), 50.0, "Move seat")
    assert column(panel, "Headroom") == before
    assert not panel.table.isEnabled() and panel.curves.panel.chart.stale_look


def test_that_a_small_panel_shows_the_table_or_the_curves(qtbot, document):
    panel = put_up(qtbot, document, (505, 310))
    assert panel.card.isVisible() and not panel.curves.isVisible()
    qtbot.mouseClick(panel.card.switch, Qt.MouseButton.LeftButton)
    assert panel.curves.isVisible() and not panel.card.isVisible()
    qtbot.mouseClick(panel.back, Qt.MouseButton.LeftButton)
    assert panel.card.isVisible() and not panel.curves.isVisible()
    panel.resize(1400, 400)
    QCoreApplication.processEvents()
    assert panel.card.isVisible() and panel.curves.isVisible() and not panel.card.switch.isVisible()


def test_that_names_stay_in_sight_while_figures_are_scrolled_by(qtbot, document):
    panel = put_up(qtbot, document, (505, 310))
    bar = panel.table.horizontalScrollBar()
    assert bar.maximum() > 0
    bar.setValue(bar.maximum())
    frozen = panel.table.frozen
    assert frozen.isVisible() and frozen.x() == panel.table.frameWidth()
    assert frozen.width() == panel.table.columnWidth(0)
    assert frozen.rowHeight(0) == panel.table.rowHeight(0)


def test_that_a_hidden_panel_catches_up_when_it_is_shown(qtbot, panel, document):
    panel.hide()
    with qtbot.waitSignal(document.solved):
        panel.candidates.duplicate()
    assert panel.model.rowCount() == 3
    panel.show()
    assert names(panel) == ["Middle", "Middle 2", "Weak", "Ample"]
    assert panel.table.chosen_row() == document.candidate == 1


def test_that_nothing_is_judged_while_nobody_looks(qtbot, document):
    panel = ComparePanel(document)
    qtbot.addWidget(panel)
    qtbot.wait(PATIENCE_MS + 60)
    assert panel._late.value is None


def test_that_everything_has_a_name_and_the_theme_is_followed(qtbot, qapp, panel):
    card = panel.card
    buttons = (card.duplicate, card.up, card.down, card.remove, card.more)
    for widget in (panel, panel.table, panel.curves.chooser, card.seats, *buttons):
        assert widget.accessibleName()
    before = chosen_scheme(qapp)
    try:
        apply(qapp, Scheme.DARK)
        panel.grab()
        assert panel.model.colours == DARK
    finally:
        apply(qapp, before)


def test_that_a_row_of_unknown_chance_sorts_last_both_ways(panel):
    weak = panel.model.rows[1]
    panel.model.show_rows(
        [
            type(weak)(row.index, row.candidate, row.seat, None if row is weak else row.slow)
            for row in panel.model.rows
        ],
        panel.model.columns,
    )
    chance = next(one for one in panel.model.columns if one.key == "chance")
    assert math.isnan(chance.value(panel.model.rows[1]))
    for _ in range(2):
        click_head(panel, "Chance")
        assert names(panel)[-1] == "Weak"


def test_that_a_closed_panel_is_freed(qtbot, document):
    panel = put_up(qtbot, document)
    gone = [weakref.ref(one) for one in (panel, panel.table, panel.model, panel._late, panel.curves.bands)]
    panel.close()
    panel.deleteLater()
    del panel
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    document.edit(PEAK, 92.0, "Change peak level")
    qtbot.wait(10)
    assert [ref() for ref in gone] == [None] * 5
