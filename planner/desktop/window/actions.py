"""Every command of the window as data: what it is called, its keys, and the menu it stands in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication
from PySide6.QtGui import QAction, QKeySequence

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["ENTRIES", "MENUS", "Entry", "Menu", "make_actions"]

Standard = QKeySequence.StandardKey
Role = QAction.MenuRole


@dataclass(frozen=True, slots=True)
class Entry:
    """One command: its name in the menus' table, its text, and which method of the window it calls."""

    name: str
    text: object
    calls: str
    keys: tuple[Standard | str, ...] = ()
    role: Role = Role.NoRole


@dataclass(frozen=True, slots=True)
class Menu:
    """One menu: commands by name, "-" for a line, "name>" for a menu that is filled when it opens."""

    name: str
    text: object
    holds: tuple[str, ...]


# Where no desktop tells its own keys, Qt knows none for some of these: the text beside them is the fallback.
ENTRIES = (
    Entry("new", QT_TRANSLATE_NOOP("Actions", "&New…"), "files.new", (Standard.New,)),
    Entry("open", QT_TRANSLATE_NOOP("Actions", "&Open…"), "files.open", (Standard.Open,)),
    Entry("close", QT_TRANSLATE_NOOP("Actions", "&Close"), "close", ("Ctrl+W", Standard.Close)),
    Entry("save", QT_TRANSLATE_NOOP("Actions", "&Save"), "files.save", (Standard.Save,)),
    Entry(
        "save_as",
        QT_TRANSLATE_NOOP("Actions", "Save &As…"),
        "files.save_as",
        (Standard.SaveAs, "Ctrl+Shift+S"),
    ),
    Entry("revert", QT_TRANSLATE_NOOP("Actions", "Re&vert"), "files.revert"),
    Entry("import", QT_TRANSLATE_NOOP("Actions", "&Import…"), "commands.import_files", ("Ctrl+I",)),
    Entry("export_report", QT_TRANSLATE_NOOP("Actions", "&Report as PDF…"), "reports.as_pdf"),
    Entry("export_json", QT_TRANSLATE_NOOP("Actions", "Answer as &JSON…"), "exports.as_json"),
    Entry("export_text", QT_TRANSLATE_NOOP("Actions", "Answer as &Text…"), "exports.as_text"),
    Entry("preview", QT_TRANSLATE_NOOP("Actions", "Print Previe&w…"), "reports.preview"),
    Entry("print", QT_TRANSLATE_NOOP("Actions", "&Print…"), "reports.print", (Standard.Print,)),
    Entry("quit", QT_TRANSLATE_NOOP("Actions", "&Quit"), "quit", (Standard.Quit, "Ctrl+Q"), Role.QuitRole),
    Entry("cut", QT_TRANSLATE_NOOP("Actions", "Cu&t"), "clipboard.cut", (Standard.Cut,)),
    Entry("copy", QT_TRANSLATE_NOOP("Actions", "&Copy"), "clipboard.copy", (Standard.Copy,)),
    Entry("paste", QT_TRANSLATE_NOOP("Actions", "&Paste"), "clipboard.paste", (Standard.Paste,)),
    Entry(
        "copy_picture",
        QT_TRANSLATE_NOOP("Actions", "Copy Chart P&icture"),
        "charts.copy_picture",
        ("Ctrl+Shift+C",),
    ),
    Entry(
        "copy_numbers",
        QT_TRANSLATE_NOOP("Actions", "Copy Chart &Numbers"),
        "charts.copy_numbers",
        ("Ctrl+Alt+C",),
    ),
    Entry(
        "preferences",
        QT_TRANSLATE_NOOP("Actions", "Pr&eferences…"),
        "commands.show_preferences",
        (Standard.Preferences, "Ctrl+,"),
        Role.PreferencesRole,
    ),
    Entry("add_seat", QT_TRANSLATE_NOOP("Actions", "Add &Seat"), "commands.add_seat"),
    Entry("add_stand", QT_TRANSLATE_NOOP("Actions", "Add S&tand"), "commands.add_stand"),
    Entry(
        "duplicate_candidate",
        QT_TRANSLATE_NOOP("Actions", "&Duplicate Candidate"),
        "commands.duplicate_candidate",
    ),
    Entry("find_place", QT_TRANSLATE_NOOP("Actions", "&Find a Better Place…"), "commands.find_place"),
    Entry("valve", QT_TRANSLATE_NOOP("Actions", "&Ratings from a Valve…"), "commands.rate_from_valve"),
    Entry("catalogue", QT_TRANSLATE_NOOP("Actions", "&Catalogue…"), "commands.show_catalogue", ("Ctrl+L",)),
    Entry("pairings", QT_TRANSLATE_NOOP("Actions", "&Every Pairing…"), "commands.show_pairings", ("Ctrl+J",)),
    Entry("reset_layout", QT_TRANSLATE_NOOP("Actions", "Reset &Layout"), "looks.reset"),
    Entry("present", QT_TRANSLATE_NOOP("Actions", "Pr&esentation"), "commands.present", ("F5",)),
    Entry(
        "full_screen",
        QT_TRANSLATE_NOOP("Actions", "&Full Screen"),
        "toggle_full_screen",
        (Standard.FullScreen, "F11"),
    ),
    Entry(
        "shortcuts",
        QT_TRANSLATE_NOOP("Actions", "&Keyboard Shortcuts"),
        "commands.show_shortcuts",
        ("Ctrl+?",),
    ),
    Entry(
        "whats_this",
        QT_TRANSLATE_NOOP("Actions", "&What’s This?"),
        "commands.ask_whats_this",
        (Standard.WhatsThis, "Shift+F1"),
    ),
    Entry("log_folder", QT_TRANSLATE_NOOP("Actions", "Open &Log Folder"), "commands.open_log_folder"),
    Entry(
        "about", QT_TRANSLATE_NOOP("Actions", "&About Few Watts"), "commands.show_about", (), Role.AboutRole
    ),
)

