"""A better place for a seat or loudspeakers: the area drawn or typed, the search, and taking its result."""

import gc
import threading
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from shiboken6 import isValid

from planner.desktop.charts.seat_panel import signed
from planner.desktop.document import PlanDocument
from planner.desktop.drawing import RoomDrawing
from planner.desktop.placing import PlacingDialog, quest
from planner.desktop.settings import settings
from planner.headroom import compute
from planner.headroom.placing import Area, best_seat
from planner.plan import put
from planner.plan.units import Preference
from planner.report.drawing.places import Place

SOFA, DESK, LEFT = Place("seats", 0), Place("seats", 1), Place("stands", 0)
SEARCH_MS = 60_000
SMALL = Area(3.6, 0.8, 5.2, 2.4)


@pytest.fixture
def dialog(qtbot, document):
    made = PlacingDialog(document)
    made.open()
    yield made
    # Some tests close it, and with that it is gone.
    if isValid(made):
        made.close()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def mouse(view, kind, point):
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    button = none if kind is QEvent.Type.MouseMove else left
    held = none if kind is QEvent.Type.MouseButtonRelease else left
    event = QMouseEvent(kind, point, view.mapToGlobal(point), button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(view, event)


def drag(view, start, end, *, let_go=True):
    """Drag from one point of the floor [m] to another, as a hand does: in many small moves."""
    first, last = (view.frame().at(*point) for point in (start, end))
    mouse(view, QEvent.Type.MouseButtonPress, first)
    for step in range(1, 9):
        mouse(view, QEvent.Type.MouseMove, first + (last - first) * (step / 8.0))
    if let_go:
        mouse(view, QEvent.Type.MouseButtonRelease, last)


def take_area(dialog, area):
    """Ask for another area, as a hand that draws it does."""
    dialog.question.view.area = area
    dialog.question.view.drawn.emit()


def search(qtbot, dialog):
    qtbot.mouseClick(dialog.search, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not dialog.searching, timeout=SEARCH_MS)


def typed(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def names(dialog):
    return [dialog.question.mover.itemText(index) for index in range(dialog.question.mover.count())]


def test_that_seats_pairs_and_single_loudspeakers_are_offered(dialog):
    assert names(dialog) == ["Sofa", "Desk", "Left and Right", "Left", "Right"]
    assert not dialog.question.mirrored.isVisible() and not dialog.question.seat.isEnabled()
    dialog.question.choose(LEFT)
    assert dialog.question.mover.currentText() == "Left and Right"
    assert dialog.question.mirrored.isVisible() and dialog.question.seat.isEnabled()


def test_that_loudspeakers_which_carry_different_sections_are_no_pair(qtbot, sample_plan):
    apart = put(put(sample_plan, ("stands", 0, "carries"), ("Bass",)), ("stands", 1, "carries"), ("Horn",))
    plan = apart.model_copy(update={"candidates": apart.candidates[:1]})
    dialog = PlacingDialog(PlanDocument(plan))
    qtbot.addWidget(dialog)
    assert names(dialog) == ["Sofa", "Desk", "Left", "Right"]


def test_that_a_rectangle_drawn_on_the_plan_is_the_area_in_steps_and_in_the_fields(dialog):
    dialog.question.choose(DESK)
    drag(dialog.question.view, (1.51, 3.02), (2.98, 4.01))
    area = dialog.question.quest().area
    assert (area.x0_m, area.y0_m, area.x1_m, area.y1_m) == pytest.approx((1.5, 3.0, 3.0, 4.0), abs=0.026)
    assert dialog.question.fields.fields["x0_m"].text() == f"{area.x0_m:.2f} m"
    assert dialog.question.fields.fields["y1_m"].text() == f"{area.y1_m:.2f} m"


def test_that_a_rectangle_is_moved_as_a_whole_and_pulled_by_an_edge(dialog):
    view = dialog.question.view
    take_area(dialog, Area(3.5, 1.5, 5.0, 3.0))
    drag(view, (4.2, 2.2), (4.7, 2.7))
    assert view.area == Area(4.0, 2.0, 5.5, 3.5)
    drag(view, (4.7, 2.7), (9.0, 2.7))
    # The wall stops it, and it keeps its size.
    assert view.area == Area(4.5, 2.0, 6.0, 3.5)
    drag(view, (4.5, 2.7), (4.0, 2.7))
    assert view.area == Area(4.0, 2.0, 6.0, 3.5)
    drag(view, (6.0, 3.5), (5.0, 3.0))
    assert view.area == Area(4.0, 2.0, 5.0, 3.0)


def test_that_a_rectangle_drawn_backwards_or_beyond_a_wall_is_upright_and_inside(dialog):
    dialog.question.choose(LEFT)
    drag(dialog.question.view, (5.0, 4.0), (3.5, 9.0))
    area = dialog.question.view.area
    assert (area.x0_m, area.y0_m, area.x1_m, area.y1_m) == pytest.approx((3.5, 4.0, 5.0, 4.4))


def test_that_a_click_draws_nothing_and_escape_puts_the_old_rectangle_back(qtbot, dialog):
    before = dialog.question.view.area
    drag(dialog.question.view, (1.0, 1.0), (1.0, 1.0))
    assert dialog.question.view.area == before
    drag(dialog.question.view, (1.0, 1.0), (2.0, 2.0), let_go=False)
    assert dialog.question.view.area != before
    qtbot.keyClick(dialog.question.view, Qt.Key.Key_Escape)
    assert dialog.question.view.area == before and dialog.isVisible()


def test_that_the_area_is_typed_in_the_units_preferred_and_the_plan_stays(qtbot, dialog, document):
    before = document.plan
    typed(qtbot, dialog.question.fields.fields["x0_m"], "2,5")
    assert dialog.question.view.area.x0_m == 2.5
    settings().units = Preference.US
    typed(qtbot, dialog.question.fields.fields["x1_m"], "14 ft 6 in")
    assert dialog.question.quest().area.x1_m == pytest.approx(4.4196)
    assert document.plan is before and document.history.count() == 0


def test_that_a_text_that_is_no_length_is_told_and_starts_no_search(qtbot, dialog):
    field = dialog.question.fields.fields["y0_m"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "wide")
    qtbot.mouseClick(dialog.search, Qt.MouseButton.LeftButton)
    assert not dialog.searching and "expected" in field.fault


def test_that_a_search_for_a_seat_shows_what_it_brings_before_anything_is_applied(qtbot, dialog, document):
    before = document.plan
    take_area(dialog, SMALL)
    search(qtbot, dialog)
    wanted = best_seat(before, 0, 0, SMALL)
    found = dialog.found
    assert found.plan == wanted.plan and found.score_gain_db > 0.0
    said = dialog.answer.said()
    assert f"Bass level {signed(wanted.level_gain_db)} dB" in said
    assert f"Evenness {signed(wanted.evenness_gain_db)} dB" in said
    assert "Sofa: x 4.20 m, y 2.20 m →" in said
    assert dialog.answer.chart.after.shown[1] == pytest.approx(wanted.after_db)
    assert dialog.answer.chart.before.shown[1] == pytest.approx(wanted.before_db)
    assert document.plan is before and dialog.apply.isEnabled()


def test_that_the_watts_stated_are_those_of_the_answer(qtbot, dialog):
    take_area(dialog, SMALL)
    search(qtbot, dialog)
    found = dialog.found
    assert found.watts_after == pytest.approx(compute(found.plan).seats[0].watts_needed)
    text = dialog.answer.figures["watts"].value.text()
    assert text.count(" W") == 2 and "→" in text


def test_that_applying_is_one_undoable_step_and_closes(qtbot, dialog, document):
    before = document.plan
    take_area(dialog, SMALL)
    search(qtbot, dialog)
    after = dialog.found.plan
    qtbot.mouseClick(dialog.apply, Qt.MouseButton.LeftButton)
    assert document.plan == after and document.history.count() == 1
    assert document.history.undoText() == "Move Sofa to a better place"
    document.history.undo()
    assert document.plan is before


def test_that_a_mirrored_pair_stays_opposite(qtbot, dialog, document):
    dialog.question.choose(LEFT)
    take_area(dialog, Area(0.7, 0.9, 1.1, 1.2))
    search(qtbot, dialog)
    left, right = dialog.found.plan.stands
    assert left.x_m == right.x_m and left.y_m + right.y_m == pytest.approx(4.4)
    assert 0.7 <= left.x_m <= 1.1 and 0.9 <= left.y_m <= 1.2
    assert dialog.answer.said().count("→") == 3


class Slow:
    """A search that never ends of itself, and notes when it has been stopped."""

    def __init__(self):
        self.begun, self.stopped = threading.Event(), threading.Event()

    def __call__(self, *about, progress, **more):
        self.begun.set()
        while progress(0.4):
            self.stopped.wait(0.005)
        self.stopped.set()


@pytest.fixture
def slow(monkeypatch):
    made = Slow()
    monkeypatch.setattr(quest, "best_seat", made)
    yield made
    assert made.stopped.wait(5.0)


def test_that_a_search_tells_how_far_it_is_and_can_be_stopped(qtbot, dialog, slow):
    qtbot.mouseClick(dialog.search, Qt.MouseButton.LeftButton)
    assert dialog.search.text() == "&Stop"
    qtbot.waitUntil(lambda: dialog.progress.isVisible() and dialog.progress.value() == 400)
    qtbot.mouseClick(dialog.search, Qt.MouseButton.LeftButton)
    assert slow.stopped.wait(5.0)
    assert not dialog.searching and dialog.search.text() == "&Search"
    assert dialog.found is None and not dialog.apply.isEnabled()


def test_that_closing_stops_the_search(qtbot, dialog, slow):
    qtbot.mouseClick(dialog.search, Qt.MouseButton.LeftButton)
    assert slow.begun.wait(5.0)
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert slow.stopped.wait(5.0)
    assert not isValid(dialog) or not dialog.isVisible()


def test_that_a_search_is_dropped_when_the_plan_changes_meanwhile(qtbot, dialog, slow, document):
    qtbot.mouseClick(dialog.search, Qt.MouseButton.LeftButton)
    assert slow.begun.wait(5.0)
    document.edit(("target", "peak_db"), 101.0, "Change")
    assert slow.stopped.wait(5.0)
    qtbot.wait(50)
    assert dialog.found is None and not dialog.apply.isEnabled() and not dialog.searching


def test_that_a_result_is_dropped_when_the_plan_or_the_question_changes(qtbot, dialog, document):
    take_area(dialog, SMALL)
    search(qtbot, dialog)
    assert dialog.found is not None
    document.edit(("target", "peak_db"), 101.0, "Change")
    assert dialog.found is None and not dialog.apply.isEnabled()
    search(qtbot, dialog)
    assert dialog.found is not None
    take_area(dialog, Area(3.8, 2.0, 4.4, 2.5))
    assert dialog.found is None


def test_that_the_area_and_who_moves_outlast_an_edit_of_the_plan(dialog, document):
    dialog.question.choose(DESK)
    take_area(dialog, SMALL)
    document.edit(("seats", 0, "name"), "Settee", "Rename")
    assert dialog.question.mover.currentText() == "Desk" and dialog.question.view.area == SMALL
    assert names(dialog)[0] == "Settee"


def test_that_an_area_without_a_free_place_is_told(qtbot, dialog):
    dialog.question.choose(DESK)
    # Within 0.3 m of the left loudspeaker nobody may sit.
    take_area(dialog, Area(0.85, 1.05, 0.95, 1.15))
    search(qtbot, dialog)
    assert "clear of seats and stands" in dialog.answer.words.text()
    assert dialog.found is None and not dialog.apply.isEnabled()


def test_that_a_best_place_has_none_better(qtbot, dialog, document):
    best = best_seat(document.plan, 0, 0, SMALL)
    document.replace(best.plan, "Move")
    spot = best.plan.seats[0]
    take_area(dialog, Area(spot.x_m - 0.01, spot.y_m - 0.01, spot.x_m + 0.01, spot.y_m + 0.01))
    search(qtbot, dialog)
    assert "no better place" in dialog.answer.words.text()


def test_that_in_open_air_there_is_nothing_to_seek(qtbot, sample_plan):
    dialog = PlacingDialog(PlanDocument(put(sample_plan, ("room",), None)))
    qtbot.addWidget(dialog)
    dialog.open()
    assert not dialog.search.isEnabled() and "open air" in dialog.answer.words.text()
    drag(dialog.question.view, (1.0, 1.0), (2.0, 2.0))


def test_that_a_plan_that_contradicts_itself_is_not_searched(qtbot, dialog, document):
    with qtbot.waitSignal(document.solved):
        document.edit(("seats", 0, "x_m"), 90.0, "Move")
    assert not dialog.search.isEnabled()
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert dialog.search.isEnabled()


def test_that_the_drawing_offers_the_search_for_what_is_under_the_pointer(qtbot, document):
    drawing = RoomDrawing(document)
    qtbot.addWidget(drawing)
    drawing.resize(640, 560)
    drawing.show()
    menu = drawing.menu_at(drawing.frames()[0].to_px(DESK.of(document.plan).position_m))
    offered = {action.text().replace("&", ""): action for action in menu.actions()}
    offered["Find a better place for Desk…"].trigger()
    (dialog,) = drawing.findChildren(PlacingDialog)
    assert dialog.isVisible() and dialog.question.mover.currentText() == "Desk"
    dialog.close()


def test_that_access_keys_are_given_out_once(dialog):
    labels = [one for one in dialog.findChildren(QLabel) if one.buddy() is not None]
    texts = [one.text() for one in (*labels, *dialog.findChildren(QAbstractButton))]
    keys = [text[text.index("&") + 1].upper() for text in texts if "&" in text]
    assert len(keys) >= 7 and len(set(keys)) == len(keys)


def test_that_a_closed_dialog_is_freed(qtbot, document):
    dialog = PlacingDialog(document)
    dialog.open()
    take_area(dialog, SMALL)
    search(qtbot, dialog)
    gone = [weakref.ref(dialog), weakref.ref(dialog.question), weakref.ref(dialog.answer.chart)]
    dialog.close()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del dialog
    gc.collect()
    assert [reference() for reference in gone] == [None, None, None]
    document.edit(("target", "peak_db"), 101.0, "Change")
