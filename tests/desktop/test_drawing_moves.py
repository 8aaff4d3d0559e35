"""Seats and stands moved about in the scale drawing, by mouse, keys and menu."""

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, Qt
from PySide6.QtGui import QContextMenuEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.drawing import RoomDrawing
from planner.desktop.settings import settings
from planner.plan import put
from planner.plan.units import Preference
from planner.report.drawing.places import Place

SOFA, DESK, LEFT, RIGHT = Place("seats", 0), Place("seats", 1), Place("stands", 0), Place("stands", 1)
NONE, ALT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
STEPS = 12


@pytest.fixture
def drawing(qtbot, document):
    widget = RoomDrawing(document)
    qtbot.addWidget(widget)
    widget.resize(640, 560)
    widget.show()
    widget.setFocus(Qt.FocusReason.OtherFocusReason)
    return widget


def point_of(drawing, place, view=0):
    return drawing.frames()[view].to_px(place.of(drawing.document.plan).position_m)


def mouse(drawing, kind, point, button=Qt.MouseButton.LeftButton, modifiers=NONE):
    held = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseButtonRelease else Qt.MouseButton.LeftButton
    button = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseMove else button
    event = QMouseEvent(kind, point, drawing.mapToGlobal(point), button, held, modifiers)
    QApplication.sendEvent(drawing, event)


def drag(drawing, place, across_m, up_m, view=0, modifiers=NONE, let_go=True):
    """Take a thing up and bring it so far along a view, as a hand does: in many small moves."""
    frame, start = drawing.frames()[view], point_of(drawing, place, view)
    way = QPointF(across_m, -up_m) * frame.px_per_m
    mouse(drawing, QEvent.Type.MouseButtonPress, start, modifiers=modifiers)
    for step in range(1, STEPS + 1):
        mouse(drawing, QEvent.Type.MouseMove, start + way * (step / STEPS), modifiers=modifiers)
    if let_go:
        mouse(drawing, QEvent.Type.MouseButtonRelease, start + way, modifiers=modifiers)


def position(document, place):
    return place.of(document.plan).position_m


def test_that_a_drag_moves_in_steps_of_five_centimetres_and_is_one_undo_step(drawing, document):
    before = document.plan
    drag(drawing, SOFA, -0.52, 0.33)
    # From 4.2 and 2.2: 3.68 and 2.53, to the nearest 0.05.
    assert position(document, SOFA) == (3.7, 2.55, 1.1)
    assert document.history.count() == 1
    document.history.undo()
    assert document.plan is before


def test_that_two_drags_are_two_undo_steps(drawing, document):
    drag(drawing, SOFA, -0.5, 0.0)
    drag(drawing, SOFA, -0.5, 0.0)
    assert document.history.count() == 2


def test_that_the_answer_moves_while_something_is_dragged(qtbot, drawing, document):
    before = document.outcome.seats[0].headroom_db
    with qtbot.waitSignal(document.solved):
        drag(drawing, SOFA, -1.5, 0.0, let_go=False)
    assert document.outcome.seats[0].headroom_db > before
    assert document.outcome.seats[0].distance_m < 3.0


def test_that_alt_drags_freely(drawing, document):
    drag(drawing, SOFA, -0.52, 0.0, modifiers=ALT)
    assert position(document, SOFA)[0] == pytest.approx(3.68, abs=0.0011)


def test_that_a_drag_stops_at_the_walls(drawing, document):
    drag(drawing, DESK, 9.0, -9.0)
    assert position(document, DESK) == (6.0, 0.0, 1.15)


def test_that_the_side_view_drags_length_and_height_alone(drawing, document):
    drag(drawing, LEFT, 0.6, 0.4, view=1)
    x, y, z = position(document, LEFT)
    assert (x, z) == (1.5, 1.4)
    # Left and Right lie on one another from the side; the nearer one, at y = 1.1, is taken.
    assert y == 1.1 and position(document, RIGHT) == (0.9, 3.3, 1.0)


