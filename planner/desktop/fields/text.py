"""Fields for names and notes."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields.bound import Bound, Read, Write, wants_undo
from planner.desktop.fields.box import field_height, paint_fault
from planner.desktop.fields.place import Place
from planner.plan import get, put
from planner.plan.edit import Path

__all__ = ["RemarkField", "TextField"]


class TextField(QLineEdit, Bound):
    """A window on one line of text; taken on Return or on leaving, given back by Esc."""

    fault_changed = Signal()

    def __init__(
        self,
        document: PlanDocument,
        place: Place | Path,
        name: str,
        *,
        tip: str = "",
        read: Read = get,
        write: Write = put,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.bind(document, place, name, read, write)
        self.setAccessibleName(name)
        self.setToolTip(tip or name)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 6)
        self.editingFinished.connect(self._commit)
        self.textEdited.connect(self._recheck)
        self.pull()

    def _show(self, value: str) -> None:
        self.setText(value)
        self.setCursorPosition(0)
        self.setModified(False)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), field_height(self))

    def _recheck(self) -> None:
        if self.fault:
            self.set_fault("")

    def _commit(self) -> None:
        if self.isModified():
            self.push(self.text().strip())
        self._document.close_gesture()

    def set_fault(self, fault: str) -> None:
        super().set_fault(fault)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.fault:
            paint_fault(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and (self.isModified() or self.fault):
            self.show_stored()
            self.selectAll()
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and wants_undo(event) and not self.isModified():
            event.ignore()
            return False
        return super().event(event)


class RemarkField(QPlainTextEdit, Bound):
    """A window on a text of several lines that may be left out; taken on leaving."""

    fault_changed = Signal()

    def __init__(
        self,
        document: PlanDocument,
        place: Place | Path,
        name: str,
        lines: int = 3,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.bind(document, place, name)
        self.setAccessibleName(name)
        self.setToolTip(name)
        self.setTabChangesFocus(True)
        self.setFixedHeight(self.fontMetrics().lineSpacing() * lines + 17)
        self.pull()

    def _show(self, value: str | None) -> None:
        self.setPlainText(value or "")
        self.document().setModified(False)

    def _commit(self) -> None:
        if self.document().isModified():
            self.push(self.toPlainText().strip() or None)
        self._document.close_gesture()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.document().isModified():
            self.show_stored()
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and wants_undo(event)
            and not self.document().isModified()
        ):
            event.ignore()
            return False
        return super().event(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._commit()
