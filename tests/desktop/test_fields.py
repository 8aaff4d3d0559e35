"""Fields by the user's acts: what is typed, stepped, dragged, restored, and what the plan then holds.

Texts in the tables are those of which it is known that general unit libraries or spin boxes read some of them
wrongly without a word; what each means is by definition (1 ft = 0.3048 m, 1 in = 0.0254 m exactly).
"""

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from planner.desktop.fields import (
    AccessKeys,
    ChoiceField,
    Form,
    Note,
    NumberField,
    Place,
    RemarkField,
    ScrubLabel,
    TextField,
)
from planner.desktop.settings import settings
from planner.plan import Finding, put
from planner.plan.units import Preference

LENGTH = ("room", "length_m")
WIDTH = ("room", "width_m")
PEAK = ("target", "peak_db")
NAME = ("seats", 0, "name")


@pytest.fixture
def stage(qtbot, document):
    """Puts fields into an active window, and has them pulled at every edit."""
    window = QWidget()
    qtbot.addWidget(window)
    lines = QVBoxLayout(window)

    def place(*widgets):
        for widget in widgets:
            lines.addWidget(widget)
            if hasattr(widget, "pull"):
                document.edited.connect(widget.pull)
        with qtbot.waitActive(window):
            window.show()
            window.activateWindow()
        return widgets[0] if len(widgets) == 1 else widgets

    return place


def type_into(qtbot, field, text, finish=Qt.Key.Key_Return):
    field.setFocus()
    field.selectAll()
    if text.isascii():
        qtbot.keyClicks(field, text)
    else:
        # The test library cannot press keys that are not on its keyboard.
        QApplication.clipboard().setText(text)
        qtbot.keyClick(field, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    if finish is not None:
        qtbot.keyClick(field, finish)


def wheel(field, up=True):
    step = QPoint(0, 120 if up else -120)
    middle = QPointF(field.rect().center())
    event = QWheelEvent(
        middle,
        QPointF(field.mapToGlobal(field.rect().center())),
        QPoint(),
        step,
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(field, event)


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("3.2", 3.2),
        ("3,2", 3.2),
        ("3,2 m", 3.2),
        ("320 cm", 3.2),
        ("14 ft 6 in", 4.4196),
        ("14' 6\"", 4.4196),
        ("14′ 6″", 4.4196),
        ("14½ ft", 4.4196),
        ("14.5ft", 4.4196),
        ("3 m 20 cm", 3.2),
        ("  7 ", 7.0),
        ("1 1/2 m", 1.5),
    ],
)
def test_that_a_length_means_what_a_person_means_by_it(qtbot, document, stage, typed, metres):
    field = stage(NumberField(document, LENGTH))
    type_into(qtbot, field, typed)
    assert document.plan.room.length_m == pytest.approx(metres, rel=1e-12)
    assert field.fault == ""


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("3,200 mm", "could mean 3.200 or 3200"),
        ("1.234,5 mm", "could mean 1234.5 or 1.2345"),
        ("", "is empty"),
        ("m", "no number"),
        ("3 parsec", "not known here"),
        ("3.2e500 m", "too large a number"),
        ("nan", "not a finite number"),
        ("5 W", "is a power"),
        ("−3 m", "too little"),
        ("300", "300.00 m is too much; expected 0.50 m to 100.00 m"),
        ("0.2 m", "0.20 m is too little"),
    ],
)
def test_that_what_cannot_be_taken_stays_typed_with_the_reason_beside_it(qtbot, document, stage, typed, why):
    form = Form()
    field = NumberField(document, LENGTH)
    note = form.add(field)
    stage(form)
    type_into(qtbot, field, typed)
    if not typed:
        qtbot.keyClick(field, Qt.Key.Key_Delete)
        qtbot.keyClick(field, Qt.Key.Key_Return)
    assert why in field.fault
    assert field.text() == typed
    assert document.plan.room.length_m == 6.0
    assert document.history.count() == 0
    assert note.isVisible()
    assert field.fault.rstrip(".") in note.text()


