"""Work beside the window: the newest request wins, and nothing is kept alive by what nobody waits for."""

import gc
import sys
import threading
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject, QThread
from PySide6.QtWidgets import QWidget

from planner.desktop.background import PATIENCE_MS, Background, LateAnswer

PEAK = ("target", "peak_db")


def settle():
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()


@pytest.fixture
def background(qtbot):
    made = Background()
    yield made
    made.drop()
    qtbot.waitUntil(lambda: not made._look.isActive())


@pytest.fixture
def gate():
    """Work that waits until the test lets it go on; let go in the end, whatever happened."""
    made = threading.Event()
    yield made
    made.set()


def waiting(gate, answer):
    """Work that cannot be stopped, and answers when the gate is opened."""

    def work(progress):
        assert gate.wait(10.0)
        return answer

    return work


def test_that_the_result_arrives_in_the_thread_of_the_window_and_was_made_in_another(qtbot, background):
    threads = []
    background.done.connect(lambda: threads.append(QThread.currentThread()))
    with qtbot.waitSignal(background.done):
        background.ask(lambda progress: threading.get_ident())
    assert background.result != threading.get_ident()
    assert threads == [QCoreApplication.instance().thread()]
    assert not background.busy


def test_that_only_the_newest_of_many_requests_is_answered(qtbot, background, gate):
    done, begun = [], []
    background.done.connect(lambda: done.append(background.result))
    background.ask(waiting(gate, "first"))
    for number in range(5):
        background.ask(lambda progress, number=number: begun.append(number) or number)
    gate.set()
    with qtbot.waitSignal(background.done):
        pass
    qtbot.wait(60)
    assert done == [4]
    assert begun == [4]


def test_that_work_learns_that_it_may_stop(qtbot, background, gate):
    answers = []

    def work(progress):
        answers.append(progress(0.25))
        gate.wait(10.0)
        answers.append(progress(0.5))

    with qtbot.waitSignal(background.progressed):
        background.ask(work)
    assert background.share == 0.25
    background.drop()
    assert not background.busy
    with qtbot.assertNotEmitted(background.done, wait=80):
        gate.set()
    assert answers == [True, False]


def test_that_an_exception_reaches_the_hook_in_the_thread_of_the_window(qtbot, background, monkeypatch):
    caught = []
    monkeypatch.setattr(sys, "excepthook", lambda *fault: caught.append((fault[1], threading.get_ident())))
    with qtbot.waitSignal(background.done):
        background.ask(lambda progress: 1 / 0)
    ((fault, thread),) = caught
    assert isinstance(fault, ZeroDivisionError)
    assert thread == threading.get_ident()
    assert background.result is None
    with qtbot.waitSignal(background.done):
        background.ask(lambda progress: "well again")
    assert background.result == "well again"


def test_that_work_is_stopped_and_freed_when_its_owner_dies(qtbot, gate):
    owner = QObject()
    background = Background(owner)
    told, began, ended = [], threading.Event(), threading.Event()

    class Plan:
        pass

    plan = Plan()

    def work(progress, plan=plan):
        began.set()
        gate.wait(10.0)
        told.append(progress(0.5))
        ended.set()

    background.ask(work)
    assert began.wait(10.0)
    gone = weakref.ref(background), weakref.ref(plan)
    owner.deleteLater()
    del owner, background, work, plan
    settle()
    assert gone[0]() is None
    gate.set()
    assert ended.wait(10.0)
    qtbot.waitUntil(lambda: gc.collect() >= 0 and gone[1]() is None)
    assert told == [False]


@pytest.fixture
def asked():
    """What was worked on, in turn."""
    return []


@pytest.fixture
def late(qtbot, document, asked):
    """The title and the peak of the plan, as an answer that takes a while, and the widget that shows it."""
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.resize(50, 50)

    def subject():
        return None if document.stale else (document.plan, document.seat)

    def work(plan, seat, progress):
        asked.append((plan.target.peak_db, seat))
        return plan.target.peak_db, seat

    made = LateAnswer(document, subject, work, widget)
    made.widget = widget
    made.shown_by(widget)
    return made


def wait_fresh(qtbot, late):
    qtbot.waitUntil(lambda: late.fresh and not late.busy)


def look(late):
    late.widget.show()
    late.look()


def test_that_nothing_is_asked_until_somebody_looks(qtbot, late, asked, document):
    document.edit(PEAK, 98.0, "Change peak level")
    qtbot.wait(PATIENCE_MS + 60)
    assert asked == [] and not late.fresh and not late.busy
    look(late)
    wait_fresh(qtbot, late)
    assert late.value == (98.0, 0)
    assert asked == [(98.0, 0)]


def test_that_a_drag_is_asked_about_once_when_it_rests(qtbot, late, asked, document):
    look(late)
    wait_fresh(qtbot, late)
    for tenths in range(1, 31):
        document.edit(PEAK, 100.0 + tenths / 10.0, "Change peak level")
        QCoreApplication.processEvents()
        assert not late.fresh and late.busy
    wait_fresh(qtbot, late)
    assert asked == [(100.0, 0), (103.0, 0)]
    assert late.value == (103.0, 0)


def test_that_an_answer_is_fresh_again_without_asking_when_the_edit_is_undone(qtbot, late, asked, document):
    look(late)
    wait_fresh(qtbot, late)
    document.edit(PEAK, 98.0, "Change peak level")
    assert not late.fresh
    document.history.undo()
    assert late.fresh and not late.busy
    qtbot.wait(PATIENCE_MS + 60)
    assert asked == [(100.0, 0)]


def test_that_another_seat_is_another_question(qtbot, late, asked, document):
    look(late)
    wait_fresh(qtbot, late)
    document.choose(seat=1)
    assert not late.fresh
    wait_fresh(qtbot, late)
    assert late.value == (100.0, 1)


def test_that_the_old_answer_stays_while_the_plan_cannot_be_computed(qtbot, late, asked, document):
    look(late)
    wait_fresh(qtbot, late)
    with qtbot.waitSignal(document.solved):
        document.edit(("seats", 0, "x_m"), 90.0, "Move seat")
    assert not late.fresh and not late.busy
    assert late.value == (100.0, 0)
    qtbot.wait(PATIENCE_MS + 60)
    assert len(asked) == 1


def test_that_one_answer_serves_two_widgets(qtbot, late, asked, document):
    other = QWidget()
    qtbot.addWidget(other)
    late.shown_by(other)
    other.show()
    late.look()
    wait_fresh(qtbot, late)
    other.close()
    look(late)
    qtbot.wait(PATIENCE_MS + 60)
    assert len(asked) == 1


def test_that_a_widget_that_is_gone_counts_as_nobody(qtbot, document, asked):
    made = LateAnswer(document, lambda: (document.plan,), lambda plan, progress: asked.append(plan), document)
    widget = QWidget()
    made.shown_by(widget)
    widget.show()
    widget.deleteLater()
    settle()
    document.edit(PEAK, 98.0, "Change peak level")
    qtbot.wait(PATIENCE_MS + 60)
    assert asked == []
