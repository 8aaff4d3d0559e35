"""Plans as files, by a user's acts, and what is asked before anything is lost."""

import json
import os
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QMessageBox, QPushButton

from planner.desktop.fields import NumberField
from planner.desktop.settings import settings
from planner.desktop.window.dialogs import TextDialog
from planner.desktop.window.questions import Answer
from planner.plan import dumps, get, load, put, save
from planner.plan.presets import preset

LENGTH = ("room", "length_m")


class Asked(list):
    """The questions that came up, each answered by the answer given beforehand."""

    def answer(self, name, answer):
        def ask(*args):
            self.append(name)
            return answer

        return ask


@pytest.fixture
def asked(window, monkeypatch):
    """Answers to questions; one that no test expects fails it."""
    questions = Asked()

    def give(**answers):
        for name, answer in answers.items():
            monkeypatch.setattr(window.questions, name, questions.answer(name, answer))

    questions.give = give
    for name in (
        "save_changes",
        "replace_newer",
        "give_up_changes",
        "files_to_open",
        "file_to_save",
        "preset",
    ):
        monkeypatch.setattr(window.questions, name, lambda *_, asked=name: pytest.fail(f"asked {asked}"))
    return questions


@pytest.fixture
def file(tmp_path, sample_plan):
    path = tmp_path / "library.json"
    save(put(sample_plan, ("title",), "Library"), path)
    return path


@pytest.fixture
def broken(tmp_path, sample_plan):
    path = tmp_path / "broken.json"
    data = json.loads(dumps(sample_plan))
    data["seats"][1]["x_m"] = "3,2"
    data["room"]["width_m"] = -4
    path.write_text(json.dumps(data), encoding="utf-8")
    return path


def told(window) -> str:
    """What the dialogs of a window say, which are then closed."""
    dialogs = [one for one in window.findChildren(TextDialog) if one.isVisible()]
    words = "\n".join(f"{one.heading.text()}\n{one.text.toPlainText()}" for one in dialogs)
    for one in dialogs:
        one.close()
    return words


def drop(window, *files):
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(one)) for one in files])
    at, action, keys = QPointF(200.0, 100.0), Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(at.toPoint(), action, mime, Qt.MouseButton.LeftButton, keys)
    QApplication.sendEvent(window, enter)
    if enter.isAccepted():
        QApplication.sendEvent(window, QDropEvent(at, action, mime, Qt.MouseButton.LeftButton, keys))
    return enter.isAccepted()


# Opening


def test_that_a_plan_opens_in_the_window_that_holds_nothing_of_the_users_own(
    window, asked, all_windows, file
):
    asked.give(files_to_open=[file])
    window.menus.actions["open"].trigger()
    assert asked == ["files_to_open"]
    assert all_windows.all == [window]
    assert window.document.plan.title == "Library"
    assert window.document.outcome.seats[0].name == "Sofa"
    assert window.windowTitle() == "library.json[*] — Few Watts"
    assert window.windowFilePath() == str(file)
    assert not window.document.history.canUndo()


def test_that_a_second_plan_opens_a_second_window(window, asked, all_windows, file, tmp_path, sample_plan):
    other = tmp_path / "other.json"
    save(sample_plan, other)
    window.files.open_all([file, other])
    assert [one.files.path for one in all_windows.all] == [file, other]
    assert [one.document.plan.title for one in all_windows.all] == ["Library", "Sample room"]


def test_that_a_changed_plan_is_never_replaced_by_one_that_is_opened(window, asked, all_windows, file):
    window.document.edit(LENGTH, 7.0, "Change length")
    window.files.open_file(file)
    assert len(all_windows.all) == 2
    assert get(window.document.plan, LENGTH) == 7.0


@pytest.mark.qt_log_ignore("This plugin does not support raise")
def test_that_a_plan_that_is_open_already_is_shown_and_not_opened_twice(window, asked, all_windows, file):
    window.files.open_file(file)
    window.document.edit(LENGTH, 7.0, "Change length")
    window.files.open_file(file)
    assert all_windows.all == [window]
    assert get(window.document.plan, LENGTH) == 7.0


