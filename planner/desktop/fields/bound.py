"""What all fields have in common: one value of the plan, its undoable steps, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtGui import QKeyEvent, QKeySequence

from planner.desktop.document import PlanDocument
from planner.desktop.fields.place import Place
from planner.plan import Plan, PlanError, get, put
from planner.plan.edit import Path

__all__ = ["Bound", "Read", "Write", "in_sentence", "wants_undo"]

Read = Callable[[Plan, Path], Any]
Write = Callable[[Plan, Path, Any], Plan]
NOTHING = object()


class Bound:
    """A value of the plan at a place: read on :meth:`pull`, written by :meth:`push`.

    Fields are widgets that inherit this beside their Qt class, call :meth:`bind` once, say in ``_show``
    how a value looks, and have a signal ``fault_changed``. Whoever owns a field has it pull.
    """

    fault_changed: Any
    fault = ""
    """What is wrong with what was typed, in a sentence; empty if nothing is."""

    def bind(
        self, document: PlanDocument, place: Place | Path, name: str, read: Read = get, write: Write = put
    ) -> None:
        """Look at *place* from now on; *name* is what undo and screen readers call the value."""
        self._document = document
        self.place = place if isinstance(place, Place) else Place(*place)
        self.name = name
        self.read, self.write = read, write
        self._shown: Any = NOTHING
        self._gone = False

    def let_go(self) -> None:
        """Write nothing more: what this field shows is no longer in the plan."""
        self._gone = True

    def stored(self) -> Any:
        """The value in the plan."""
        return self.read(self._document.plan, self.place.path)

    def pull(self) -> None:
        """Show the value of the plan, unless it is the one that was shown last."""
        value = self.stored()
        if value != self._shown:
            self.show_stored(value)

    def show_stored(self, value: Any = NOTHING) -> None:
        """Show the value of the plan in place of anything typed."""
        if self._gone:
            return
        self._shown = self.stored() if value is NOTHING else value
        self.set_fault("")
        self._show(self._shown)

    def push(self, value: Any, *, quiet: bool = False) -> bool:
        """Write a value, and say whether the plan took it; if not, the fault says why, unless *quiet*."""
        if self._gone:
            return False
        path = self.place.path
        text = QCoreApplication.translate("Fields", "Change {0}").format(in_sentence(self.name))
        try:
            if self.read(self._document.plan, path) != value:
                self._document.replace(self.write(self._document.plan, path, value), text, path)
        except PlanError as error:
            if not quiet:
                self.set_fault(_words(error))
            return False
        self.show_stored()
        return True

    def set_fault(self, fault: str) -> None:
        """Say what is wrong with what was typed, or with an empty text that nothing is."""
        if fault != self.fault:
            self.fault = fault
            self.fault_changed.emit()

    def _show(self, value: Any) -> None:
        raise NotImplementedError


def in_sentence(name: str) -> str:
    """A label as it stands within a sentence: "Length" becomes "length", "T60" and "x" stay.

    Examples
    --------
    >>> in_sentence("Length"), in_sentence("DC resistance"), in_sentence("x")
    ('length', 'DC resistance', 'x')
    """
    return name if name[1:2].isupper() or name[1:2].isdigit() else name[:1].lower() + name[1:]


def wants_undo(event: QEvent) -> bool:
    """Whether a key press asks for undo or redo."""
    keys = QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo
    return isinstance(event, QKeyEvent) and any(event.matches(key) for key in keys)


def _words(error: PlanError) -> str:
    """What the plan expected; a field shows one value, so its path would only repeat the label."""
    expected = "; ".join(finding.expected for finding in error.findings)
    return QCoreApplication.translate("Fields", "expected {0}").format(expected)
