"""The recording in the window: imported beside it, shown at any level, written out to listen to."""

import gc
import weakref

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QApplication, QDialog, QMessageBox, QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.recording import RecordingPanel, import_sound
from planner.desktop.recording.examples import busiest_s
from planner.desktop.recording.importing import place_of
from planner.plan.recorded import with_recording
from planner.programme.recording import read_recording
from planner.programme.render import write_wave
from planner.programme.sound_file import blocks
from tests.programme.kept import beats, beats_kept


@pytest.fixture
def record(tmp_path):
    """Forty seconds of beats as a file."""
    file = tmp_path / "Beats.wav"
    write_wave(file, 0.3 * beats(8.0, 16000), 16000)
    return file


@pytest.fixture
def panel(qtbot, sample_plan):
    made = RecordingPanel(PlanDocument(with_recording(sample_plan, beats_kept())))
    qtbot.addWidget(made)
    made.resize(700, 420)
    made.show()
    return made


def taken(qtbot, document, path):
    job = import_sound(document, path)
    with qtbot.waitSignal(job.finished, timeout=20_000) as told:
        pass
    return told.args[0]


def test_that_a_record_becomes_the_programme_in_one_step_that_undo_takes_back(qtbot, document, record):
    before = document.plan
    assert taken(qtbot, document, record)
    programme = document.plan.programme
    assert programme.kind == "recording" and programme.recording.file == "Beats.wav"
    assert programme.crest_db == pytest.approx(read_recording(record).loud_crest_db)
    assert {one.high_hz for one in programme.recording.sections} == {500.0, 2500.0, None}
    assert place_of(programme.recording) == record
    assert document.history.count() == 1
    document.history.undo()
    assert document.plan is before


def test_that_a_folder_becomes_one_programme_and_what_cannot_be_read_is_told(qtbot, document, record):
    (record.parent / "broken.wav").write_text("no music")
    job = import_sound(document, record.parent)
    with qtbot.waitSignal(job.finished, timeout=20_000):
        pass
    box = next(one for one in qtbot_boxes())
    assert "broken.wav" in box.informativeText()
    assert document.plan.programme.recording.file == record.parent.name
    box.close()


def qtbot_boxes():
    return [one for one in QApplication.topLevelWidgets() if isinstance(one, QMessageBox) and one.isVisible()]


def test_that_a_file_that_is_no_music_leaves_the_plan_as_it_was(qtbot, document, tmp_path):
    (tmp_path / "text.wav").write_text("hello")
    before = document.plan
    assert not taken(qtbot, document, tmp_path / "text.wav")
    assert document.plan is before
    (box,) = qtbot_boxes()
    assert "text.wav" in box.informativeText()
    box.close()


def test_that_a_reading_can_be_called_off(qtbot, document, record):
    before = document.plan
    job = import_sound(document, record)
    with qtbot.waitSignal(job.finished, timeout=5_000) as told:
        job.dialog.findChild(QPushButton).click()
    assert told.args == [False]
    qtbot.wait(200)
    assert document.plan is before


def test_that_the_slider_clips_more_and_leaves_the_plan_alone(qtbot, panel):
    document = panel._document
    before, headroom = document.plan, document.outcome.seats[0].amplifiers[0].headroom_db
    shares = []
    for over_db in (-6, 6, 12):
        panel.level.slider.setValue(round(2 * (headroom + over_db)))
        shares.append(panel.shown.clipped.share)
    assert shares[0] == 0.0 < shares[1] < shares[2]
    assert document.plan is before
    assert "moments a minute" in panel.words.text()


def test_that_the_slider_goes_by_keys_and_its_level_can_become_the_target(qtbot, panel):
    document = panel._document
    panel.level.slider.setFocus()
    qtbot.keyClick(panel.level.slider, Qt.Key.Key_Right)
    assert panel.level.offset_db == 0.5
    asked = panel.shown.asked_db
    qtbot.mouseClick(panel.level.apply_button, Qt.MouseButton.LeftButton)
    assert document.plan.target.peak_db == 100.5
    qtbot.waitUntil(lambda: not document.stale and panel.shown.sight.plan is document.plan)
    assert panel.level.offset_db == 0.0 and panel.shown.asked_db == pytest.approx(asked)
    document.history.undo()
    assert document.plan.target.peak_db == 100.0


