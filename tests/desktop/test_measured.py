"""Measurements in the window: decays and tables previewed, then put into the plan in one step."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.editors.decay import DecayEditor
from planner.desktop.editors.response import ResponseEditor
from planner.desktop.editors.table_file import TableButton
from planner.desktop.fields import Place
from planner.desktop.measured import DecayDialog, TableDialog, take_dropped
from planner.desktop.measured.dropped import SoundQuestion
from planner.desktop.measured.putting import (
    Reference,
    held_words,
    likely_nominal_ohm,
    uses_of,
    with_impedance,
    with_response,
)
from planner.headroom import compute
from planner.measurements.curves import Curve
from planner.plan.edit import get
from planner.programme.render import write_wave
from planner.report.decays import read_decay

LIVING_ROOM = Path(__file__).parent.parent / "measurements" / "living_room.wav"


def curve(values, points=(100.0, 1000.0), kind="response", phase=None):
    return Curve(kind, points, values, phase, "", True)


def host(qtbot):
    """What stands behind a dialog, which goes by itself once it is closed."""
    window = QWidget()
    qtbot.addWidget(window)
    qtbot.hosts = [*getattr(qtbot, "hosts", []), window]  # which alone keeps it alive
    return window


def decay_dialog(qtbot, document, path):
    made = DecayDialog(document, path, host(qtbot))
    with qtbot.waitSignal(made.ready, timeout=20_000):
        made.show()
    return made


def table_dialog(qtbot, document, tmp_path, text, name="curve.csv"):
    (tmp_path / name).write_text(text)
    made = TableDialog(document, tmp_path / name, host(qtbot))
    made.show()
    return made


def choose(dialog, box, words):
    index = box.findText(words)
    assert index >= 0, [box.itemText(one) for one in range(box.count())]
    box.setCurrentIndex(index)
    box.activated.emit(index)


def test_that_a_decay_is_shown_by_octave_and_becomes_the_measured_t60_in_one_step(qtbot, document):
    before = document.plan
    made = decay_dialog(qtbot, document, LIVING_ROOM)
    found = read_decay(str(LIVING_ROOM))
    assert made.model.rowCount() == len(found.bands)
    texts = [made.model.data(made.model.index(4, column)) for column in range(made.model.columnCount())]
    assert f"{found.bands[4].edt_s:.2f}" in texts
    outcome = compute(document.plan)
    band = int(np.abs(outcome.seats[0].bands.centre_hz - found.bands[4].centre_hz).argmin())
    assert texts[-1] == f"{outcome.room.t60_s[band]:.2f}"
    assert document.plan is before
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    assert dict(document.plan.room.measured_t60_s) == pytest.approx(found.measured_t60_s())
    document.history.undo()
    assert document.plan is before


def test_that_octaves_with_too_little_range_are_refused_in_words(qtbot, document, tmp_path):
    rng = np.random.default_rng(1)
    time_s = np.arange(48000) / 48000
    noisy = rng.standard_normal(48000) * (10.0 ** (-3.0 * time_s / 0.6) + 0.08)
    write_wave(tmp_path / "noisy.wav", 0.2 * noisy[np.newaxis], 48000)
    made = decay_dialog(qtbot, document, tmp_path / "noisy.wav")
    assert "no " in made.refusals.text() and "kHz" in made.refusals.text()
    assert not made.take.isEnabled()


def test_that_a_file_that_is_no_sound_is_told_and_nothing_can_be_taken(qtbot, document, tmp_path):
    (tmp_path / "text.wav").write_text("hello")
    made = decay_dialog(qtbot, document, tmp_path / "text.wav")
    assert "text.wav" in made.fault.text() and not made.take.isEnabled()


def test_that_a_response_relative_to_the_sensitivity_is_put_in_and_undone(qtbot, document, tmp_path):
    made = table_dialog(qtbot, document, tmp_path, "Hz;dB\n100;-3,0\n1000;0,5\n")
    assert "decimal comma" in made.words.text()
    choose(made, made.uses, "Response of Horn")
    assert "Held flat below 100 Hz and above 1000 Hz" in made.after.text()
    before = document.plan
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    path = ("candidates", 0, "loudspeaker", "sections", 1, "response")
    assert get(document.plan, path) == ((100.0, -3.0), (1000.0, 0.5))
    document.history.undo()
    assert document.plan is before


def test_that_levels_at_a_distance_become_those_at_a_metre_for_the_stated_drive(qtbot, document, tmp_path):
    # By hand: 98 dB at 2 m with 5.66 V are 98 + 6.02 - 6.02 = 98 dB at 1 m for 2.83 V; 104 dB is stated.
    made = table_dialog(qtbot, document, tmp_path, "Hz,SPL dB\n100,98\n1000,100\n")
    choose(made, made.uses, "Response of Horn")
    choose(made, made.levels, "Sound pressure, dB re 20 µPa")
    assert made.distance.isVisible() and made.volts.isVisible()
    for field, text in ((made.distance, "2"), (made.volts, "5.6569")):
        field.selectAll()
        qtbot.keyClicks(field, text)
        qtbot.keyClick(field, Qt.Key.Key_Tab)
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    path = ("candidates", 0, "loudspeaker", "sections", 1, "response")
    assert [level for _, level in get(document.plan, path)] == pytest.approx([-6.0, -4.0], abs=1e-3)


def test_that_a_level_for_one_watt_counts_the_nominal_impedance():
    # By hand: 1 W into 6 ohm is 2.449 V, so a drive of 2.449 V at 1 m changes nothing.
    from planner.plan import Plan
    from tests.desktop.conftest import PLAN

    plan, path = Plan.model_validate(PLAN), ("candidates", 1, "loudspeaker", "sections", 1, "response")
    after = with_response(plan, path, curve((90.0, 88.0)), Reference(False, 1.0, 6.0**0.5))
    assert [level for _, level in get(after, path)] == pytest.approx([2.0, 0.0])


def test_that_an_impedance_keeps_its_nominal_value_and_phases(qtbot, document, tmp_path):
    made = table_dialog(
        qtbot, document, tmp_path, "freq ohm phase\n20 30 20\n200 6.5 -170\n2000 9 190\n", "z.txt"
    )
    assert made.use.words == "Impedance of the whole loudspeaker"
    assert made.nominal_ohm == 8.0 and made.nominal.isVisible() and not made.levels.isVisible()
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    impedance = document.plan.candidates[0].loudspeaker.impedance
    assert impedance.nominal_ohm == 8.0
    assert impedance.table == ((20.0, 30.0, 20.0), (200.0, 6.5, -170.0), (2000.0, 9.0, -170.0))


def test_that_a_nominal_impedance_follows_from_the_least_magnitude():
    # IEC 60268-5: the least magnitude is at least 80 % of the nominal value.
    assert likely_nominal_ohm(curve((30.0, 6.4), kind="impedance")) == 8.0
    assert likely_nominal_ohm(curve((30.0, 6.3), kind="impedance")) == 6.0
    assert likely_nominal_ohm(curve((30.0, 0.2), kind="impedance")) == 1.0


def test_that_without_phases_a_magnitude_counts_as_resistance(sample_plan):
    path = ("candidates", 0, "loudspeaker", "impedance")
    after = with_impedance(sample_plan, path, curve((8.0, 9.0), kind="impedance"), 8.0)
    assert [row[2] for row in get(after, path).table] == [0.0, 0.0]


def test_that_room_noise_is_rated_and_taken_either_way(qtbot, document, tmp_path):
    # ANSI S12.2: 45 dB at 500 Hz alone touches NC-41; A-weighting takes 3.2 dB off it.
    made = table_dialog(qtbot, document, tmp_path, "Hz dB\n500 45\n1000 0\n", "noise.txt")
    choose(made, made.uses, "Noise of the room by octave")
    assert "NC 41.0" in made.after.text() and "41.8 dB(A)" in made.after.text()
    choose(made, made.rated, "A-weighted level, dB(A)")
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    assert (document.plan.room.noise.nc, document.plan.room.noise.dba) == (None, 41.8)


def test_that_smoothing_is_on_request_and_the_curve_then_stands_at_thirds(qtbot, document, tmp_path):
    rows = "\n".join(f"{hertz},{3.0 * (-1) ** n}" for n, hertz in enumerate(np.geomspace(100, 1000, 200)))
    made = table_dialog(qtbot, document, tmp_path, f"Hz,dB\n{rows}\n")
    made.smooth.setChecked(True)
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    found = get(document.plan, ("candidates", 0, "loudspeaker", "sections", 0, "response"))
    assert len(found) == 11 and max(abs(level) for _, level in found) < 1.5


def test_that_a_bad_line_is_named_and_nothing_can_be_taken(qtbot, document, tmp_path):
    made = table_dialog(qtbot, document, tmp_path, "Hz,dB\n100,1\n200,abc\n")
    assert "line 3" in made.fault.text() and not made.take.isEnabled()
    empty = table_dialog(qtbot, document, tmp_path, "nothing here\n", "empty.txt")
    assert empty.fault.text() and not empty.take.isEnabled()


def test_that_what_the_plan_cannot_hold_is_told_before_it_is_taken(qtbot, document, tmp_path):
    made = table_dialog(qtbot, document, tmp_path, "Hz,ohm\n100,8\n200,5000\n")
    assert "Impedance" in made.uses.currentText()
    assert "1000 ohm" in made.fault.text() and not made.take.isEnabled()


def test_that_a_curve_that_reaches_everywhere_is_held_nowhere():
    assert held_words(curve((0.0, 0.0), points=(20.0, 20_000.0))) == ""
    assert held_words(curve((0.0, 0.0), points=(15.0, 5_000.0))) == "Held flat above 5000 Hz."


def test_that_open_air_has_no_noise_of_a_room(sample_plan):
    bare = sample_plan.model_copy(update={"room": None})
    assert "noise" not in {one.kind for one in uses_of(bare, 0)}
    assert {one.kind for one in uses_of(sample_plan, 0)} == {"response", "impedance", "noise"}


def test_that_what_is_dropped_goes_to_whoever_takes_it(qtbot, document, tmp_path):
    (tmp_path / "curve.csv").write_text("Hz,dB\n100,1\n200,2\n")
    window = host(qtbot)
    assert not take_dropped(document, tmp_path / "plan.json", window)
    assert take_dropped(document, tmp_path / "curve.csv", window)
    assert take_dropped(document, LIVING_ROOM, window)
    (table,), (question,) = window.findChildren(TableDialog), window.findChildren(SoundQuestion)
    table.close()
    qtbot.mouseClick(question.decay, Qt.MouseButton.LeftButton)
    (decay,) = window.findChildren(DecayDialog)
    with qtbot.waitSignal(decay.ready, timeout=20_000):
        pass
    decay.close()


def test_that_a_section_takes_a_table_from_its_own_editor(qtbot, document, tmp_path):
    window = host(qtbot)
    place = Place("candidates", 1, "loudspeaker", "sections", 1, "response")
    editor = ResponseEditor(document, place)
    editor.setParent(window)
    (tmp_path / "dome.csv").write_text("Hz,dB\n2500,1\n20000,-2\n")
    (button,) = editor.findChildren(TableButton)
    button.show_file(str(tmp_path / "dome.csv"))
    (made,) = window.findChildren(TableDialog)
    assert made.use.words == "Response of Dome"
    qtbot.mouseClick(made.take, Qt.MouseButton.LeftButton)
    assert get(document.plan, place.path) == ((2500.0, 1.0), (20_000.0, -2.0))
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert button.dialog.isVisible()
    button.dialog.close()


def test_that_the_room_editor_opens_a_decay(qtbot, document):
    window = host(qtbot)
    editor = DecayEditor(document)
    editor.setParent(window)
    editor.show_file(str(LIVING_ROOM))
    (made,) = window.findChildren(DecayDialog)
    with qtbot.waitSignal(made.ready, timeout=20_000):
        pass
    assert made.decay is not None
    made.close()
    qtbot.mouseClick(editor.file_button, Qt.MouseButton.LeftButton)
    assert editor.dialog.isVisible()
    editor.dialog.close()


def test_that_the_window_gives_a_dropped_table_to_its_dialog_and_opens_no_plan(qtbot, window, tmp_path):
    (tmp_path / "curve.csv").write_text("Hz,dB\n100,1\n200,2\n")
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "curve.csv"))])
    where, copy = QPointF(5.0, 5.0), Qt.DropAction.CopyAction
    left, no_key = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    window.dropEvent(QDropEvent(where, copy, data, left, no_key))
    (made,) = window.findChildren(TableDialog)
    assert made.curve is not None and made.isVisible()
    made.close()