def test_that_escape_gives_back_the_value_and_takes_the_fault_away(qtbot, document, stage):
    form = Form()
    field = NumberField(document, LENGTH)
    note = form.add(field)
    stage(form)
    type_into(qtbot, field, "300")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "6.00 m"
    assert field.fault == ""
    assert not note.isVisible()


def test_that_escape_before_return_changes_nothing(qtbot, document, stage):
    field = stage(NumberField(document, LENGTH))
    type_into(qtbot, field, "8", finish=Qt.Key.Key_Escape)
    assert field.text() == "6.00 m"
    assert document.history.count() == 0


def test_that_a_fault_goes_while_it_is_mended(qtbot, document, stage):
    field = stage(NumberField(document, LENGTH))
    type_into(qtbot, field, "300")
    qtbot.keyClick(field, Qt.Key.Key_End)
    qtbot.keyClick(field, Qt.Key.Key_Backspace)
    assert field.text() == "30"
    assert field.fault == ""
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert document.plan.room.length_m == 30.0


def test_that_leaving_takes_what_was_typed_in_one_undoable_step(qtbot, document, stage):
    first, second = stage(NumberField(document, LENGTH), NumberField(document, WIDTH))
    type_into(qtbot, first, "7.25", finish=None)
    assert document.plan.room.length_m == 6.0
    second.setFocus()
    assert document.plan.room.length_m == 7.25
    assert document.history.count() == 1
    assert document.history.undoText() == "Change length"
    document.history.undo()
    assert first.text() == "6.00 m"


def test_that_leaving_a_fault_leaves_it_standing_until_the_value_changes(qtbot, document, stage):
    first, second = stage(NumberField(document, LENGTH), NumberField(document, WIDTH))
    type_into(qtbot, first, "300")
    second.setFocus()
    assert (first.text(), bool(first.fault)) == ("300", True)
    type_into(qtbot, second, "5")
    assert (first.text(), bool(first.fault)) == ("300", True)
    document.edit(LENGTH, 9.0, "From elsewhere")
    assert (first.text(), first.fault) == ("9.00 m", "")


def test_that_rounding_for_reading_never_changes_what_is_stored(qtbot, document, stage):
    exact = 4.4196123456789
    document.edit(LENGTH, exact, "Set")
    count = document.history.count()
    first, second = stage(NumberField(document, LENGTH), NumberField(document, WIDTH))
    second.setFocus()
    assert first.text() == "4.42 m"
    first.setFocus()
    assert first.text() == "4.4196123456789 m"
    second.setFocus()
    settings().units = Preference.US
    assert first.text() == "14 ft 6.0 in"
    first.setFocus()
    second.setFocus()
    settings().units = Preference.METRIC
    assert document.plan.room.length_m == exact
    assert document.history.count() == count


def test_that_a_bare_number_is_in_the_unit_that_is_shown(qtbot, document, stage):
    settings().units = Preference.US
    field = stage(NumberField(document, LENGTH))
    type_into(qtbot, field, "10")
    assert document.plan.room.length_m == pytest.approx(3.048, rel=1e-12)
    type_into(qtbot, field, "3 m")
    assert document.plan.room.length_m == 3.0


def test_that_the_arrows_make_one_step_of_many_and_page_goes_ten_times_as_far(qtbot, document, stage):
    field = stage(NumberField(document, LENGTH))
    field.setFocus()
    for _ in range(3):
        qtbot.keyClick(field, Qt.Key.Key_Up)
    assert document.plan.room.length_m == pytest.approx(6.3)
    qtbot.keyClick(field, Qt.Key.Key_PageDown)
    assert document.plan.room.length_m == pytest.approx(5.3)
    assert document.history.count() == 1
    document.history.undo()
    assert document.plan.room.length_m == 6.0


