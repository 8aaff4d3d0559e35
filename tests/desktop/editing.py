"""What the tests of the editors have in common: finding a field, typing, pressing, opening what is folded."""

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QAbstractButton

from planner.desktop.editors.fold import Fold
from planner.desktop.fields import Note
from planner.desktop.fields.bound import Bound

__all__ = ["button", "choose", "field_at", "fold", "notes", "open_all", "type_into"]


def open_all(column):
    """Unfold everything; what unfolds may hold more."""
    for _ in range(4):
        for one in column.findChildren(Fold):
            one.open()


def fold(column, title):
    """The part of the column under a heading."""
    found = [one for one in column.findChildren(Fold) if one.heading.accessibleName() == title]
    assert len(found) == 1, f"{len(found)} headings {title}"
    return found[0]


def field_at(column, *path, kind=Bound):
    """The field that shows a value of the plan."""
    fields = [one for one in column.findChildren(QObject) if isinstance(one, kind) and not one._gone]
    found = [one for one in fields if one.place.path == path]
    assert len(found) == 1, f"{len(found)} fields for {path}"
    return found[0]


def button(widget, name):
    """The button inside a widget that is called so, and can be seen."""
    found = [
        one
        for one in widget.findChildren(QAbstractButton)
        if name in (one.accessibleName(), one.text().replace("&", "")) and one.isVisibleTo(widget)
    ]
    assert len(found) == 1, f"{len(found)} buttons {name}"
    return found[0]


def type_into(qtbot, field, text):
    """Replace what stands in a field and press Return."""
    field.setFocus()
    field.selectAll()
    if text:
        qtbot.keyClicks(field, text)
    else:
        qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def choose(field, words):
    """Pick an entry from the list of a chooser."""
    index = field.findText(words)
    assert index >= 0, f"no choice {words}"
    field.setFocus()
    field.setCurrentIndex(index)
    field.activated.emit(index)


def notes(column):
    """What is said to be wrong, in the order of the widgets."""
    return [note.text() for note in column.findChildren(Note) if note.text()]