def test_that_a_click_looks_from_a_seat_and_moves_nothing(drawing, document):
    drag(drawing, DESK, 0.0, 0.0)
    assert (document.seat, drawing.selected, document.history.count()) == (1, DESK, 0)


def test_that_a_drag_back_to_its_beginning_leaves_no_undo_step(drawing, document):
    drag(drawing, SOFA, -0.5, 0.0, let_go=False)
    mouse(
        drawing,
        QEvent.Type.MouseMove,
        point_of(drawing, SOFA) + QPointF(0.5, 0.0) * drawing.frames()[0].px_per_m,
    )
    mouse(drawing, QEvent.Type.MouseButtonRelease, point_of(drawing, SOFA))
    assert document.history.count() == 0


def test_that_escape_puts_back_what_is_dragged(qtbot, drawing, document):
    before = document.plan
    drag(drawing, SOFA, -0.5, 0.5, let_go=False)
    qtbot.keyClick(drawing, Qt.Key.Key_Escape)
    mouse(drawing, QEvent.Type.MouseMove, QPointF(5.0, 5.0))
    assert document.plan == before and document.history.count() == 0


def test_that_a_seat_dragged_too_near_a_stand_says_so_until_it_is_moved_away(qtbot, drawing, document):
    with qtbot.waitSignal(document.solved):
        drag(drawing, SOFA, 0.9 - 4.2, 1.3 - 2.2)
    assert document.stale and drawing.look().at_fault == {SOFA}
    assert "from Left" in drawing.accessibleDescription()
    below = QPointF(60.0, drawing.height() - 8.0)
    assert "at least 0.3 m" in drawing.tip_at(below)
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert drawing.look().at_fault == set() and drawing.tip_at(below) == ""


@pytest.mark.parametrize(
    ("key", "modifiers", "moved"),
    [
        (Qt.Key.Key_Left, NONE, (4.15, 2.2, 1.1)),
        (Qt.Key.Key_Up, NONE, (4.2, 2.25, 1.1)),
        (Qt.Key.Key_Right, SHIFT, (4.7, 2.2, 1.1)),
        (Qt.Key.Key_Down, ALT, (4.2, 2.19, 1.1)),
        (Qt.Key.Key_PageUp, NONE, (4.2, 2.2, 1.15)),
    ],
)
def test_that_keys_move_what_tab_has_selected(qtbot, drawing, document, key, modifiers, moved):
    qtbot.keyClick(drawing, Qt.Key.Key_Tab)
    qtbot.keyClick(drawing, key, modifiers)
    assert position(document, SOFA) == pytest.approx(moved, abs=1e-9)
    assert document.history.undoText() == "Move Sofa"


def test_that_arrows_lift_what_was_taken_up_in_the_side_view(qtbot, drawing, document):
    drag(drawing, DESK, 0.0, 0.0, view=1)
    qtbot.keyClick(drawing, Qt.Key.Key_Up)
    assert position(document, DESK) == (5.2, 1.2, 1.2)


def test_that_keys_step_in_round_inches_for_who_reads_feet(qtbot, drawing, document):
    settings().units = Preference.US
    drawing.select(SOFA)
    qtbot.keyClick(drawing, Qt.Key.Key_Right)
    # Two inches of 25.4 mm.
    assert position(document, SOFA)[0] == pytest.approx(4.2508, abs=1e-9)


def test_that_tab_goes_through_all_things_and_then_on(qtbot, document):
    host = QWidget()
    qtbot.addWidget(host)
    layout = QVBoxLayout(host)
    first, drawing, last = QLineEdit(), RoomDrawing(document), QLineEdit()
    for widget in (first, drawing, last):
        layout.addWidget(widget)
    with qtbot.waitExposed(host):
        host.show()
    host.activateWindow()
    first.setFocus()
    visited = []
    for _ in range(4):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        visited.append(drawing.selected)
    qtbot.keyClick(drawing, Qt.Key.Key_Tab)
    assert visited == [SOFA, DESK, LEFT, RIGHT] and last.hasFocus()
    qtbot.keyClick(last, Qt.Key.Key_Backtab)
    assert drawing.hasFocus() and drawing.selected == RIGHT


