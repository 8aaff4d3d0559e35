"""One quiet line beside a verdict: how sure it is."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.certainty.answer import Sureness, certainty_of
from planner.desktop.document import PlanDocument
from planner.desktop.fields.form import Hint
from planner.report.words import certainty_line

__all__ = ["CertaintyLine"]

SELECTABLE = Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard


class CertaintyLine(Hint):
    """Says in what range the headroom lies and how likely the peaks stay clean; greyed until it holds."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__("", parent)
        self.setAccessibleName(self.tr("How sure the answer is"))
        self.setToolTip(
            self.tr(
                "Inputs are never exact: ten thousand plans are drawn within the tolerances of the inputs, "
                "and this is where their headroom lies"
            )
        )
        self.setTextInteractionFlags(SELECTABLE)
        self._late = certainty_of(document)
        self._late.changed.connect(self._refresh)
        self._late.shown_by(self)
        # Others may have had the answer before, and then nothing changes.
        self._refresh()

    def _refresh(self) -> None:
        found: Sureness | None = self._late.value
        self.setEnabled(self._late.fresh)
        # A space keeps the line's place while there is nothing to say yet.
        self.setText(" " if found is None else certainty_line(found.sure))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._late.look()
