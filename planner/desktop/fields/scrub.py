"""The label of a number, which changes the number live while it is dragged sideways."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLabel, QWidget

from planner.desktop.fields.number import NumberField
from planner.desktop.theme import colours_of

__all__ = ["ScrubLabel"]

PX_PER_STEP = 4.0
"""Way of the pointer that counts as one step of the field."""

DEAD_PX = 3.0
"""A click that trembles by less than this is no drag."""


class ScrubLabel(QLabel):
    """Drag it sideways to change the number beside it: with Shift ten times as far, with Alt a tenth.

    Esc gives the number back while it is dragged. A click gives the field the focus; the arrow keys do the
    same there, with Shift or Alt too.
    """

    def __init__(self, text: str, field: NumberField, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._field = field
        self._press_x: float | None = None
        self._last_x = 0.0
        self._steps = 0.0
        self._dragging = False
        self.setBuddy(field)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setToolTip(
            self.tr(
                "Drag sideways to change, with Shift in large steps, with Alt in small ones.\n"
                "On the keyboard: up and down."
            )
        )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton or not self._field.isEnabled():
            super().mousePressEvent(event)
            return
        self._press_x = self._last_x = event.globalPosition().x()
        self._steps, self._dragging = 0.0, False
        self._field.setFocus(Qt.FocusReason.MouseFocusReason)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._press_x is None:
            return
        x = event.globalPosition().x()
        if not self._dragging and abs(x - self._press_x) < DEAD_PX:
            return
        if not self._dragging:
            self._begin()
        self._steps += (x - self._last_x) / PX_PER_STEP * _pace(event.modifiers())
        self._last_x = x
        whole = (
            round(self._steps, 1)
            if event.modifiers() & Qt.KeyboardModifier.AltModifier
            else round(self._steps)
        )
        self._field.drag(whole)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._press_x is None:
            return
        if self._dragging:
            self._end()
            self._field.end_drag()
        else:
            self._field.selectAll()
        self._press_x = None

    def _begin(self) -> None:
        self._dragging = True
        self._field.begin_drag()
        # Keys go to the field while the mouse is held, so Esc is caught on its way there.
        self._field.installEventFilter(self)
        self.update()

    def _end(self) -> None:
        self._dragging = False
        self._field.removeEventFilter(self)
        self.update()

    def eventFilter(self, watched: object, event: QEvent) -> bool:
        escaped = (
            self._dragging
            and event.type() in (QEvent.Type.KeyPress, QEvent.Type.ShortcutOverride)
            and isinstance(event, QKeyEvent)
            and event.key() == Qt.Key.Key_Escape
        )
        if escaped and event.type() == QEvent.Type.KeyPress:
            self._end()
            self._press_x = None
            self._field.cancel_drag()
        elif escaped:
            event.accept()
        return escaped

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Underline the label with dots, stronger under the pointer: the sign that it can be dragged."""
        super().paintEvent(event)
        colours = colours_of(self.palette())
        live = self._dragging or self.underMouse()
        width = min(self.sizeHint().width(), self.width()) - 1.0
        y = (self.height() + self.fontMetrics().height()) / 2.0
        pen = QPen(colours.pick("accent" if live else "edge"), 1.0)
        pen.setDashPattern([1.0, 2.0])
        with QPainter(self) as painter:
            painter.setPen(pen)
            painter.drawLine(
                QPointF(0.5, min(y, self.height() - 1.0)), QPointF(width, min(y, self.height() - 1.0))
            )


def _pace(modifiers: Qt.KeyboardModifier) -> float:
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return 10.0
    return 0.1 if modifiers & Qt.KeyboardModifier.AltModifier else 1.0
