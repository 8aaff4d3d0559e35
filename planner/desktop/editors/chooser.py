"""The list of candidates to look at one of."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox

from planner.desktop.document import PlanDocument
from planner.desktop.fields.bound import wants_undo
from planner.desktop.fields.box import field_height

__all__ = ["CandidateChooser"]


class CandidateChooser(QComboBox):
    """Which candidate is looked at; the wheel turns it only while it has the focus."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__()
        self._document = document
        self.setAccessibleName(self.tr("Candidate looked at"))
        self.setToolTip(self.tr("Which candidate these editors, the verdict and the charts show"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)
        self.activated.connect(self._choose)
        self.refresh()

    def refresh(self) -> None:
        """Offer the candidates of the plan."""
        names = [candidate.name for candidate in self._document.plan.candidates]
        if names != [self.itemText(index) for index in range(self.count())]:
            self.clear()
            self.addItems(names)
        self.setCurrentIndex(self._document.candidate)

    def _choose(self, index: int) -> None:
        self._document.choose(candidate=index)

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
