"""The field for one of a few."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields.bound import Bound, Read, Write, wants_undo
from planner.desktop.fields.box import field_height
from planner.desktop.fields.place import Place
from planner.plan import get, put
from planner.plan.edit import Path

__all__ = ["Choice", "ChoiceField"]

Choice = tuple[Any, str]
"""A value of the plan and the words for it."""

FEWEST_LETTERS = 8


class ChoiceField(QComboBox, Bound):
    """A window on a value that is one of a few; the wheel turns it only while it has the focus."""

    fault_changed = Signal()

    def __init__(
        self,
        document: PlanDocument,
        place: Place | Path,
        name: str,
        choices: Sequence[Choice],
        *,
        tip: str = "",
        read: Read = get,
        write: Write = put,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.bind(document, place, name, read, write)
        self._values: list[Any] = []
        self.setAccessibleName(name)
        self.setToolTip(tip or name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(FEWEST_LETTERS)
        self.offer(choices)
        self.activated.connect(self._choose)
        self.pull()

    def offer(self, choices: Sequence[Choice]) -> None:
        """Offer these from now on; nothing is written."""
        values, words = [value for value, _ in choices], [text for _, text in choices]
        if words != [self.itemText(index) for index in range(self.count())]:
            self.clear()
            self.addItems(words)
            for index, text in enumerate(words):
                self.setItemData(index, text, Qt.ItemDataRole.ToolTipRole)
        if values != self._values or self.currentIndex() < 0:
            self._values = values
            self._show(self._shown)

    def _show(self, value: Any) -> None:
        self.setCurrentIndex(self._values.index(value) if value in self._values else -1)

    def _choose(self, index: int) -> None:
        if not self.push(self._values[index]):
            self._show(self._shown)
        self._document.close_gesture()

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), field_height(self))

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), field_height(self))

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and wants_undo(event):
            event.ignore()
            return False
        return super().event(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
