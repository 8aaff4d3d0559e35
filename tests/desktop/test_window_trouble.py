"""Faults of the program itself, and what is left when it stops: nothing is silent, nothing is lost."""

import json
import logging
import os
import subprocess
import sys
import textwrap
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, QTimer, qWarning
from PySide6.QtWidgets import QApplication

from planner.desktop.settings import settings
from planner.desktop.window import recovery
from planner.desktop.window.incidents import Incidents, log_folder
from planner.desktop.window.new_plan import NewPlanDialog
from planner.desktop.window.preferences import Preferences
from planner.desktop.window.recovery import left_behind
from planner.plan import dumps, get, load, put, save
from planner.plan.presets import PRESETS
from planner.plan.units import Preference

LENGTH = ("room", "length_m")
ROOT = Path(__file__).parents[2]


@pytest.fixture
def incidents(qapp, window):
    """The hooks of the running program, telling the window."""
    made = Incidents()
    made.install()
    made.happened.connect(window.trouble.tell)
    yield made
    made.uninstall()


@pytest.fixture
def folder():
    """The folder of copies for recovery, empty before and after."""
    place = recovery._folder()
    place.mkdir(parents=True, exist_ok=True)
    for one in place.iterdir():
        one.unlink()
    yield place
    for one in place.iterdir():
        one.unlink()


class Clumsy(QObject):
    """Does what no program should do, in a slot."""

    def stumble(self):
        raise ValueError("a box with no corners")


def wait_until_told(qtbot, window):
    qtbot.waitUntil(window.trouble.isVisible, timeout=2000)


# Exceptions


def test_that_an_exception_in_a_slot_is_told_and_the_plan_can_be_saved(
    qtbot, window, incidents, tmp_path, capsys, monkeypatch
):
    clumsy = Clumsy()
    window.document.edit(LENGTH, 7.0, "Change length")
    QTimer.singleShot(0, clumsy.stumble)
    wait_until_told(qtbot, window)
    assert "a box with no corners" in window.trouble.message.text()
    assert get(window.document.plan, LENGTH) == 7.0
    window.trouble.copy_button.click()
    assert "in stumble" in QApplication.clipboard().text()
    file = tmp_path / "kept.json"
    monkeypatch.setattr(window.questions, "file_to_save", lambda *_: file)
    window.trouble.save_button.click()
    assert get(load(file), LENGTH) == 7.0
    window.trouble.hide_button.click()
    assert window.trouble.isHidden()
    assert "in stumble" in capsys.readouterr().err


def test_that_an_exception_in_another_thread_is_told_in_the_window(qtbot, window, incidents, capsys):
    worker = threading.Thread(target=Clumsy().stumble)
    worker.start()
    worker.join()
    wait_until_told(qtbot, window)
    assert "a box with no corners" in window.trouble.message.text()


def test_that_the_same_trouble_again_only_counts(qtbot, window, incidents, capsys):
    clumsy = Clumsy()
    for _ in range(3):
        QTimer.singleShot(0, clumsy.stumble)
    qtbot.waitUntil(lambda: "3 times" in window.trouble.message.text(), timeout=2000)


def test_that_exceptions_and_warnings_of_qt_are_written_to_the_log(qtbot, incidents, capsys):
    incidents.report(ValueError("a box with no corners"))
    qWarning("a string with one end")
    for handler in logging.getLogger("fewwatts").handlers:
        handler.flush()
    log = (log_folder() / "fewwatts.log").read_text(encoding="utf-8")
    assert "a box with no corners" in log
    assert "Qt: a string with one end" in log


def test_that_trouble_without_end_does_not_fill_the_disk(incidents, capsys):
    log = log_folder() / "fewwatts.log"
    error = ValueError("over and over")
    for _ in range(200):
        incidents.report(error)
    assert log.read_text(encoding="utf-8").count("over and over") == 20


def test_that_the_hooks_go_away_with_the_program(qapp):
    before = sys.excepthook, threading.excepthook
    made = Incidents()
    made.install()
    assert sys.excepthook != before[0]
    made.uninstall()
    assert (sys.excepthook, threading.excepthook) == before
    assert logging.getLogger("fewwatts").handlers == []


def test_that_a_log_that_cannot_be_written_does_not_keep_the_program_from_running(
    monkeypatch, tmp_path, qapp
):
    file = tmp_path / "a file where a folder should be"
    file.write_text("")
    monkeypatch.setattr("planner.desktop.window.incidents.log_folder", lambda: file)
    made = Incidents()
    made.install()
    made.uninstall()


# Recovery


def test_that_unsaved_changes_are_kept_aside_and_go_once_they_are_saved(
    qtbot, window, folder, tmp_path, monkeypatch
):
    window.document.edit(LENGTH, 7.0, "Change length")
    qtbot.waitUntil(lambda: any(folder.glob("*.json")), timeout=5000)
    (copy,) = folder.glob("*.json")
    assert json.loads(copy.read_text())["plan"]["room"]["length_m"] == 7.0
    monkeypatch.setattr(window.questions, "file_to_save", lambda *_: tmp_path / "plan.json")
    window.files.save()
    assert list(folder.iterdir()) == []


