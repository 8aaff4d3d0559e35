"""Target and programme by the user's acts: two linked levels, crest factors, the coherence table."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication

from planner.desktop.editors import EditorColumn
from planner.desktop.editors.loudness import TypicalCrest
from planner.desktop.editors.recording import RecordingEditor
from planner.desktop.fields import ScrubLabel
from planner.plan.recorded import with_recording
from planner.programme.spectra import TYPICAL_CREST
from tests.desktop.editing import button, field_at, fold, notes, open_all, type_into
from tests.programme.kept import beats_kept


@pytest.fixture
def column(qtbot, document):
    column = EditorColumn(document)
    qtbot.addWidget(column)
    open_all(column)
    with qtbot.waitActive(column):
        column.show()
        column.activateWindow()
    return column


@pytest.fixture
def target(column):
    return fold(column, "Target").body


def test_that_the_level_typed_last_is_held_and_the_other_follows(qtbot, document, target):
    seat = document.outcome.seats[0]
    assert target.average.field.text() == f"{seat.average_db:.1f} dB"
    type_into(qtbot, target.average.field, "85")
    assert (document.plan.target.peak_db, document.plan.target.average_db) == (None, 85.0)
    qtbot.waitUntil(lambda: document.outcome.seats[0].average_db == pytest.approx(85.0))
    follows = document.outcome.seats[0].peak_target_db
    qtbot.waitUntil(lambda: target.peak.field.text() == f"{follows:.1f} dB")
    type_into(qtbot, target.peak.field, "99")
    assert (document.plan.target.peak_db, document.plan.target.average_db) == (99.0, None)


def test_that_a_livelier_record_lowers_the_average_while_the_peak_is_held(qtbot, column, document, target):
    before = float(target.average.field.text().split()[0])
    type_into(qtbot, field_at(column, "programme", "crest_db"), "18")
    qtbot.waitUntil(lambda: float(target.average.field.text().split()[0]) != before)
    assert float(target.average.field.text().split()[0]) == pytest.approx(before - 3.0, abs=0.051)
    assert target.peak.field.text() == "100.0 dB"


def test_that_which_level_is_held_is_said_in_words_and_by_a_mark(qtbot, document, target):
    assert (target.peak.state.text(), target.average.state.text()) == ("held", "follows")
    assert (target.peak.pin.mark, target.average.pin.mark) == ("held", "free")
    assert "The average at Sofa follows" in target.hint.text()
    type_into(qtbot, target.average.field, "85")
    assert (target.peak.state.text(), target.average.state.text()) == ("follows", "held")
    assert "follows" in target.peak.field.accessibleDescription()


def test_that_the_lock_holds_the_level_that_is_shown(qtbot, document, target):
    shown = float(target.average.field.text().split()[0])
    target.average.pin.click()
    assert document.plan.target.average_db == pytest.approx(shown)
    target.average.pin.click()
    assert document.history.count() == 1
    assert target.average.pin.isChecked()


def test_that_the_level_that_follows_is_that_at_the_seat_looked_at(qtbot, document, target):
    type_into(qtbot, target.average.field, "85")
    qtbot.waitUntil(lambda: document.outcome.seats[0].average_db == pytest.approx(85.0))
    document.choose(seat=1)
    assert target.peak.field.text() == f"{document.outcome.seats[1].peak_target_db:.1f} dB"
    assert "Desk" in target.hint.text()


def test_that_dragging_the_level_that_follows_holds_it(qtbot, document, target):
    label = target.average.findChild(ScrubLabel)
    before = float(target.average.field.text().split()[0])
    start = QPoint(4, label.height() // 2)
    qtbot.mousePress(label, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(label, start + QPoint(12, 0))
    qtbot.mouseRelease(label, Qt.MouseButton.LeftButton, pos=start + QPoint(12, 0))
    # Three steps of 1 dB.
    assert document.plan.target.average_db == pytest.approx(before + 3.0)
    assert document.history.count() == 1


def test_that_a_level_out_of_range_is_refused_and_nothing_is_let_go(qtbot, document, target):
    type_into(qtbot, target.average.field, "200")
    assert any("194.0 dB" in note for note in notes(target))
    assert document.plan.target.peak_db == 100.0


def test_that_a_typical_crest_factor_is_taken_from_the_menu(column, document):
    chooser = column.findChild(TypicalCrest)
    actions = chooser.menu.actions()
    assert len(actions) == len(TYPICAL_CREST)
    jazz = next(action for action in actions if "jazz" in action.text())
    assert "common practice, no published source" in jazz.text()
    jazz.trigger()
    assert document.plan.programme.crest_db == 16.0
    assert document.history.undoText() == "Take a typical crest factor"


def test_that_spectrum_transient_and_distortion_change_the_plan(qtbot, column, document):
    kind = field_at(column, "programme", "kind")
    kind.setFocus()
    qtbot.keyClick(kind, Qt.Key.Key_End)
    type_into(qtbot, field_at(column, "programme", "transient_ms"), "0.05 s")
    type_into(qtbot, field_at(column, "at_distortion_pct"), "10 %")
    assert document.plan.programme.kind == "pink"
    assert document.plan.programme.transient_ms == 50.0
    assert document.plan.at_distortion_pct == 10.0


@pytest.fixture
def coherence(qtbot, column, document):
    """The table of coherence, just asked for: 150 Hz 1, 300 Hz 0.5."""
    kind = field_at(column, "programme", "coherence")
    kind.setFocus()
    qtbot.keyClick(kind, Qt.Key.Key_End)
    return fold(column, "Programme").body._parts[-1].part


def cell(table, row, column):
    return table.model.index(row, column)


def edit(qtbot, table, row, column, text):
    """Double-click a cell, type, press Return, as a person does."""
    table.view.setCurrentIndex(cell(table, row, column))
    table.view.edit(cell(table, row, column))
    editor = table.view.focusWidget()
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.wait(1)


def test_that_cells_are_typed_in_any_unit_and_rows_stay_in_order(qtbot, document, coherence):
    edit(qtbot, coherence, 0, 0, "1,2 kHz")
    assert document.plan.programme.coherence == ((300.0, 0.5), (1200.0, 1.0))
    edit(qtbot, coherence, 1, 1, "0.25")
    assert document.plan.programme.coherence == ((300.0, 0.5), (1200.0, 0.25))
    assert cell(coherence, 1, 0).data() == "1200 Hz"


def test_that_a_cell_that_cannot_be_taken_is_said_below_the_table(qtbot, document, coherence):
    before = document.plan.programme.coherence
    edit(qtbot, coherence, 0, 1, "2")
    assert document.plan.programme.coherence == before
    assert any("too much" in note for note in notes(coherence))
    edit(qtbot, coherence, 0, 0, "300")
    assert any("rise from row to row" in note for note in notes(coherence))
    edit(qtbot, coherence, 0, 1, "0.9")
    assert notes(coherence) == []


def test_that_rows_are_added_between_and_taken_away(qtbot, document, coherence):
    coherence.view.setCurrentIndex(cell(coherence, 0, 0))
    button(coherence, "Add a row below").click()
    # Half way: sqrt(150 × 300) = 212.1 Hz, and (1 + 0.5) / 2.
    assert document.plan.programme.coherence[1] == (212.1, 0.75)
    coherence.view.setCurrentIndex(cell(coherence, 1, 0))
    qtbot.keyClick(coherence.view, Qt.Key.Key_Delete)
    assert document.plan.programme.coherence == ((150.0, 1.0), (300.0, 0.5))


def test_that_the_last_row_stays(qtbot, document, coherence):
    coherence.view.selectAll()
    qtbot.keyClick(coherence.view, Qt.Key.Key_Delete)
    assert len(document.plan.programme.coherence) == 2
    coherence.view.setCurrentIndex(cell(coherence, 0, 0))
    button(coherence, "Take the chosen rows away (Delete)").click()
    assert not coherence.remove.isEnabled()


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("Hz\trho\n100\t1\n1000\t0.4\n", id="a spreadsheet with a heading"),
        pytest.param("100; 1\n1000; 0,4", id="semicolons and decimal commas"),
        pytest.param("1 kHz, 0.4\n100 Hz, 1", id="commas, units, the other way round"),
        pytest.param("100,1\n1000,0.4", id="bare commas"),
        pytest.param("100 1\n1000 0.4", id="spaces"),
    ],
)
def test_that_rows_are_pasted_from_elsewhere(qtbot, document, coherence, text):
    QGuiApplication.clipboard().setText(text)
    coherence.view.setFocus()
    qtbot.keyClick(coherence.view, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert document.plan.programme.coherence == ((100.0, 1.0), (1000.0, 0.4))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("words only", "no rows of numbers"),
        ("100 1 2", "does not hold these columns"),
        ("100\t7", "too much"),
    ],
)
def test_that_what_is_no_table_is_not_pasted(document, coherence, text, why):
    before = document.plan.programme.coherence
    QGuiApplication.clipboard().setText(text)
    coherence.paste()
    assert document.plan.programme.coherence == before
    assert any(why in note for note in notes(coherence))


def test_that_a_recording_shows_its_figures_and_goes_when_another_spectrum_is_chosen(qtbot, document, column):
    editor = fold(column, "Programme").body
    kinds = [editor.kind.itemText(index) for index in range(editor.kind.count())]
    assert kinds == ["Simulated programme", "Pink noise"]
    assert not editor.findChild(RecordingEditor).sketch.isVisible()
    document.replace(with_recording(document.plan, beats_kept()), "take")
    shown = editor.findChild(RecordingEditor)
    assert editor.kind.currentText() == "Recording" and shown.button.text() == "beats.wav"
    assert editor.likeness.currentText() == "As in the recording"
    assert shown.sketch.isVisible() and "crest factor" in shown.facts.text()
    editor.kind.activated.emit(editor.kind.findText("Pink noise"))
    assert (document.plan.programme.kind, document.plan.programme.recording) == ("pink", None)
    assert not shown.sketch.isVisible()
    document.history.undo()
    assert editor.kind.currentText() == "Recording"
