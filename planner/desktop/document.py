"""The document behind a window: one plan, its undo history, and outcomes kept in step with it."""

from __future__ import annotations

import weakref
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack
from shiboken6 import isValid

from planner.headroom import Outcome, compute_all
from planner.plan import Finding, Plan, PlanError, get, put
from planner.plan.edit import Path

__all__ = ["PlanDocument"]

UNDO_STEPS = 200


_held: set[QUndoCommand] = set()
"""Every step that Qt has not deleted yet.

A document may go in a sweep of Python's collector. Were its steps swept with it, they could go before the
stack that owns them, which would then delete them a second time and crash.
"""


class _Swap(QUndoCommand):
    """Swap one plan for another; repeated edits of one field within a gesture become one step."""

    def __init__(self, document: PlanDocument, after: Plan, key: object, text: str) -> None:
        super().__init__(text)
        self._document = weakref.ref(document)
        self._before, self._after = document.plan, after
        self._key = (key, document.gesture)
        _held.difference_update([one for one in _held if not isValid(one)])
        _held.add(self)

    def redo(self) -> None:
        self._show(self._after)

    def undo(self) -> None:
        self._show(self._before)

    def _show(self, plan: Plan) -> None:
        document = self._document()
        assert document is not None, "a document outlives its history"
        document._show(plan)

    def id(self) -> int:
        return 1

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _Swap) or self._key != other._key:
            return False
        self._after = other._after
        self.setObsolete(self._after == self._before)
        return True


class PlanDocument(QObject):
    """Holds the current plan and keeps its outcomes in step.

    ``edited`` fires at once, for form fields; ``solved`` fires once per turn of the event loop
    however many edits came in, for charts and tables; ``chosen`` fires when another candidate or
    seat is looked at, which is no edit.

    While parts of the plan contradict one another, ``findings`` names them and ``outcomes`` stay
    those of the last plan that could be computed (``stale`` is then true).

    While another plan is previewed, ``outcomes`` are those of that one; the plan itself, its history
    and the fields are untouched, and whatever changes the plan ends the preview.
    """

    edited = Signal()
    solved = Signal()
    chosen = Signal()

    def __init__(self, plan: Plan, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.plan = plan
        self.outcomes: list[Outcome] = []
        self.findings: tuple[Finding, ...] = ()
        self._stale = False
        self.previewed: Plan | None = None
        self.preview_text = ""
        self.candidate = 0
        self.seat = 0
        self.gesture = 0
        self.history = QUndoStack(self)
        self.history.setUndoLimit(UNDO_STEPS)
        self._solve_soon = QTimer(self, singleShot=True, interval=0)
        self._solve_soon.timeout.connect(self._solve)
        self._solve()

    @property
    def stale(self) -> bool:
        """Whether ``outcomes`` belong to an earlier plan, because this one has findings or broke."""
        return self._stale

    @property
    def outcome(self) -> Outcome | None:
        """The outcome of the candidate that is looked at."""
        return self.outcomes[min(self.candidate, len(self.outcomes) - 1)] if self.outcomes else None

    @property
    def shown(self) -> Plan:
        """The plan that the answer is about: the one previewed, or else the plan itself."""
        return self.plan if self.previewed is None else self.previewed

    def edit(self, path: Path, value: Any, text: str) -> None:
        """Change one value as an undoable step; raises :class:`PlanError` where it may not be so."""
        if get(self.plan, path) != value:
            self.replace(put(self.plan, path, value), text, path)

    def replace(self, after: Plan, text: str, key: object = None) -> None:
        """Put *after* in place of the plan as one undoable step; equal keys merge within a gesture."""
        if after != self.plan:
            self.history.push(_Swap(self, after, key, text))

    def reset(self, plan: Plan) -> None:
        """Begin anew with another plan; nothing before it can be undone."""
        looked_at = self.candidate, self.seat
        self.history.clear()
        self.gesture += 1
        self.candidate = self.seat = 0
        self.outcomes = []
        self._forget_preview()
        self.plan = plan
        if looked_at != (0, 0):
            self.chosen.emit()
        self.edited.emit()
        self._solve()

    def close_gesture(self) -> None:
        """End a drag or a run of typing: the next edit starts a new undo step."""
        self.gesture += 1

    def choose(self, candidate: int | None = None, seat: int | None = None) -> None:
        """Look at another candidate or seat."""
        before = self.candidate, self.seat
        self.candidate = self.candidate if candidate is None else candidate
        self.seat = self.seat if seat is None else seat
        self._clamp()
        if (self.candidate, self.seat) != before:
            self.chosen.emit()

    def preview(self, plan: Plan | None, text: str = "") -> None:
        """Show the answer of another plan, called *text*, or (None) that of the plan again.

        Its candidates and seats are those of the plan. Nothing is previewed while the plan itself has
        no answer.
        """
        wanted = None if self._stale else plan
        if wanted is not self.previewed:
            self.previewed = wanted
            self.preview_text = "" if wanted is None else text
            self._solve_soon.start()

    def keep_preview(self) -> None:
        """Put the plan that is previewed in place of the plan as one undoable step."""
        if self.previewed is not None:
            self.close_gesture()
            self.replace(self.previewed, self.preview_text)
            self.close_gesture()

    def _forget_preview(self) -> None:
        self.previewed, self.preview_text = None, ""

    def _show(self, plan: Plan) -> None:
        self._forget_preview()
        self.plan = plan
        self._clamp()
        self._solve_soon.start()
        self.edited.emit()

    def _clamp(self) -> None:
        self.candidate = max(0, min(self.candidate, len(self.plan.candidates) - 1))
        self.seat = max(0, min(self.seat, len(self.plan.seats) - 1))

    def _solve(self) -> None:
        self._stale, self.findings = True, ()
        try:
            self.outcomes = self._computed()
            self._stale = False
        except PlanError as error:
            self.findings = error.findings
        finally:
            # Also after a fault of the program itself, which the window tells: no old answer may
            # then pass for that of this plan.
            self.solved.emit()

    def _computed(self) -> list[Outcome]:
        """The outcomes of the plan shown; a preview that contradicts itself is given up."""
        if self.previewed is not None:
            try:
                return compute_all(self.previewed)
            except PlanError:
                self._forget_preview()
        return compute_all(self.plan)
