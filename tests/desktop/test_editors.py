"""The column of editors as a whole: what it pulls, folds, reveals and shows as to mend."""

import gc
import statistics
import time
import weakref
from itertools import pairwise

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget

from planner.desktop.editors import EditorColumn
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.part import Editor, Rows, Variant
from planner.desktop.editors.tabs import in_order
from planner.desktop.fields import Note, NumberField
from planner.desktop.fields.bound import Bound
from planner.desktop.settings import settings
from planner.plan import put
from planner.plan.reshape import add_seat, open_air, remove_seat, split_section
from planner.plan.units import Preference
from tests.desktop.editing import field_at, notes, open_all

NARROW_PX = 340


@pytest.fixture
def column(qtbot, document):
    """The column, shown and active, with what opens by itself open."""
    column = EditorColumn(document)
    qtbot.addWidget(column)
    column.resize(NARROW_PX, 800)
    with qtbot.waitActive(column):
        column.show()
        column.activateWindow()
    return column


def reachable(column):
    """What Tab reaches in the column itself; the lists of choosers are windows of their own."""
    inside = [one for one in column.findChildren(QWidget) if one.window() is column]
    return [one for one in inside if one.focusPolicy() & Qt.FocusPolicy.TabFocus and not one.focusProxy()]


def test_that_every_control_has_a_name_for_those_who_do_not_see_it(column):
    open_all(column)
    nameless = []
    for widget in reachable(column):
        told = QAccessible.queryAccessibleInterface(widget)
        if told is not None and not told.text(QAccessible.Text.Name):
            nameless.append(widget)
    assert len(reachable(column)) > 100
    assert nameless == []


def test_that_every_control_says_what_it_is_for(column):
    open_all(column)
    assert [one for one in reachable(column) if not (one.toolTip() or getattr(one, "text", str)())] == []


@pytest.mark.parametrize("units", list(Preference))
def test_that_nothing_is_cut_off_in_a_narrow_column(qtbot, column, units):
    settings().units = units
    open_all(column)
    qtbot.wait(10)
    assert column.minimumSizeHint().width() <= NARROW_PX
    assert column.widget().width() <= column.viewport().width()


def test_that_larger_letters_make_the_column_ask_for_more_width(qtbot, column):
    before = column.minimumSizeHint().width()
    font = column.font()
    font.setPointSizeF(font.pointSizeF() * 1.6)
    column.setFont(font)
    qtbot.wait(20)
    assert column.minimumSizeHint().width() > before


def test_that_pulling_everything_keeps_up_with_a_drag(column, document):
    open_all(column)
    spans = []
    for number in range(60):
        after = put(document.plan, ("room", "length_m"), 6.0 + number / 100.0)
        document.plan = after
        begin = time.perf_counter()
        column.pull()
        spans.append(time.perf_counter() - begin)
    # About 0.6 ms on an idle machine; the bound leaves room for a busy one.
    assert statistics.median(spans) < 0.010


def test_that_an_edit_from_elsewhere_is_shown_in_the_fields(column, document):
    document.edit(("seats", 1, "x_m"), 4.75, "Drag")
    assert field_at(column, "seats", 1, "x_m").text() == "4.75 m"


def test_that_a_field_typed_in_changes_the_answer(qtbot, column, document):
    before = document.outcome.worst.headroom_db
    field = field_at(column, "target", "peak_db")
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "104")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: document.outcome.worst.headroom_db != before)
    assert document.outcome.worst.headroom_db == pytest.approx(before - 4.0, abs=1e-9)


def test_that_switching_units_changes_no_value(qtbot, column, document):
    open_all(column)
    before = document.plan
    settings().units = Preference.US
    for field in column.findChildren(NumberField):
        field.setFocus()
    settings().units = Preference.METRIC
    assert document.plan is before
    assert document.history.count() == 0


def test_that_a_finding_stands_beside_the_row_it_is_about_and_is_counted_above(qtbot, column, document):
    document.edit(("seats", 1, "x_m"), 7.0, "Move out")
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    card = field_at(column, "seats", 1, "x_m").parentWidget()
    shown = [note for note in card.findChildren(Note) if note.isVisible()]
    assert len(shown) == 1
    assert "a place in the room, 0 to 6 m; found 7.00 m" in shown[0].text()
    counts = {fold.heading.accessibleName(): fold.heading.count for fold in column.findChildren(Fold)}
    assert (counts["Who listens where"], counts["Seats"], counts["Room"]) == (1, 1, 0)
    document.history.undo()
    qtbot.waitUntil(lambda: not document.stale)
    qtbot.wait(10)
    assert notes(column) == []
    assert column.groups[1].heading.count == 0