@pytest.mark.parametrize(
    ("key", "modifier", "metres"),
    [
        (Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier, 7.0),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier, 5.0),
        (Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier, 7.0),
        (Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier, 6.01),
    ],
)
def test_that_modifiers_step_far_and_fine(qtbot, document, stage, key, modifier, metres):
    field = stage(NumberField(document, LENGTH))
    field.setFocus()
    qtbot.keyClick(field, key, modifier)
    assert document.plan.room.length_m == pytest.approx(metres)


def test_that_steps_stop_at_the_ends_of_the_range(qtbot, document, stage):
    field = stage(NumberField(document, LENGTH))
    type_into(qtbot, field, "99.95")
    qtbot.keyClick(field, Qt.Key.Key_Up)
    assert document.plan.room.length_m == 100.0
    qtbot.keyClick(field, Qt.Key.Key_Up)
    assert document.plan.room.length_m == 100.0


@pytest.mark.parametrize(
    ("path", "steps", "value"),
    [
        # A tenth of the leading figure's place, worked out by hand.
        pytest.param(("candidates", 0, "loudspeaker", "sections", 0, "low_hz"), 1, 41.0, id="40 Hz up"),
        pytest.param(("candidates", 0, "loudspeaker", "sections", 1, "high_hz"), 1, 17000.0, id="16 kHz up"),
        pytest.param(("candidates", 0, "amplifiers", 0, "taps", 0, "watts"), -1, 2.4, id="2.5 W down"),
        pytest.param(
            ("candidates", 0, "loudspeaker", "sections", 0, "radiator", "count"), -1, 1, id="2 drivers"
        ),
    ],
)
def test_that_steps_suit_values_that_span_decades(document, stage, path, steps, value):
    field = stage(NumberField(document, path))
    field.stepBy(steps)
    assert field.stored() == pytest.approx(value)
    assert type(field.stored()) is type(value)


def test_that_the_wheel_turns_only_a_field_that_has_the_focus(document, stage):
    field, other = stage(NumberField(document, LENGTH), NumberField(document, WIDTH))
    other.setFocus()
    wheel(field)
    assert document.plan.room.length_m == 6.0
    field.setFocus()
    wheel(field)
    assert document.plan.room.length_m == pytest.approx(6.1)
    choice = ChoiceField(
        document, ("programme", "kind"), "Kind", [("pink", "Pink"), ("simulated", "Simulated")]
    )
    stage(choice)
    wheel(choice)
    assert document.plan.programme.kind == "simulated"


@pytest.fixture
def scrubbed(document, stage):
    """A form with the label of the length, that can be dragged, and the field beside it."""
    form = Form()
    field = NumberField(document, LENGTH)
    form.add(field)
    stage(form)
    document.edited.connect(field.pull)
    return form.findChild(ScrubLabel), field


def drag(qtbot, label, *ways, modifier=Qt.KeyboardModifier.NoModifier, release=True):
    start = QPoint(4, label.height() // 2)
    qtbot.mousePress(label, Qt.MouseButton.LeftButton, pos=start)
    for way in ways:
        qtbot.mouseMove(label, start + QPoint(way, 0))
        event_at(label, start + QPoint(way, 0), modifier)
    if release:
        qtbot.mouseRelease(label, Qt.MouseButton.LeftButton, pos=start + QPoint(ways[-1], 0))


def event_at(label, at, modifier):
    from PySide6.QtGui import QMouseEvent

    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(at),
        QPointF(label.mapToGlobal(at)),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        modifier,
    )
    QApplication.sendEvent(label, event)


def test_that_dragging_a_label_changes_its_number_live_and_is_one_undoable_step(qtbot, document, scrubbed):
    label, field = scrubbed
    seen = []
    document.edited.connect(lambda: seen.append(document.plan.room.length_m))
    before = document.plan
    drag(qtbot, label, 12, 24, 40)
    # 4 px are a step of 0.1 m: 12 px 0.3 m, 40 px 1.0 m.
    assert seen[0] == pytest.approx(6.3)
    assert document.plan.room.length_m == pytest.approx(7.0)
    assert field.text().startswith("7")
    assert document.history.count() == 1
    document.history.undo()
    assert document.plan is before