def test_that_a_broken_file_is_told_with_every_fault_and_changes_nothing(window, asked, broken):
    before = window.document.plan
    window.files.open_file(broken)
    words = told(window)
    assert "broken.json" in words
    assert "seats[1].x_m" in words and '"3,2"' in words
    assert "room.width_m" in words and "-4" in words
    assert window.document.plan is before
    assert settings().recent == []


@pytest.mark.parametrize(
    ("content", "word"),
    [
        pytest.param(b"{", "JSON", id="cut short"),
        pytest.param(b"\xff\xfe{", "UTF-8", id="not UTF-8"),
        pytest.param(b"[" * 100_000, "nested", id="deeply nested"),
        pytest.param(b'{"format": "fewwatts-plan", "version": 99}', "newer", id="of a newer program"),
        pytest.param(b"{}", "format", id="no plan at all"),
    ],
)
def test_that_what_is_no_plan_is_told_in_words(window, asked, tmp_path, content, word):
    file = tmp_path / "strange.json"
    file.write_bytes(content)
    window.files.open_file(file)
    assert word in told(window)


def test_that_a_file_that_is_gone_is_told(window, asked, tmp_path):
    window.files.open_file(tmp_path / "gone.json")
    assert "gone.json" in told(window)


def test_that_a_dropped_plan_opens_and_a_dropped_broken_one_is_told(window, asked, all_windows, file, broken):
    assert drop(window, broken, file)
    assert "broken.json" in told(window)
    assert window.files.path == file


def test_that_text_dropped_on_the_window_is_not_taken(window):
    mime = QMimeData()
    mime.setText("85 dB")
    at = QPointF(200.0, 100.0).toPoint()
    enter = QDragEnterEvent(
        at, Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    )
    QApplication.sendEvent(window, enter)
    assert not enter.isAccepted()


def test_that_files_lately_opened_are_offered_and_those_that_are_gone_are_grey(window, asked, file, tmp_path):
    gone = tmp_path / "gone.json"
    settings().remember(gone)
    window.files.open_file(file)
    window.menus.recent.aboutToShow.emit()
    first, second, _, clear = window.menus.recent.actions()
    assert "library.json" in first.text() and first.isEnabled()
    assert "gone.json" in second.text() and not second.isEnabled()
    clear.trigger()
    window.menus.recent.aboutToShow.emit()
    assert settings().recent == []
    assert not window.menus.recent.actions()[-1].isEnabled()


def test_that_a_file_is_opened_again_from_the_list_of_those_lately_opened(window, asked, all_windows, file):
    settings().remember(file)
    window.menus.recent.aboutToShow.emit()
    window.menus.recent.actions()[0].trigger()
    assert window.files.path == file


def test_that_a_sample_room_opens_as_a_plan_without_a_file(window, asked):
    window.menus.examples.aboutToShow.emit()
    names = [action.text() for action in window.menus.examples.actions()]
    assert "Map room" in names
    window.menus.examples.actions()[names.index("Map room")].trigger()
    assert window.document.plan.title.startswith("Map room")
    assert window.files.path is None
    assert not window.isWindowModified()


def test_that_a_new_plan_begins_from_the_room_that_is_chosen(window, asked, all_windows):
    asked.give(preset=preset("carpeted_study"))
    window.menus.actions["new"].trigger()
    assert window.document.plan == preset("carpeted_study").plan()
    window.document.edit(LENGTH, 5.0, "Change length")
    window.menus.actions["new"].trigger()
    assert len(all_windows.all) == 2
    assert get(window.document.plan, LENGTH) == 5.0


def test_that_no_new_plan_begins_when_none_is_chosen(window, asked, all_windows):
    before = window.document.plan
    asked.give(preset=None)
    window.menus.actions["new"].trigger()
    assert window.document.plan is before and all_windows.all == [window]


# Saving


def test_that_the_first_save_asks_where_and_the_next_does_not(window, asked, tmp_path):
    file = tmp_path / "new.json"
    asked.give(file_to_save=file)
    window.document.edit(LENGTH, 7.0, "Change length")
    window.menus.actions["save"].trigger()
    assert load(file) == window.document.plan
    assert not window.isWindowModified()
    assert settings().recent == [file]
    window.document.edit(LENGTH, 8.0, "Change length")
    window.menus.actions["save"].trigger()
    assert load(file) == window.document.plan
    assert asked == ["file_to_save"]