def test_that_a_finding_in_a_folded_part_is_counted_and_shown_once_it_is_opened(qtbot, column, document):
    cable = next(fold for fold in column.findChildren(Fold) if fold.heading.accessibleName() == "Seats")
    cable.heading.click()
    document.edit(("seats", 1, "x_m"), 7.0, "Move out")
    qtbot.waitUntil(lambda: document.stale)
    assert cable.heading.count == 1
    cable.open()
    qtbot.waitUntil(lambda: any(note.isVisible() for note in cable.findChildren(Note)))


def test_that_a_finding_in_a_part_never_opened_appears_when_it_is(qtbot, column, document):
    fold = next(one for one in column.findChildren(Fold) if one.heading.accessibleName() == "Own impedance")
    assert fold.body is None
    document.edit(("candidates", 0, "loudspeaker", "impedance"), None, "Unknown")
    qtbot.waitUntil(lambda: document.stale)
    whole = next(one for one in column.findChildren(Fold) if one.heading.text() == "Impedance of the whole")
    assert whole.heading.count == 1
    whole.open()
    qtbot.waitUntil(lambda: any(note.isVisible() for note in whole.findChildren(Note)))


def test_that_a_finding_of_another_system_names_it(qtbot, column, document):
    document.edit(("candidates", 1, "loudspeaker", "sections", 1, "impedance"), None, "Unknown")
    qtbot.waitUntil(lambda: document.stale)
    assert column.rest.isVisible()
    assert "in Small boxes with two amplifiers" in column.rest.text()
    document.choose(candidate=1)
    assert not column.rest.isVisible()
    assert column.groups[3].heading.count == 1


def test_that_undo_brings_up_what_it_changed(qtbot, column, document):
    document.edit(("candidates", 1, "amplifiers", 1, "taps", 0, "watts"), 3.0, "Change watts")
    qtbot.waitUntil(lambda: document.outcomes[1].seats[0].watts_rated > 0)
    for group in column.groups:
        if group.heading.isChecked():
            group.heading.click()
    qtbot.wait(10)
    document.history.undo()
    qtbot.waitUntil(lambda: document.candidate == 1)
    qtbot.wait(10)
    field = field_at(column, "candidates", 1, "amplifiers", 1, "taps", 0, "watts")
    top = field.mapTo(column.viewport(), field.rect().topLeft()).y()
    assert 0 <= top <= column.viewport().height() - field.height()
    assert not column.groups[0].heading.isChecked()


def test_that_an_edit_does_not_scroll_the_column(qtbot, column, document):
    document.edit(("candidates", 0, "amplifiers", 0, "taps", 0, "watts"), 3.0, "Change watts")
    qtbot.wait(20)
    assert column.verticalScrollBar().value() == 0


def test_that_what_is_folded_stays_folded_in_the_next_window(qtbot, column, document):
    column.groups[1].heading.click()
    again = EditorColumn(document)
    qtbot.addWidget(again)
    assert [group.heading.isChecked() for group in again.groups] == [True, False, True, True]


def test_that_left_and_right_fold_and_open_a_heading(qtbot, column):
    heading = column.groups[0].heading
    heading.setFocus()
    qtbot.keyClick(heading, Qt.Key.Key_Left)
    assert not column.groups[0].body.isVisible()
    qtbot.keyClick(heading, Qt.Key.Key_Right)
    assert column.groups[0].body.isVisible()


def test_that_the_access_key_of_a_group_brings_it_up_and_never_folds_it(qtbot, column):
    heading = column.groups[3].heading
    qtbot.keyClick(column, Qt.Key.Key_T, Qt.KeyboardModifier.AltModifier)
    assert heading.isChecked()
    assert heading.hasFocus()
    assert 0 <= heading.mapTo(column.viewport(), heading.rect().topLeft()).y() < 40
    qtbot.keyClick(column, Qt.Key.Key_T, Qt.KeyboardModifier.AltModifier)
    assert heading.isChecked()


