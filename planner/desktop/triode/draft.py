"""The stage that is being tried: edited like a plan, undone like a plan, and no part of one."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from planner.desktop.triode.stage import ValveStage
from planner.desktop.triode.working import StageFault, Working, work_out

__all__ = ["Draft"]


class _Swap(QUndoCommand):
    """One stage in place of another; changes of one field within a gesture become one step."""

    def __init__(self, draft: Draft, after: ValveStage, key: object, text: str) -> None:
        super().__init__(text)
        self._draft, self._before, self._after = draft, draft.plan, after
        self._key = (key, draft.gesture)

    def redo(self) -> None:
        self._draft.show(self._after)

    def undo(self) -> None:
        self._draft.show(self._before)

    def id(self) -> int:
        return 1

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _Swap) or self._key != other._key:
            return False
        self._after = other._after
        self.setObsolete(self._after == self._before)
        return True


class Draft(QObject):
    """What the fields of the dialog look at, in the manner of a document.

    ``edited`` fires at once, ``worked`` once a turn of the event loop. While the figures do not fit
    together ``fault`` says why, and ``working`` stays that of the last stage that could be worked out.
    """

    edited = Signal()
    worked = Signal()

    def __init__(self, stage: ValveStage, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.plan = stage
        self.fault = ""
        self.working: Working | None = None
        self.gesture = 0
        self.history = QUndoStack(self)
        self._work_soon = QTimer(self, singleShot=True, interval=0)
        self._work_soon.timeout.connect(self._work)
        self._work()

    def replace(self, after: Any, text: str, key: object = None) -> None:
        """Put another stage in place as one undoable step; equal keys merge within a gesture."""
        if after != self.plan:
            self.history.push(_Swap(self, after, key, text))

    def close_gesture(self) -> None:
        """End a drag or a run of typing: the next edit starts a new undo step."""
        self.gesture += 1

    def show(self, stage: ValveStage) -> None:
        """Take a stage as it is; steps call this."""
        self.plan = stage
        self._work_soon.start()
        self.edited.emit()

    def _work(self) -> None:
        try:
            self.working, self.fault = work_out(self.plan), ""
        except StageFault as fault:
            self.fault = str(fault)
        self.worked.emit()
