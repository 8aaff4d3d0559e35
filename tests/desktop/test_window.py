"""The main window by a user's acts: menus and their keys, title, chart commands, what is freed."""

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QAccessible, QKeySequence
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu, QWidget

from planner.desktop.fields import NumberField
from planner.desktop.settings import settings
from planner.desktop.window.actions import ENTRIES, MENUS
from planner.desktop.window.dialogs import ShortcutList, TextDialog
from planner.desktop.window.preferences import Preferences
from planner.plan import get
from planner.plan.units import Preference

LENGTH = ("room", "length_m")


def menu(window, title) -> QMenu:
    """One of the menus in the bar, filled as when it opens."""
    (found,) = (
        action.menu() for action in window.menuBar().actions() if action.text().replace("&", "") == title
    )
    for one in (window.menus.examples, window.menus.recent, window.menus.export):
        one.aboutToShow.emit()
    return found


def texts(found) -> list[str]:
    return [action.text().replace("&", "") for action in found.actions() if not action.isSeparator()]


def shows(window, kind):
    return [one for one in window.findChildren(kind) if one.isVisible()]


def test_that_every_command_stands_in_some_menu_and_calls_something():
    held = {name for one in MENUS for name in one.holds} | {"export_report", "export_json", "export_text"}
    assert {entry.name for entry in ENTRIES} <= held
    assert len({entry.name for entry in ENTRIES}) == len(ENTRIES)


def test_that_the_file_menu_offers_what_a_document_needs(window):
    assert texts(menu(window, "File")) == [
        *("New…", "New from Example", "Open…", "Open Recent"),
        *("Close", "Save", "Save As…", "Revert"),
        *("Import…", "Export", "Print Preview…", "Print…", "Quit"),
    ]


def test_that_the_view_menu_offers_the_looks_and_what_shows_them_otherwise(window):
    assert texts(menu(window, "View")) == [
        *("Power", "Room", "Chain", "Decision", "Panels", "Reset Layout"),
        *("Units", "Theme", "Presentation", "Full Screen"),
    ]


@pytest.mark.parametrize(
    ("command", "keys"),
    [
        ("new", {"Ctrl+N"}),
        ("open", {"Ctrl+O"}),
        ("close", {"Ctrl+W"}),
        ("save", {"Ctrl+S"}),
        ("save_as", {"Ctrl+Shift+S"}),
        ("quit", {"Ctrl+Q"}),
        ("undo", {"Ctrl+Z"}),
        ("redo", {"Ctrl+Shift+Z", "Ctrl+Y"}),
        ("preferences", {"Ctrl+,"}),
        ("print", {"Ctrl+P"}),
        ("present", {"F5"}),
        ("full_screen", {"F11"}),
        ("whats_this", {"Shift+F1"}),
    ],
)
def test_that_the_usual_keys_are_there_even_where_no_desktop_names_them(window, command, keys):
    found = {
        key.toString(QKeySequence.SequenceFormat.PortableText)
        for key in window.menus.actions[command].shortcuts()
    }
    assert keys <= found


def test_that_no_two_commands_share_their_keys(window):
    actions = [*window.menus.actions.values(), *window.looks.actions.values()]
    keys = [key.toString() for action in actions for key in action.shortcuts()]
    assert sorted(keys) == sorted(set(keys))


def test_that_no_access_key_stands_twice_in_a_menu(window):
    menus = [menu(window, title) for title in ("File", "Edit", "Plan", "View", "Help")]
    inner = [window.menus.export, window.menus.panels, window.menus.units, window.menus.theme]
    for one in [*menus, *inner]:
        letters = [
            action.text()[action.text().index("&") + 1].lower()
            for action in one.actions()
            if "&" in action.text()
        ]
        assert len(letters) == len(set(letters)), (one.title(), letters)
        assert len(letters) == len(texts(one)), one.title()


def test_that_the_title_names_the_plan_and_marks_a_change_until_it_is_undone(window):
    assert window.windowTitle() == "Sample room[*] — Few Watts"
    assert not window.isWindowModified()
    window.document.edit(LENGTH, 7.0, "Change length")
    assert window.isWindowModified()
    window.menus.actions["undo"].trigger()
    assert not window.isWindowModified()


def test_that_undo_and_redo_name_what_they_do(window):
    undo, redo = window.menus.actions["undo"], window.menus.actions["redo"]
    assert not undo.isEnabled()
    window.document.edit(LENGTH, 7.0, "change length")
    assert undo.text() == "&Undo change length"
    undo.trigger()
    assert get(window.document.plan, LENGTH) == 6.0
    assert redo.text() == "&Redo change length"
    redo.trigger()
    assert get(window.document.plan, LENGTH) == 7.0


