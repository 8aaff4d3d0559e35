"""What the Plan menu does, by a user's acts, and the dialogs that open from the menus."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit

from planner.desktop.catalogue import CatalogueChooser, CatalogueDialog
from planner.desktop.editors import EditorColumn
from planner.desktop.editors.taking import TakeEditor
from planner.desktop.fields import NumberField
from planner.desktop.measured import TableDialog
from planner.desktop.placing import PlacingDialog
from planner.desktop.presentation import Presentation
from planner.desktop.settings import settings
from planner.desktop.triode import TriodeDialog
from planner.desktop.window.panels import PANELS
from planner.desktop.window.preferences import Preferences
from planner.plan import get, put, save
from planner.report.maker import Maker

LENGTH = ("room", "length_m")


def shows(window, kind):
    return [one for one in window.findChildren(kind) if one.isVisible()]


def do(window, name):
    window.menus.actions[name].trigger()


def test_that_a_seat_is_added_as_one_step_and_looked_at(window):
    do(window, "add_seat")
    document = window.document
    assert len(document.plan.seats) == 3
    assert document.seat == 2
    assert document.history.count() == 1
    document.history.undo()
    assert len(document.plan.seats) == 2
    assert document.seat == 1


def test_that_a_stand_is_added_across_the_room(window):
    do(window, "add_stand")
    stands = window.document.plan.stands
    assert len(stands) == 3
    assert len({stand.name for stand in stands}) == 3
    assert window.document.history.undoText() == "Add stand"


def test_that_a_candidate_is_doubled_behind_itself_and_looked_at(window):
    do(window, "duplicate_candidate")
    document = window.document
    names = [one.name for one in document.plan.candidates]
    assert len(names) == len(set(names)) == 3
    assert document.candidate == 1
    first, second = document.plan.candidates[:2]
    assert first.loudspeaker == second.loudspeaker
    document.history.undo()
    assert len(document.plan.candidates) == 2


def test_that_what_is_still_being_typed_is_a_step_of_its_own(qtbot, window):
    field = NumberField(window.document, LENGTH, parent=window.centralWidget())
    field.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "7")
    do(window, "add_seat")
    assert get(window.document.plan, LENGTH) == 7.0
    assert len(window.document.plan.seats) == 3
    assert window.document.history.count() == 2


@pytest.mark.parametrize(("command", "kind"), [("find_place", PlacingDialog), ("valve", TriodeDialog)])
def test_that_a_dialog_on_the_plan_opens_on_the_window_and_goes_with_escape(qtbot, window, command, kind):
    do(window, command)
    (dialog,) = shows(window, kind)
    assert dialog.isModal()
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: shows(window, kind) == [])
    assert window.document.history.count() == 0


def test_that_the_catalogue_stays_open_beside_the_window_and_opens_once(qtbot, window):
    do(window, "catalogue")
    do(window, "catalogue")
    (dialog,) = shows(window, CatalogueDialog)
    assert not dialog.isModal()
    dialog.close()


def test_that_the_editors_lead_to_the_catalogue(qtbot, all_windows, monkeypatch, sample_plan):
    monkeypatch.setattr(all_windows, "panels", {**all_windows.panels, "editors": PANELS["editors"]})
    window = all_windows.show(sample_plan)
    editors = window.docks.all["editors"].panel
    assert isinstance(editors, EditorColumn)
    # The last groups are built after all that is in sight.
    qtbot.waitUntil(
        lambda: [one for one in editors.findChildren(TakeEditor) if one.isVisibleTo(editors)] != []
    )
    next(one for one in editors.findChildren(TakeEditor) if one.isVisibleTo(editors)).button.click()
    (dialog,) = shows(window, CatalogueChooser)
    dialog.reject()


def test_that_the_presentation_comes_with_its_key_and_leaves_with_escape(qtbot, window):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window, Qt.Key.Key_F5)
    (presentation,) = shows(window, Presentation)
    assert presentation.isFullScreen()
    qtbot.keyClick(presentation, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: shows(window, Presentation) == [])


def test_that_a_table_that_is_imported_is_looked_at_before_it_is_taken(window, monkeypatch, tmp_path):
    table = tmp_path / "impedance.csv"
    table.write_text("Hz,ohm\n20,30\n100,7\n1000,9\n10000,14\n", encoding="utf-8")
    folders = []

    def choose(folder):
        folders.append(folder)
        return [table]

    monkeypatch.setattr(window.questions, "files_to_import", choose)
    do(window, "import")
    (dialog,) = shows(window, TableDialog)
    assert window.document.history.count() == 0
    dialog.reject()
    do(window, "import")
    assert folders[1] == tmp_path


def test_that_a_plan_that_is_imported_opens_as_if_it_were_opened(window, monkeypatch, tmp_path, sample_plan):
    file = tmp_path / "plan.json"
    save(put(sample_plan, ("title",), "Another"), file)
    monkeypatch.setattr(window.questions, "files_to_import", lambda folder: [file])
    do(window, "import")
    assert window.document.plan.title == "Another"


def test_that_every_dialog_is_gone_with_its_window(qtbot, window):
    for command in ("find_place", "valve", "catalogue", "preferences", "shortcuts", "about"):
        do(window, command)
    assert len(shows(window, QDialog)) == 6
    window.document.history.setClean()
    window.close()
    qtbot.waitUntil(
        lambda: (
            not [
                one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog) and one.isVisible()
            ]
        )
    )


def test_that_who_hands_reports_out_is_kept_as_it_is_typed(qtbot, window, monkeypatch, tmp_path):
    do(window, "preferences")
    (dialog,) = shows(window, Preferences)
    box = dialog.maker
    box.name.setFocus()
    qtbot.keyClicks(box.name, "Horn works")
    box.address.setFocus()
    qtbot.keyClicks(box.address, "1 Quay Lane")
    monkeypatch.setattr(window.questions, "file_with_mark", lambda folder: tmp_path / "mark.svg")
    box.choose.click()
    assert settings().maker == Maker("Horn works", "1 Quay Lane", str(tmp_path / "mark.svg"))
    dialog.close()
    do(window, "preferences")
    (again,) = shows(window, Preferences)
    assert isinstance(again.maker.name, QLineEdit)
    assert again.maker.name.text() == "Horn works"
    assert again.maker.address.toPlainText() == "1 Quay Lane"
    again.close()
