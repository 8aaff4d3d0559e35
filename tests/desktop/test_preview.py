"""Another plan looked at for a while: its answer is shown, and the plan itself is untouched."""

import pytest
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.ladder import LadderChart
from planner.headroom import compute_all
from planner.plan import put
from tests.desktop.charts.seat_samples import put_up

PEAK = ("target", "peak_db")


def turn():
    QCoreApplication.processEvents()


@pytest.fixture
def quieter(document):
    """The plan with 6 dB less asked for; 6 dB more headroom by arithmetic."""
    return put(document.plan, PEAK, 94.0)


def test_that_a_preview_shows_the_other_answer_and_touches_neither_plan_nor_history(document, quieter):
    before, headroom_db = document.plan, document.outcome.seats[0].headroom_db
    document.preview(quieter, "A lower target")
    turn()
    assert document.outcome.seats[0].headroom_db == pytest.approx(headroom_db + 6.0, abs=1e-9)
    assert document.plan is before and document.shown is quieter
    assert document.history.count() == 0 and document.history.isClean()


def test_that_ending_a_preview_brings_the_answer_of_the_plan_back(document, quieter):
    headroom_db = document.outcome.seats[0].headroom_db
    document.preview(quieter, "A lower target")
    turn()
    document.preview(None)
    turn()
    assert document.outcome.seats[0].headroom_db == headroom_db
    assert document.shown is document.plan and document.preview_text == ""


def test_that_a_preview_is_told_once_a_turn_and_no_field_hears_of_it(qtbot, document, quieter):
    heard = []
    document.solved.connect(lambda: heard.append("solved"))
    document.edited.connect(lambda: heard.append("edited"))
    document.preview(quieter, "A lower target")
    document.preview(put(document.plan, PEAK, 90.0), "A far lower target")
    turn()
    assert heard == ["solved"]


def test_that_keeping_a_preview_is_one_step_that_can_be_undone(document, quieter):
    before = document.plan
    document.preview(quieter, "A lower target")
    document.keep_preview()
    turn()
    assert document.plan == quieter and document.previewed is None
    assert document.history.count() == 1 and document.history.undoText() == "A lower target"
    document.history.undo()
    assert document.plan is before


def test_that_an_edit_an_undo_and_another_plan_end_a_preview(document, quieter):
    document.preview(quieter, "A lower target")
    document.edit(PEAK, 97.0, "Change peak level")
    assert document.previewed is None
    document.preview(quieter, "A lower target")
    document.history.undo()
    assert document.previewed is None
    document.preview(quieter, "A lower target")
    document.reset(document.plan)
    assert document.previewed is None
    assert document.outcomes[0].seats[0].headroom_db == compute_all(document.plan)[0].seats[0].headroom_db


def test_that_nothing_is_previewed_while_the_plan_itself_has_no_answer(document, quieter):
    document.edit(("seats", 0, "x_m"), 90.0, "Move seat")
    turn()
    last = document.outcomes
    document.preview(quieter, "A lower target")
    turn()
    assert document.previewed is None and document.stale
    assert document.outcomes is last


def test_that_a_preview_that_contradicts_itself_is_given_up(document):
    headroom_db = document.outcome.seats[0].headroom_db
    document.preview(put(document.plan, ("seats", 0, "x_m"), 90.0), "A seat in the garden")
    turn()
    assert document.previewed is None and not document.stale
    assert document.outcome.seats[0].headroom_db == headroom_db


def test_that_a_chart_shows_the_plan_previewed_and_then_the_plan_again(qtbot, document, quieter):
    panel = put_up(qtbot, LadderChart, document)
    before = panel.chart.headline()
    document.preview(quieter, "A lower target")
    turn()
    assert "94 dB" in panel.chart.headline()
    assert panel.chart.view.plan is quieter
    document.preview(None)
    turn()
    assert panel.chart.headline() == before