def test_that_two_drags_are_two_steps(qtbot, document, scrubbed):
    label, _ = scrubbed
    drag(qtbot, label, 12)
    drag(qtbot, label, 12)
    assert document.history.count() == 2


@pytest.mark.parametrize(
    ("modifier", "metres"),
    [(Qt.KeyboardModifier.ShiftModifier, 16.0), (Qt.KeyboardModifier.AltModifier, 6.1)],
)
def test_that_a_drag_can_go_far_and_fine(qtbot, document, scrubbed, modifier, metres):
    label, _ = scrubbed
    start = QPoint(4, label.height() // 2)
    qtbot.mousePress(label, Qt.MouseButton.LeftButton, pos=start)
    event_at(label, start + QPoint(40, 0), modifier)
    qtbot.mouseRelease(label, Qt.MouseButton.LeftButton, pos=start + QPoint(40, 0))
    assert document.plan.room.length_m == pytest.approx(metres)


def test_that_escape_during_a_drag_gives_the_number_back(qtbot, document, scrubbed):
    label, field = scrubbed
    drag(qtbot, label, 12, 40, release=False)
    assert document.plan.room.length_m == pytest.approx(7.0)
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert document.plan.room.length_m == 6.0
    assert document.history.count() == 0
    qtbot.mouseRelease(label, Qt.MouseButton.LeftButton)
    assert document.plan.room.length_m == 6.0


def test_that_a_click_on_a_label_goes_to_its_field_and_changes_nothing(qtbot, document, scrubbed):
    label, field = scrubbed
    qtbot.mouseClick(label, Qt.MouseButton.LeftButton)
    assert field.hasFocus()
    assert document.history.count() == 0


def test_that_an_optional_number_is_left_out_by_emptying_it(qtbot, document, stage):
    path = ("room", "surfaces", "floor", 0, "area_m2")
    field = stage(NumberField(document, path, optional=True))
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert document.plan.room.surfaces.floor[0].area_m2 is None
    assert field.fault == ""
    field.start = 5.0
    qtbot.keyClick(field, Qt.Key.Key_Up)
    assert document.plan.room.surfaces.floor[0].area_m2 == pytest.approx(5.1)


def test_that_a_number_may_be_read_in_a_finer_unit_than_the_plan_has(qtbot, document, stage):
    path = ("candidates", 0, "loudspeaker", "sections", 0, "radiator", "diameter_m")
    field = stage(NumberField(document, path, unit="cm"))
    assert field.text() == "33 cm"
    type_into(qtbot, field, "38")
    assert field.stored() == 0.38
    type_into(qtbot, field, "15 in")
    assert field.stored() == pytest.approx(0.381)
    settings().units = Preference.US
    assert field.text() == "15 in"


def test_that_undo_is_the_documents_unless_text_is_being_typed(qtbot, document, stage):
    field = stage(NumberField(document, LENGTH))
    field.setFocus()

    def taken_by_field():
        press = QKeyEvent(QEvent.Type.ShortcutOverride, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        press.ignore()
        QApplication.sendEvent(field, press)
        return press.isAccepted()

    assert not taken_by_field()
    qtbot.keyClicks(field, "7")
    assert taken_by_field()


def test_that_a_field_tells_a_screen_reader_its_name_value_and_range(document, stage):
    field = stage(NumberField(document, LENGTH))
    told = QAccessible.queryAccessibleInterface(field)
    assert told.text(QAccessible.Text.Name) == "Length"
    assert "0.50 m to 100.00 m" in field.accessibleDescription()
    assert "Front wall to back wall" in field.toolTip()
    assert field.property("value") == 6.0


def test_that_a_name_is_taken_on_return_and_an_empty_one_is_refused(qtbot, document, stage):
    form = Form()
    field = TextField(document, NAME, "Name")
    note = form.add(field)
    stage(form)
    type_into(qtbot, field, " Chair ")
    assert document.plan.seats[0].name == "Chair"
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert document.plan.seats[0].name == "Chair"
    assert "not empty" in note.text()
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "Chair"


def test_that_a_remark_is_taken_on_leaving_and_may_be_left_out(qtbot, document, stage):
    path = ("candidates", 0, "loudspeaker", "note")
    remark, other = stage(RemarkField(document, path, "Note"), NumberField(document, LENGTH))
    remark.setFocus()
    qtbot.keyClicks(remark, "Invented")
    assert document.plan.candidates[0].loudspeaker.note is None
    other.setFocus()
    assert document.plan.candidates[0].loudspeaker.note == "Invented"
    remark.setFocus()
    remark.selectAll()
    qtbot.keyClick(remark, Qt.Key.Key_Delete)
    other.setFocus()
    assert document.plan.candidates[0].loudspeaker.note is None


def test_that_a_choice_is_one_undoable_step_and_follows_undo(qtbot, document, stage):
    kinds = [("pink", "Pink"), ("simulated", "Simulated")]
    field = stage(ChoiceField(document, ("programme", "kind"), "Kind", kinds))
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Up)
    assert document.plan.programme.kind == "pink"
    document.history.undo()
    assert field.currentText() == "Simulated"


def test_that_a_choice_shows_nothing_where_the_value_is_not_on_offer(document, stage):
    field = stage(ChoiceField(document, ("programme", "kind"), "Kind", [("pink", "Pink")]))
    assert field.currentIndex() == -1
    field.offer([("pink", "Pink"), ("simulated", "Simulated")])
    assert field.currentText() == "Simulated"


def test_that_a_place_moves_with_the_place_above_it(document, stage):
    seat = Place("seats", 0)
    field = stage(NumberField(document, seat.to("x_m")))
    assert field.text() == "4.20 m"
    seat.steps = ("seats", 1)
    field.pull()
    assert field.text() == "5.20 m"


def test_that_findings_are_shown_in_the_units_preferred(qtbot, document, stage):
    note = Note(Place("seats", 0))
    stage(note)
    note.show_findings([Finding("seats[0].x_m", "7", "a place in the room, 0 to 6.1 m")])
    assert "0 to 6.1 m; found 7." in note.text()
    settings().units = Preference.US
    assert "0 to 20 ft 0.2 in" in note.text()
    note.show_findings([])
    assert not note.isVisible()


def test_that_no_access_key_is_given_twice_nor_one_of_a_menu():
    keys = AccessKeys()
    marked = [keys.mark(text) for text in ("File", "Length", "Width", "Angle", "Air & leak", "Le")]
    letters = [text[text.index("&") + 1].upper() for text in marked if "&" in text.replace("&&", "")]
    assert len(set(letters)) == len(letters)
    assert not set(letters) & set("FEVH")
    assert marked[4].replace("&&", "").count("&") == 1


def test_that_the_plan_refusing_a_value_is_said_as_well(qtbot, document, stage):
    path = ("candidates", 0, "loudspeaker", "sections", 0, "high_hz")
    field = stage(NumberField(document, path))
    type_into(qtbot, field, "30 Hz")
    assert "low_hz below high_hz" in field.fault
    assert field.stored() == 500.0


def test_that_a_field_let_go_writes_nothing_more(qtbot, document, stage):
    field = stage(NumberField(document, LENGTH))
    field.let_go()
    type_into(qtbot, field, "7")
    assert document.plan.room.length_m == 6.0


@pytest.mark.parametrize(
    "make",
    [
        lambda document: NumberField(document, LENGTH),
        lambda document: TextField(document, NAME, "Name"),
        lambda document: ChoiceField(document, ("programme", "kind"), "Kind", [("pink", "Pink")]),
    ],
    ids=["number", "text", "choice"],
)
def test_that_a_closed_field_is_freed(document, make):
    field = make(document)
    document.edited.connect(field.pull)
    field.show()
    ref = weakref.ref(field)
    field.close()
    field.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del field
    gc.collect()
    document.replace(put(document.plan, LENGTH, 7.0), "Set")
    assert ref() is None
