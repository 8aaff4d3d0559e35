"""Seats and stands by the user's acts, and what follows them: aims, sections carried, the seat looked at."""

import pytest
from PySide6.QtCore import Qt

from planner.desktop.editors import EditorColumn
from planner.desktop.editors.seats import SeatCard
from planner.desktop.editors.stands import StandCard
from tests.desktop.editing import button, field_at, fold, notes, open_all, type_into


@pytest.fixture
def column(qtbot, document):
    column = EditorColumn(document)
    qtbot.addWidget(column)
    open_all(column)
    with qtbot.waitActive(column):
        column.show()
        column.activateWindow()
    return column


def cards(column, kind):
    rows = fold(column, "Seats" if kind is SeatCard else "Loudspeaker stands").body.rows.rows
    assert all(isinstance(row, kind) for row in rows)
    return rows


def names(things):
    return [thing.name for thing in things]


def test_that_a_renamed_seat_takes_its_aims_along_in_one_undoable_step(qtbot, column, document):
    type_into(qtbot, field_at(column, "seats", 0, "name"), "Armchair")
    assert document.plan.seats[0].name == "Armchair"
    assert document.plan.stands[0].aim.seat == "Armchair"
    assert document.history.count() == 1
    assert cards(column, StandCard)[0].aim.currentText() == "Armchair"
    document.history.undo()
    assert document.plan.stands[0].aim.seat == "Sofa"
    assert cards(column, StandCard)[0].aim.currentText() == "Sofa"


def test_that_an_added_seat_gets_a_card_a_name_and_a_place(qtbot, column, document):
    button(column, "Add seat").click()
    assert names(document.plan.seats) == ["Sofa", "Desk", "Desk 2"]
    assert cards(column, SeatCard)[2].name.text() == "Desk 2"
    qtbot.wait(10)
    assert document.findings == ()


def test_that_two_seats_added_are_two_undoable_steps(column, document):
    add = button(column, "Add seat")
    add.click()
    add.click()
    assert document.history.count() == 2


def test_that_a_seat_is_doubled_moved_and_taken_away_by_its_buttons(column, document):
    cards(column, SeatCard)[0].buttons["double"].click()
    assert names(document.plan.seats) == ["Sofa", "Sofa 2", "Desk"]
    cards(column, SeatCard)[2].buttons["up"].click()
    assert names(document.plan.seats) == ["Sofa", "Desk", "Sofa 2"]
    cards(column, SeatCard)[0].buttons["remove"].click()
    assert names(document.plan.seats) == ["Desk", "Sofa 2"]
    assert document.plan.stands[0].aim.seat == "Sofa 2"
    assert [card.name.text() for card in cards(column, SeatCard)] == ["Desk", "Sofa 2"]


def test_that_alt_and_an_arrow_move_a_card_from_its_name(qtbot, column, document):
    name = cards(column, SeatCard)[0].name
    name.setFocus()
    qtbot.keyClick(name, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert names(document.plan.seats) == ["Desk", "Sofa"]


def test_that_the_last_seat_cannot_be_taken_away_nor_the_first_moved_up(column, document):
    first, last = cards(column, SeatCard)
    assert (first.buttons["up"].isEnabled(), last.buttons["down"].isEnabled()) == (False, False)
    last.buttons["remove"].click()
    assert not cards(column, SeatCard)[0].buttons["remove"].isEnabled()


def test_that_whoever_edits_a_seat_looks_at_its_answer(qtbot, column, document):
    field_at(column, "seats", 1, "x_m").setFocus()
    assert document.seat == 1
    assert [card.marked() for card in cards(column, SeatCard)] == [False, True]


def test_that_buttons_of_rows_say_which_row_they_are_of(column):
    card = cards(column, SeatCard)[1]
    assert card.buttons["remove"].accessibleName() == "Take Desk away"
    assert card.fields[0].accessibleName() == "x of Desk"


def test_that_a_stand_aims_at_the_seat_chosen(qtbot, column, document):
    aim = cards(column, StandCard)[0].aim
    aim.setFocus()
    qtbot.keyClick(aim, Qt.Key.Key_Down)
    assert document.plan.stands[0].aim.seat == "Desk"


def test_that_angles_begin_where_the_stand_points(qtbot, column, document):
    card = cards(column, StandCard)[0]
    card.aim.setFocus()
    qtbot.keyClick(card.aim, Qt.Key.Key_End)
    aim = document.plan.stands[0].aim
    # By hand: from (0.9, 1.1) to (4.2, 2.2), atan(1.1 / 3.3) = 18.4°.
    assert aim.azimuth_deg == pytest.approx(18.4)
    type_into(qtbot, field_at(column, "stands", 0, "aim", "azimuth_deg"), "25°".replace("°", " deg"))
    assert document.plan.stands[0].aim.azimuth_deg == 25.0


def test_that_an_aim_at_a_seat_that_is_not_there_is_shown_as_such(qtbot, column, document):
    from planner.plan import put

    lost = put(document.plan, ("stands", 0, "aim"), {"seat": "Hammock"})
    document.replace(lost, "From a file")
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    card = cards(column, StandCard)[0]
    assert card.aim.currentText() == "Hammock (not there)"
    assert any("a seat of this plan" in note for note in notes(card))


def test_that_the_second_stand_is_the_mirror_image_of_the_first(column, document):
    cards(column, StandCard)[1].buttons["remove"].click()
    cards(column, StandCard)[0].buttons["double"].click()
    left, right = document.plan.stands
    assert right.y_m == pytest.approx(4.4 - left.y_m)


def test_that_a_stand_can_carry_a_part_of_the_loudspeaker(qtbot, column, document):
    carries = cards(column, StandCard)[0].carries
    carries.menu.aboutToShow.emit()
    whole, bass, horn = [action for action in carries.menu.actions() if not action.isSeparator()]
    assert [whole.isChecked(), bass.isChecked(), horn.isChecked()] == [True, False, False]
    horn.trigger()
    assert document.plan.stands[0].carries == ("Horn",)
    assert carries.text() == "Horn"
    carries.menu.aboutToShow.emit()
    next(action for action in carries.menu.actions() if action.text() == "Bass").trigger()
    assert document.plan.stands[0].carries == ("Bass", "Horn")
    carries.menu.aboutToShow.emit()
    carries.menu.actions()[0].trigger()
    assert document.plan.stands[0].carries is None
    assert document.history.count() == 3