def test_that_no_copy_is_left_by_a_plan_that_is_closed_without_saving(window, folder, monkeypatch):
    from planner.desktop.window.questions import Answer

    window.document.edit(LENGTH, 7.0, "Change length")
    window.recovery.write()
    assert len(list(folder.glob("*.json"))) == 1
    monkeypatch.setattr(window.questions, "save_changes", lambda *_: Answer.DISCARD)
    window.close()
    assert list(folder.iterdir()) == []


def test_that_the_copy_of_a_program_that_runs_is_not_offered(window, folder):
    window.document.edit(LENGTH, 7.0, "Change length")
    window.recovery.write()
    assert left_behind() == []


def left(folder, plan, name="library.json", file=None):
    copy = folder / f"{name}.json"
    data = {"name": name, "file": file and str(file), "plan": json.loads(dumps(plan))}
    copy.write_text(json.dumps(data), encoding="utf-8")
    return copy


def test_that_what_a_stopped_program_left_is_offered_and_recovered(
    qtbot, window, folder, all_windows, sample_plan, tmp_path
):
    file = tmp_path / "library.json"
    save(sample_plan, file)
    copy = left(folder, put(sample_plan, LENGTH, 7.0), file=file)
    window.recovery_notice.ask(left_behind())
    assert "library.json" in window.recovery_notice.message.text()
    window.recovery_notice.recover_button.click()
    recovered = all_windows.all[-1]
    assert get(recovered.document.plan, LENGTH) == 7.0
    assert recovered.files.path == file
    assert recovered.isWindowModified()
    assert window.recovery_notice.isHidden()
    assert not copy.exists()
    assert len(list(folder.glob("*.json"))) == 1
    assert get(load(file), LENGTH) == 6.0


def test_that_what_was_left_goes_when_it_is_discarded_and_the_next_is_offered(window, folder, sample_plan):
    left(folder, sample_plan, "first")
    left(folder, sample_plan, "second")
    window.recovery_notice.ask(left_behind())
    assert "first" in window.recovery_notice.message.text()
    window.recovery_notice.discard_button.click()
    assert "second" in window.recovery_notice.message.text()
    window.recovery_notice.discard_button.click()
    assert window.recovery_notice.isHidden()
    assert list(folder.glob("*.json")) == []


def test_that_a_copy_that_cannot_be_read_is_not_offered(folder, sample_plan):
    (folder / "broken.json").write_text("{", encoding="utf-8")
    (folder / "strange.json").write_text('{"name": "x", "file": null, "plan": {}}', encoding="utf-8")
    assert left_behind() == []


def test_that_the_lock_of_a_process_that_is_gone_holds_nobody_up(folder, sample_plan):
    copy = left(folder, sample_plan, "crashed")
    code = f"""
        import os
        from PySide6.QtCore import QLockFile
        lock = QLockFile({str(copy.with_suffix(".lock"))!r})
        lock.setStaleLockTime(0)
        assert lock.tryLock(0)
        os._exit(1)
    """
    subprocess.run([sys.executable, "-c", textwrap.dedent(code)], timeout=60, env={**os.environ})
    assert copy.with_suffix(".lock").exists()
    assert [one.name for one in left_behind()] == ["crashed"]


def test_that_no_copies_are_kept_where_somebody_has_switched_them_off(window, folder):
    window.menus.actions["preferences"].trigger()
    (dialog,) = window.findChildren(Preferences)
    assert dialog.recovery.isChecked()
    dialog.recovery.click()
    window.document.edit(LENGTH, 7.0, "Change length")
    window.recovery.write()
    assert list(folder.glob("*.json")) == []
    dialog.close()


# New plan


def test_that_the_dialog_shows_each_typical_room_and_gives_the_one_that_is_taken(qtbot):
    settings().units = Preference.METRIC
    dialog = NewPlanDialog()
    qtbot.addWidget(dialog)
    seen = set()
    for row, preset in enumerate(PRESETS):
        dialog.list.setCurrentRow(row)
        assert dialog.title.text() == preset.name
        seen.add(dialog.summary.text())
        assert dialog.values["target"].text() == f"{preset.peak_db:g} dB"
    assert len(seen) == len(PRESETS)
    dialog.list.setCurrentRow(0)
    assert dialog.values["size"].text() == "4.20 m × 3.40 m × 2.50 m"
    dialog.begin.click()
    assert dialog.chosen is PRESETS[0]


def test_that_the_dialog_speaks_in_the_units_that_were_chosen(qtbot):
    settings().units = Preference.US
    dialog = NewPlanDialog()
    qtbot.addWidget(dialog)
    assert dialog.values["size"].text().startswith("13 ft 9.4 in")  # 4.2 m / 0.0254 = 165.354 in


def test_that_a_dialog_that_is_left_gives_no_room(qtbot):
    dialog = NewPlanDialog()
    qtbot.addWidget(dialog)
    dialog.reject()
    assert dialog.chosen is None