def test_that_delete_takes_a_seat_and_what_aimed_at_it_aims_at_the_one_that_remains(qtbot, drawing, document):
    document.choose(seat=1)
    drawing.select(SOFA)
    qtbot.keyClick(drawing, Qt.Key.Key_Delete)
    assert [seat.name for seat in document.plan.seats] == ["Desk"]
    assert document.plan.stands[0].aim.seat == "Desk"
    assert document.seat == 0 and document.history.count() == 1


def test_that_the_last_seat_cannot_be_deleted(qtbot, drawing, document):
    drawing.delete(SOFA)
    drawing.select(SOFA)
    qtbot.keyClick(drawing, Qt.Key.Key_Delete)
    assert len(document.plan.seats) == 1


def actions(menu):
    return {action.text().replace("&", ""): action for action in menu.actions() if action.text()}


def test_that_the_menu_adds_a_seat_where_it_was_opened(drawing, document):
    menu = drawing.menu_at(drawing.frames()[0].at(3.02, 0.98))
    assert {"Add a seat here", "Copy picture", "Save picture as…"} <= set(actions(menu))
    actions(menu)["Add a seat here"].trigger()
    # At the height of the ears at the chosen seat.
    assert document.plan.seats[2].position_m == (3.0, 1.0, 1.1)
    assert drawing.selected == Place("seats", 2) and document.history.count() == 1


def test_that_the_menu_duplicates_and_deletes_what_it_was_opened_on(drawing, document):
    actions(drawing.menu_at(point_of(drawing, RIGHT)))["Duplicate Right"].trigger()
    assert len(document.plan.stands) == 3 and len({one.name for one in document.plan.stands}) == 3
    actions(drawing.menu_at(point_of(drawing, Place("stands", 2))))[
        f"Delete {document.plan.stands[2].name}"
    ].trigger()
    assert len(document.plan.stands) == 2 and document.history.count() == 2


@pytest.mark.qt_log_ignore("This plugin does not support")
def test_that_the_menu_key_opens_the_menu_of_what_is_selected(qtbot, drawing, document):
    drawing.select(DESK)
    reason = QContextMenuEvent.Reason.Keyboard
    QApplication.sendEvent(drawing, QContextMenuEvent(reason, drawing.rect().center(), drawing.pos()))
    menu = QApplication.activePopupWidget()
    assert "Delete Desk" in actions(menu)
    menu.close()


def test_that_open_air_has_ground_and_lets_things_go_beyond(qtbot, sample_plan):
    document = PlanDocument(put(sample_plan, ("room",), None))
    drawing = RoomDrawing(document)
    qtbot.addWidget(drawing)
    drawing.resize(500, 500)
    drawing.show()
    before = drawing.frames()
    drag(drawing, SOFA, 8.0, 0.0, let_go=False)
    assert drawing.frames() == before
    mouse(drawing, QEvent.Type.MouseButtonRelease, QPointF())
    assert position(document, SOFA) == (12.2, 2.2, 1.1)
    assert drawing.frames()[0].rect.contains(point_of(drawing, SOFA))
    assert "Open air" in drawing.accessibleDescription()


def test_that_a_closed_drawing_is_freed(qtbot, document):
    drawing = RoomDrawing(document)
    drawing.show()
    drag(drawing, SOFA, -0.5, 0.0)
    drawing.menu_at(None).close()
    gone = weakref.ref(drawing)
    drawing.close()
    drawing.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del drawing
    gc.collect()
    document.edit(("room", "length_m"), 7.0, "Change length")
    qtbot.wait(10)
    assert gone() is None