def test_that_the_table_tells_how_far_each_moment_is_above_clipping(panel):
    view, table = panel.shown, panel.chart.table()
    assert len(table) == len(beats_kept().timeline.peak_dbfs)
    # By definition: the highest sample stands at the peak that is asked for.
    assert np.nanmax(table.columns[1].values) == pytest.approx(view.asked_db, abs=0.02)
    above = table.columns[2].values
    assert np.flatnonzero(above > 0.0) / 10.0 == pytest.approx(view.clipped.starts_s)


def test_that_a_typical_programme_asks_for_a_recording(qtbot, document):
    made = RecordingPanel(document)
    qtbot.addWidget(made)
    made.show()
    assert "Take a recording" in made.words.text()
    assert not made.level.isVisible() and not made.write_button.isVisible()
    assert made.take_button.isVisible()


def test_that_both_examples_are_written_as_loud_as_each_other_and_can_be_played(
    qtbot, sample_plan, record, tmp_path, monkeypatch
):
    document = PlanDocument(sample_plan)
    assert taken(qtbot, document, record)
    made = RecordingPanel(document)
    qtbot.addWidget(made)
    made.show()
    made.level.slider.setValue(40)
    folder = tmp_path / "out"
    folder.mkdir()
    with qtbot.waitSignal(made.examples.done, timeout=20_000):
        made.examples.write(made.shown, record, folder)
    written = made.examples.written
    clipped, clean = (
        np.concatenate(list(blocks(file, 4096)), axis=1) for file in (written.clipped, written.clean)
    )
    assert np.mean(clipped**2) == pytest.approx(np.mean(clean**2), rel=1e-4)
    crest = [np.abs(one).max() / np.sqrt(np.mean(one**2)) for one in (clipped, clean)]
    assert crest[0] < 0.9 * crest[1]
    box = made.examples.box
    assert "volume down" in box.caution.text() and "own player" in box.words.text()
    played = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: played.append(url.toLocalFile()))
    for button in (box.play_clipped, box.play_clean):
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert sorted(played) == sorted([str(written.clipped), str(written.clean)])
    assert box.isVisible()
    box.close()


def test_that_another_record_than_the_plans_is_refused(qtbot, sample_plan, record, tmp_path):
    made = RecordingPanel(PlanDocument(with_recording(sample_plan, beats_kept())))
    qtbot.addWidget(made)
    with qtbot.waitSignal(made.examples.done, timeout=20_000):
        made.examples.write(made.shown, record, tmp_path)
    assert "is not the recording" in made.examples.box.words.text()
    assert made.examples.written is None
    made.examples.box.close()


def test_that_the_busiest_passage_is_found(panel):
    kept = beats_kept()
    quiet, loud = -60.0, -3.0
    line = type(kept.timeline)(window_s=1.0, peak_dbfs=(*(quiet,) * 50, *(loud,) * 5, *(quiet,) * 50))
    long = kept.model_copy(update={"timeline": line})
    start = busiest_s(long, -10.0)
    assert start <= 50.0 and start + 30.0 >= 55.0
    assert busiest_s(long, 0.0) <= 50.0 <= busiest_s(long, 0.0) + 30.0


def test_that_a_closed_panel_is_freed(qtbot, sample_plan):
    document = PlanDocument(with_recording(sample_plan, beats_kept()))
    made = RecordingPanel(document)
    made.show()
    gone = weakref.ref(made)
    made.close()
    made.deleteLater()
    del made
    qtbot.wait(50)
    gc.collect()
    assert gone() is None


def test_that_no_dialog_blocks(panel):
    panel.sounds.ask_file()
    open_now = [one for one in panel.window().findChildren(QDialog) if one.isVisible()]
    assert open_now
    for one in open_now:
        one.close()