MENUS = (
    Menu(
        "file",
        QT_TRANSLATE_NOOP("Actions", "&File"),
        (
            *("new", "examples>", "open", "recent>", "-"),
            *("close", "save", "save_as", "revert", "-"),
            *("import", "export>", "-", "preview", "print", "-", "quit"),
        ),
    ),
    Menu(
        "edit",
        QT_TRANSLATE_NOOP("Actions", "&Edit"),
        (
            *("undo", "redo", "-", "cut", "copy", "paste", "-"),
            *("copy_picture", "copy_numbers", "-", "preferences"),
        ),
    ),
    Menu(
        "plan",
        QT_TRANSLATE_NOOP("Actions", "&Plan"),
        (
            *("add_seat", "add_stand", "duplicate_candidate", "-"),
            *("find_place", "valve", "catalogue", "pairings"),
        ),
    ),
    Menu(
        "view",
        QT_TRANSLATE_NOOP("Actions", "&View"),
        ("looks", "-", "panels>", "reset_layout", "-", "units>", "theme>", "-", "present", "full_screen"),
    ),
    Menu(
        "help",
        QT_TRANSLATE_NOOP("Actions", "&Help"),
        ("shortcuts", "whats_this", "examples>", "-", "log_folder", "-", "about"),
    ),
)


def make_actions(window: MainWindow) -> dict[str, QAction]:
    """The commands of one window by name, undo and redo among them."""
    actions = {entry.name: _action(entry, window) for entry in ENTRIES}
    history = window.document.history
    actions["undo"] = history.createUndoAction(window, _translated(QT_TRANSLATE_NOOP("Actions", "&Undo")))
    actions["undo"].setShortcuts(_sequences((Standard.Undo, "Ctrl+Z")))
    actions["redo"] = history.createRedoAction(window, _translated(QT_TRANSLATE_NOOP("Actions", "&Redo")))
    actions["redo"].setShortcuts(_sequences((Standard.Redo, "Ctrl+Shift+Z", "Ctrl+Y")))
    return actions


def menu_text(menu: Menu) -> str:
    """What a menu is called in the reader's language."""
    return _translated(menu.text)


def _action(entry: Entry, window: MainWindow) -> QAction:
    action = QAction(_translated(entry.text), window)
    action.setObjectName(entry.name)
    action.setShortcuts(_sequences(entry.keys))
    action.setMenuRole(entry.role)
    action.triggered.connect(attrgetter(entry.calls)(window))
    return action


def _sequences(keys: tuple[Standard | str, ...]) -> list[QKeySequence]:
    """All keys that mean a command, those of the system first, none twice."""
    return list(dict.fromkeys(sequence for key in keys for sequence in _bindings(key)))


def _bindings(key: Standard | str) -> Iterator[QKeySequence]:
    yield from [QKeySequence(key)] if isinstance(key, str) else QKeySequence.keyBindings(key)


def _translated(text: object) -> str:
    return QCoreApplication.translate("Actions", str(text))
