"""Every pairing in a window of its own, beside the window of the plan."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from planner.desktop.catalogue.steady_dialog import SteadyDialog
from planner.desktop.document import PlanDocument
from planner.desktop.pairings.panel import PairingsPanel

__all__ = ["PairingsDialog"]

SIZE = 198, 50


class PairingsDialog(SteadyDialog):
    """The panel with what a window needs: undo, redo, and a button to close it."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("Pairings", "Every Pairing"), *SIZE, parent)
        self.panel = PairingsPanel(document)
        self.close_button = QPushButton(self.tr("Close"))
        self.close_button.setAutoDefault(False)
        self.close_button.clicked.connect(self.close)
        self.panel.reading.add_button(self.close_button)
        QVBoxLayout(self).addWidget(self.panel)
        for action, key in (
            (document.history.createUndoAction(self), QKeySequence.StandardKey.Undo),
            (document.history.createRedoAction(self), QKeySequence.StandardKey.Redo),
        ):
            action.setShortcuts(QKeySequence.keyBindings(key))
            self.addAction(action)
        self.resize(self.sizeHint())
        self.panel.table.setFocus()
