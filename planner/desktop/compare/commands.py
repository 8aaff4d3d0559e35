"""What can be done with the candidate that is chosen: each one undoable step."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from planner.desktop.document import PlanDocument
from planner.plan import Plan
from planner.plan.reshape import duplicate_candidate, move_candidate, remove_candidate

__all__ = ["Candidates", "TableMenu"]


class Candidates(QObject):
    """Duplicates, moves, renames and removes candidates of a document."""

    def __init__(self, document: PlanDocument, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document

    def may_move(self, by: int) -> bool:
        """Whether the candidate looked at can go so many places down."""
        return 0 <= self._document.candidate + by < len(self._document.plan.candidates)

    def may_remove(self) -> bool:
        """Whether one would be left."""
        return len(self._document.plan.candidates) > 1

    def have_prices(self) -> bool:
        """Whether some candidate has a price."""
        return any(one.price is not None for one in self._document.plan.candidates)

    def duplicate(self) -> None:
        """Put a copy of the candidate looked at behind it, and look at that."""
        here = self._document.candidate
        self._step(
            duplicate_candidate(self._document.plan, here), self.tr("Duplicate the candidate"), here + 1
        )

    def move(self, by: int) -> None:
        """Move the candidate looked at so many places down the list."""
        here = self._document.candidate
        if self.may_move(by):
            after = move_candidate(self._document.plan, here, here + by)
            self._step(after, self.tr("Move the candidate"), here + by)

    def remove(self) -> None:
        """Take the candidate looked at away, unless it is the last."""
        here = self._document.candidate
        if self.may_remove():
            after = remove_candidate(self._document.plan, here)
            self._step(after, self.tr("Remove the candidate"), min(here, len(after.candidates) - 1))

    def rename(self, index: int, name: str) -> None:
        """Give a candidate another name."""
        self._document.close_gesture()
        self._document.edit(("candidates", index, "name"), name, self.tr("Rename the candidate"))
        self._document.close_gesture()

    def _step(self, after: Plan, text: str, look_at: int) -> None:
        document = self._document
        document.close_gesture()
        document.replace(after, text)
        document.choose(candidate=look_at)
        document.close_gesture()


class TableMenu(QMenu):
    """The table's own menu; the keys are answered by the table itself, here they are only shown."""

    rename_wanted = Signal()
    copy_wanted = Signal()
    save_wanted = Signal()
    prices_wanted = Signal()

    def __init__(self, candidates: Candidates, parent: QWidget) -> None:
        super().__init__(parent)
        self._candidates = candidates
        self.setAccessibleName(self.tr("Menu of the table"))
        self._add(self.tr("&Rename"), "F2").triggered.connect(self.rename_wanted)
        self._add(self.tr("&Duplicate"), "Ctrl+D").triggered.connect(candidates.duplicate)
        self.up = self._add(self.tr("Move &Up"), "Alt+Up")
        self.up.triggered.connect(self._move_up)
        self.down = self._add(self.tr("Move D&own"), "Alt+Down")
        self.down.triggered.connect(self._move_down)
        self.remove = self._add(self.tr("R&emove"), "Del")
        self.remove.triggered.connect(candidates.remove)
        self.addSeparator()
        self._add(self.tr("&Copy Table"), QKeySequence.StandardKey.Copy).triggered.connect(self.copy_wanted)
        self._add(self.tr("&Save as CSV…")).triggered.connect(self.save_wanted)
        self.addSeparator()
        self.prices = self._add(self.tr("Show &Prices"))
        self.prices.setCheckable(True)
        self.prices.triggered.connect(self.prices_wanted)
        self.aboutToShow.connect(self.refresh)

    def refresh(self) -> None:
        """Offer what can be done now."""
        self.up.setEnabled(self._candidates.may_move(-1))
        self.down.setEnabled(self._candidates.may_move(1))
        self.remove.setEnabled(self._candidates.may_remove())
        self.prices.setEnabled(self._candidates.have_prices())

    def _add(self, text: str, keys: str | QKeySequence.StandardKey = "") -> QAction:
        action = self.addAction(text)
        if keys:
            action.setShortcut(QKeySequence(keys))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        return action

    def _move_up(self) -> None:
        self._candidates.move(-1)

    def _move_down(self) -> None:
        self._candidates.move(1)