def test_that_undo_keys_reach_the_plan_from_within_a_field_where_nothing_is_being_typed(qtbot, window):
    field = NumberField(window.document, LENGTH, parent=window.centralWidget())
    field.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "7")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert get(window.document.plan, LENGTH) == 7.0
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert get(window.document.plan, LENGTH) == 6.0
    qtbot.keyClick(field, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert get(window.document.plan, LENGTH) == 7.0


def test_that_cut_copy_and_paste_are_offered_where_text_has_the_focus(qtbot, window):
    actions = window.menus.actions
    field = QLineEdit("2.5 W", window.centralWidget())
    field.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    field.setFocus()
    field.selectAll()
    assert actions["cut"].isEnabled() and actions["copy"].isEnabled() and actions["paste"].isEnabled()
    actions["cut"].trigger()
    assert field.text() == ""
    actions["paste"].trigger()
    assert field.text() == "2.5 W"
    field.clearFocus()
    window.docks.all["editors"].setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    window.docks.all["editors"].setFocus()
    assert not actions["cut"].isEnabled() and not actions["copy"].isEnabled()


def test_that_the_sentence_of_the_verdict_can_be_selected_and_copied(qtbot, window):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    sentence = window.verdict.sentence
    sentence.setFocus()
    sentence.setSelection(0, len(sentence.text()))
    window.menus.actions["copy"].trigger()
    assert QApplication.clipboard().text() == sentence.text()
    assert not window.menus.actions["paste"].isEnabled()


def test_that_units_and_theme_are_chosen_in_the_menu_and_shown_there(window):
    metric, us = window.menus.units.actions()
    assert metric.isChecked()
    us.trigger()
    assert settings().units is Preference.US
    assert us.isChecked() and not metric.isChecked()
    dark = window.menus.theme.actions()[2]
    dark.trigger()
    assert settings().scheme == "dark"
    settings().scheme = "light"
    assert window.menus.theme.actions()[1].isChecked() and not dark.isChecked()


def test_that_preferences_take_hold_at_once(qtbot, window):
    window.menus.actions["preferences"].trigger()
    (dialog,) = shows(window, Preferences)
    qtbot.keyClick(dialog.units, Qt.Key.Key_Down)
    dialog.units.activated.emit(dialog.units.currentIndex())
    assert settings().units is Preference.US
    dialog.close()


def test_that_the_list_of_shortcuts_names_every_command_that_has_keys(window):
    window.menus.actions["shortcuts"].trigger()
    (dialog,) = shows(window, ShortcutList)
    rows = [dialog.table.topLevelItem(index) for index in range(dialog.table.topLevelItemCount())]
    found = {row.text(0): row.text(1) for row in rows}
    assert found["Save As…"] == "Ctrl+Shift+S"
    assert found["Undo"].split(", ")[0] == "Ctrl+Z"
    assert found["Decision"] == "Ctrl+4"
    actions = [*window.menus.actions.values(), *window.looks.actions.values()]
    assert len(rows) == sum(bool(action.shortcuts()) for action in actions)
    dialog.close()


def test_that_about_names_every_library_with_its_version_and_licence_to_copy(window):
    window.menus.actions["about"].trigger()
    (dialog,) = shows(window, TextDialog)
    dialog.copy_button.click()
    copied = QApplication.clipboard().text()
    for name in (
        "Few Watts",
        "PySide6",
        "pyqtgraph",
        "numpy",
        "pint",
        "pydantic",
        "platformdirs",
        "Qt",
        "Python",
    ):
        assert name in copied
    assert "?" not in copied.split("libraries", 1)[1]
    dialog.close()


def test_that_the_window_fills_the_screen_and_comes_back(qtbot, window):
    window.menus.actions["full_screen"].trigger()
    qtbot.waitUntil(window.isFullScreen)
    window.menus.actions["full_screen"].trigger()
    qtbot.waitUntil(lambda: not window.isFullScreen())


def test_that_everything_that_takes_the_focus_has_a_name(window):
    window.document.edit(LENGTH, 3.0, "Change length")
    window.document._solve()
    reached = [one for one in window.findChildren(QWidget) if one.focusPolicy() & Qt.FocusPolicy.TabFocus]
    nameless = [
        one
        for one in reached
        if not QAccessible.queryAccessibleInterface(one).text(QAccessible.Text.Name) and one.isVisible()
    ]
    assert len(reached) >= 2
    assert nameless == []


def test_that_the_editors_are_there_at_once_and_the_charts_after_the_first_paint(
    qtbot, all_windows, sample_plan
):
    window = all_windows.show(sample_plan)
    assert window.docks.all["editors"].panel is not None
    assert window.docks.all["efficiency"].panel is None
    assert window.findChild(QWidget, "stand-in ladder") is None
    qtbot.waitUntil(lambda: window.is_complete)
    assert window.findChild(QWidget, "stand-in ladder") is not None
    assert window.docks.all["efficiency"].panel.isVisible()


def test_that_a_closed_window_and_its_document_are_freed(qtbot, all_windows, sample_plan):
    window = all_windows.show(sample_plan)
    window.make_panels()
    document = window.document
    refs = [
        weakref.ref(window),
        weakref.ref(window.menus),
        weakref.ref(window.verdict),
        weakref.ref(document),
    ]
    window.close()
    del window, document
    for _ in range(3):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QCoreApplication.processEvents()
    gc.collect()
    assert [ref() for ref in refs] == [None] * len(refs)
    assert all_windows.all == []