def test_that_what_a_save_replaces_is_kept_beside_it(window, asked, file):
    before = file.read_bytes()
    window.files.open_file(file)
    window.document.edit(LENGTH, 7.0, "Change length")
    assert window.files.save()
    assert file.with_name("library.json~").read_bytes() == before
    assert get(load(file), LENGTH) == 7.0


def test_that_save_as_goes_on_with_the_new_file(window, asked, file, tmp_path):
    window.files.open_file(file)
    other = tmp_path / "other.json"
    asked.give(file_to_save=other)
    window.menus.actions["save_as"].trigger()
    assert window.files.path == other
    assert window.windowTitle() == "other.json[*] — Few Watts"


def test_that_a_value_still_being_typed_is_saved_too(qtbot, window, asked, file):
    window.files.open_file(file)
    field = NumberField(window.document, LENGTH, parent=window.centralWidget())
    field.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "7,25")
    assert get(window.document.plan, LENGTH) == 6.0
    qtbot.keyClick(field, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert get(load(file), LENGTH) == 7.25
    assert field.hasFocus()


@pytest.mark.parametrize(
    ("answer", "kept"),
    [(Answer.CANCEL, 6.5), (Answer.SAVE, 7.0), (Answer.SAVE_AS, 6.5)],
    ids=["cancel", "replace", "save as"],
)
def test_that_a_file_changed_by_another_program_is_not_replaced_unasked(
    window, asked, file, tmp_path, answer, kept
):
    window.files.open_file(file)
    window.document.edit(LENGTH, 7.0, "Change length")
    save(put(window.document.plan, LENGTH, 6.5), file)
    os.utime(file, ns=(0, file.stat().st_mtime_ns + 10**9))
    other = tmp_path / "other.json"
    asked.give(replace_newer=answer, file_to_save=other)
    window.files.save()
    assert get(load(file), LENGTH) == kept
    assert other.exists() is (answer is Answer.SAVE_AS)
    assert window.isWindowModified() is (answer is Answer.CANCEL)


def test_that_a_save_that_fails_is_told_and_loses_nothing(window, asked, tmp_path):
    asked.give(file_to_save=tmp_path / "no such folder" / "plan.json")
    window.document.edit(LENGTH, 7.0, "Change length")
    assert not window.files.save()
    assert "cannot be saved" in told(window)
    assert window.isWindowModified()
    assert window.files.path is None


def test_that_revert_brings_back_what_the_file_holds_and_undo_the_change(window, asked, file):
    window.files.open_file(file)
    assert not window.menus.actions["revert"].isEnabled()
    window.document.edit(LENGTH, 7.0, "Change length")
    asked.give(give_up_changes=True)
    window.menus.actions["revert"].trigger()
    assert window.document.plan == load(file)
    assert not window.isWindowModified()
    window.document.history.undo()
    assert get(window.document.plan, LENGTH) == 7.0


def test_that_saving_what_is_saved_already_leaves_the_file_alone(window, asked, file):
    window.files.open_file(file)
    before = file.stat()
    assert window.files.save()
    assert file.stat() == before
    assert not file.with_name("library.json~").exists()


def test_that_a_file_that_was_deleted_meanwhile_is_written_again(window, asked, file):
    window.files.open_file(file)
    file.unlink()
    assert window.files.save()
    assert load(file) == window.document.plan


# Closing


def test_that_an_unchanged_plan_closes_without_a_question(window, asked):
    assert window.close()
    assert asked == []


def test_that_a_plan_that_was_changed_and_undone_closes_without_a_question(window, asked, file):
    window.files.open_file(file)
    window.document.edit(LENGTH, 7.0, "Change length")
    window.document.history.undo()
    assert window.close()
    assert asked == []


@pytest.mark.parametrize(
    ("answer", "closes", "length_m"),
    [(Answer.SAVE, True, 7.0), (Answer.DISCARD, True, 6.0), (Answer.CANCEL, False, 6.0)],
    ids=["save", "discard", "cancel"],
)
def test_that_a_changed_plan_asks_before_it_closes(window, asked, file, answer, closes, length_m):
    window.files.open_file(file)
    window.document.edit(LENGTH, 7.0, "Change length")
    asked.give(save_changes=answer)
    assert window.close() is closes
    assert get(load(file), LENGTH) == length_m
    assert asked == ["save_changes"]


def test_that_the_window_stays_open_when_saving_on_closing_fails(window, asked, tmp_path):
    window.document.edit(LENGTH, 7.0, "Change length")
    asked.give(save_changes=Answer.SAVE, file_to_save=tmp_path / "no such folder" / "plan.json")
    assert not window.close()
    assert window.isVisible()
    assert "cannot be saved" in told(window)


def test_that_quitting_stops_at_the_first_window_that_cancels(window, asked, all_windows, sample_plan):
    window.document.edit(LENGTH, 7.0, "Change length")
    asked.give(save_changes=Answer.CANCEL)
    window.menus.actions["quit"].trigger()
    assert window.isVisible()


# The questions themselves


@pytest.mark.parametrize(
    ("key", "answer"),
    [
        (Qt.Key.Key_Escape, Answer.CANCEL),
        (Qt.Key.Key_Return, Answer.SAVE),
    ],
    ids=["Esc cancels", "Enter saves"],
)
def test_that_the_question_before_closing_is_answered_by_keys(qtbot, window, monkeypatch, key, answer):
    def press(box):
        box.show()
        buttons = {button.text().replace("&", "") for button in box.findChildren(QPushButton)}
        assert {"Save", "Cancel"} < buttons
        qtbot.keyClick(box, key)
        return 0

    monkeypatch.setattr(QMessageBox, "exec", press)
    assert window.questions.save_changes("plan.json") is answer


def test_that_discarding_takes_its_own_button(qtbot, window, monkeypatch):
    def press(box):
        box.button(QMessageBox.StandardButton.Discard).click()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", press)
    assert window.questions.save_changes("plan.json") is Answer.DISCARD


@pytest.mark.parametrize(
    ("label", "answer"), [("Replace", Answer.SAVE), ("Save As…", Answer.SAVE_AS), ("Cancel", Answer.CANCEL)]
)
def test_that_each_button_about_a_newer_file_means_what_it_says(window, monkeypatch, label, answer):
    def press(box):
        texts = {button.text().replace("&", ""): button for button in box.buttons()}
        texts[label].click()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", press)
    assert window.questions.replace_newer(Path("plan.json")) is answer


# Exporting the answer


@pytest.mark.parametrize(("command", "suffix"), [("export_json", ".json"), ("export_text", ".txt")])
def test_that_the_answer_of_the_plan_as_it_stands_is_exported(
    qtbot, window, tmp_path, monkeypatch, command, suffix
):
    file = tmp_path / f"answer{suffix}"
    monkeypatch.setattr(window.questions, "file_to_export", lambda *_: file)
    window.document.edit(("target", "peak_db"), 80.0, "Change peak level")
    with qtbot.waitSignal(window.exports.written, timeout=30_000):
        window.menus.actions[command].trigger()
    text = file.read_text(encoding="utf-8")
    if suffix == ".json":
        (plan,) = json.loads(text)["plans"]
        assert plan["candidates"][0]["seats"][0]["peak_target_db"] == 80.0
    assert "Horns with 2.5 W" in text and "Sample room" in text


def test_that_a_plan_without_an_answer_exports_none_and_says_why(window, tmp_path, monkeypatch):
    file = tmp_path / "answer.json"
    monkeypatch.setattr(window.questions, "file_to_export", lambda *_: file)
    window.document.edit(LENGTH, 3.0, "Change length")
    window.menus.actions["export_json"].trigger()
    assert not file.exists()
    assert "seats[0].x_m" in told(window)


def test_that_an_answer_that_cannot_be_written_is_told(qtbot, window, tmp_path, monkeypatch):
    monkeypatch.setattr(window.questions, "file_to_export", lambda *_: tmp_path / "none" / "answer.txt")
    window.menus.actions["export_text"].trigger()
    qtbot.waitUntil(lambda: "cannot be written" in told(window), timeout=30_000)
