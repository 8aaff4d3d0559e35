"""The document behind a window: one way for every edit, and nothing lost on it."""

import pytest
from PySide6.QtCore import QCoreApplication

from planner.desktop import document as module
from planner.plan import PlanError

LENGTH = ("room", "length_m")
WATTS = ("candidates", 0, "amplifiers", 0, "taps", 0, "watts")


def turn():
    QCoreApplication.processEvents()


def test_that_a_drag_is_one_undo_step_and_undo_gives_back_the_same_plan(qtbot, document):
    before = document.plan
    for tenths in range(61, 81):
        document.edit(LENGTH, tenths / 10, "Change length")
    assert document.history.count() == 1
    document.history.undo()
    assert document.plan is before


def test_that_a_drag_that_ends_where_it_began_leaves_no_step(qtbot, document):
    start = document.plan.room.length_m
    document.edit(LENGTH, start + 1.0, "Change length")
    document.edit(LENGTH, start, "Change length")
    assert document.history.count() == 0
    assert document.history.isClean()


def test_that_a_new_gesture_is_a_new_step(qtbot, document):
    document.edit(LENGTH, 6.5, "Change length")
    document.close_gesture()
    document.edit(LENGTH, 7.0, "Change length")
    assert document.history.count() == 2


def test_that_two_fields_are_two_steps_even_within_one_gesture(qtbot, document):
    document.edit(LENGTH, 6.5, "Change length")
    document.edit(WATTS, 5.0, "Change rating")
    assert document.history.count() == 2


def test_that_thirty_edits_in_one_turn_are_computed_once(qtbot, document, monkeypatch):
    turn()
    computed = []
    compute_all = module.compute_all
    monkeypatch.setattr(module, "compute_all", lambda plan: computed.append(plan) or compute_all(plan))
    for step in range(30):
        document.edit(LENGTH, 6.0 + step / 100.0, "Change length")
    turn()
    assert computed == [document.plan]


def test_that_a_value_out_of_range_is_refused_and_changes_nothing(qtbot, document):
    before = document.plan
    with pytest.raises(PlanError, match=r"0.5 to 100 m"):
        document.edit(LENGTH, 400.0, "Change length")
    assert document.plan is before
    assert document.history.count() == 0


def test_that_a_contradiction_keeps_the_last_answer_and_names_itself(qtbot, document):
    last = document.outcomes
    document.edit(("seats", 0, "x_m"), 50.0, "Move seat")
    turn()
    assert document.stale
    assert document.outcomes is last
    assert [finding.path for finding in document.findings] == ["seats[0].x_m"]
    document.history.undo()
    turn()
    assert not document.stale
    assert document.findings == ()


def test_that_a_fault_of_the_program_never_lets_an_old_answer_pass_for_the_new(qtbot, document, monkeypatch):
    def broken(plan):
        raise RuntimeError("out of paper")

    monkeypatch.setattr(module, "compute_all", broken)
    document.edit(LENGTH, 6.5, "Change length")
    with qtbot.captureExceptions() as caught:
        turn()
    assert "out of paper" in str(caught[0][1])
    assert document.stale
    assert document.plan.room.length_m == 6.5


def test_that_looking_at_another_seat_is_no_edit(qtbot, document):
    with qtbot.waitSignal(document.chosen):
        document.choose(seat=1)
    assert document.seat == 1
    assert document.history.isClean()


def test_that_the_seat_looked_at_stays_within_the_plan(qtbot, document):
    document.choose(seat=len(document.plan.seats) - 1)
    seats = document.plan.seats[:1]
    stands = tuple(
        stand.model_copy(update={"aim": stand.aim.model_copy(update={"seat": seats[0].name})})
        if stand.aim.seat is not None
        else stand
        for stand in document.plan.stands
    )
    document.replace(document.plan.model_copy(update={"seats": seats, "stands": stands}), "Remove seats")
    turn()
    assert document.seat == 0
    assert not document.stale