def test_that_tab_follows_the_eye_also_through_what_was_built_later(qtbot, column, document):
    open_all(column)
    document.replace(add_seat(document.plan), "Add seat")
    qtbot.wait(20)
    order = [one for one in in_order(column.widget()) if one.isVisibleTo(column)]
    order[0].setFocus()
    walked = [QApplication.focusWidget()]
    while len(walked) < len(order):
        qtbot.keyClick(walked[-1], Qt.Key.Key_Tab, Qt.KeyboardModifier.ControlModifier)
        if QApplication.focusWidget() is walked[-1]:
            qtbot.keyClick(walked[-1], Qt.Key.Key_Tab)
        walked.append(QApplication.focusWidget())
    usable = [one for one in order if one.isEnabled()]
    assert walked[: len(usable)] == usable
    tops = [one.mapTo(column.widget(), one.rect().topLeft()).y() for one in usable]
    drops = [later - earlier for earlier, later in pairwise(tops)]
    # Up again only within a pair of columns of octaves.
    assert sum(drop < -30 for drop in drops) <= 2


@pytest.mark.parametrize(
    "reshape",
    [
        pytest.param(open_air, id="open air"),
        pytest.param(lambda plan: remove_seat(plan, 0), id="one seat less"),
        pytest.param(lambda plan: split_section(plan, 0, 0), id="one section more"),
        pytest.param(lambda plan: put(plan, ("candidates",), plan.candidates[1:]), id="another system"),
    ],
)
def test_that_rows_and_parts_come_and_go_with_the_plan_and_with_undo(qtbot, column, document, reshape):
    open_all(column)
    before = document.plan
    shown = sorted(one.text() for one in column.findChildren(NumberField) if one.isVisibleTo(column))
    document.replace(reshape(before), "Reshape")
    qtbot.wait(10)
    document.history.undo()
    qtbot.wait(10)
    assert document.plan is before
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    open_all(column)
    again = sorted(one.text() for one in column.findChildren(NumberField) if one.isVisibleTo(column))
    assert again == shown


def test_that_a_row_that_goes_writes_nothing_of_what_was_being_typed(qtbot, column, document):
    field = field_at(column, "seats", 1, "x_m")
    field.setFocus()
    qtbot.keyClicks(field, "9")
    document.replace(remove_seat(document.plan, 1), "Take away")
    qtbot.wait(10)
    assert len(document.plan.seats) == 1
    assert document.history.count() == 1


def test_that_the_focus_stays_in_a_list_when_its_last_row_goes(qtbot, column, document):
    field = field_at(column, "seats", 1, "x_m")
    field.setFocus()
    document.replace(remove_seat(document.plan, 1), "Take away")
    focused = QApplication.focusWidget()
    assert isinstance(focused, Bound)
    assert focused.place.path[:2] == ("seats", 0)


def test_that_rows_keep_their_widgets_while_only_values_change(column, document):
    rows = field_at(column, "seats", 0, "x_m").parentWidget().parentWidget()
    assert isinstance(rows, Rows)
    before = list(rows.rows)
    document.edit(("seats", 0, "x_m"), 3.3, "Move")
    document.replace(add_seat(document.plan), "Add seat")
    assert rows.rows[:2] == before


def test_that_a_part_is_built_anew_only_when_its_kind_changes(qtbot, document):
    made = []

    def kind():
        return document.plan.room is not None

    def make(there):
        made.append(there)
        return Editor(document) if there else None

    variant = Variant(document, kind, make)
    qtbot.addWidget(variant)
    document.edited.connect(variant.pull)
    document.edit(("room", "length_m"), 7.0, "Change")
    assert made == [True]
    document.replace(open_air(document.plan), "Open air")
    assert made == [True, False]
    assert variant.part is None


def test_that_no_part_ever_shows_itself_as_a_window(qtbot, document):
    before = {one for one in QApplication.topLevelWidgets() if one.isVisible()}
    column = EditorColumn(document)
    qtbot.addWidget(column)
    open_all(column)
    document.replace(open_air(document.plan), "Open air")
    document.history.undo()
    assert {one for one in QApplication.topLevelWidgets() if one.isVisible()} == before


def test_that_the_column_may_outlive_its_document(qtbot, sample_plan):
    from planner.desktop.document import PlanDocument

    document = PlanDocument(sample_plan)
    column = EditorColumn(document)
    qtbot.addWidget(column)
    document.edit(("room", "length_m"), 7.0, "Change")
    document.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    column.show()
    assert column.isVisible()


def test_that_a_closed_column_is_freed(document):
    column = EditorColumn(document)
    open_all(column)
    column.show()
    field = weakref.ref(field_at(column, "room", "length_m"))
    ref = weakref.ref(column)
    column.close()
    column.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del column
    gc.collect()
    document.edit(("room", "length_m"), 7.0, "Change")
    assert (ref(), field()) == (None, None)
