"""A box to choose what the verdict and the charts show."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QWheelEvent
from PySide6.QtWidgets import QComboBox

from planner.desktop.theme import Colours, verdict_icon, verdict_word

__all__ = ["Chooser"]

SHORTEST_NAME, LONGEST_NAME, BESIDE_NAME = 8, 26, 7


class Chooser(QComboBox):
    """A box to choose one of several; the wheel turns it only while it has the focus."""

    def __init__(self, name: str, tip: str) -> None:
        super().__init__()
        self._verdicts: tuple[object, ...] = ()
        self.setAccessibleName(name)
        self.setToolTip(tip)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)

    def offer(self, names: list[str], current: int) -> None:
        """Offer these names, with one chosen; nothing is announced."""
        if [self.itemText(index) for index in range(self.count())] != names:
            self.clear()
            self.addItems(names)
            self._verdicts = ()
            longest = max(map(len, names), default=0)
            self.setMinimumContentsLength(max(SHORTEST_NAME, min(longest, LONGEST_NAME)))
        self.setCurrentIndex(current)

    def mark(self, verdicts: list[str], colours: Colours) -> None:
        """Put the mark of its verdict beside each name, or none where there is none."""
        if (look := (*verdicts, colours)) == self._verdicts:
            return
        self._verdicts = look
        for index in range(self.count()):
            verdict = verdicts[index] if index < len(verdicts) else ""
            self.setItemIcon(index, verdict_icon(verdict, colours) if verdict else QIcon())
            word = verdict_word(verdict) if verdict else ""
            self.setItemData(index, word, Qt.ItemDataRole.AccessibleDescriptionRole)

    def minimumSizeHint(self) -> QSize:
        hint = super().minimumSizeHint()
        least = self.fontMetrics().averageCharWidth() * (SHORTEST_NAME + BESIDE_NAME)
        return QSize(min(hint.width(), least), hint.height())

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
