"""Buttons of the presentation: to turn the page, and a dot for each question."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QPushButton, QWidget

from planner.desktop.presentation.look import Look

__all__ = ["Dots", "Turn"]

ARROWS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
DOT_PX, STEP_PX = 6.0, 26.0


class Turn(QPushButton):
    """A push button that also takes Enter, and leaves the arrow keys to the presentation."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER:
            self.click()
        elif event.key() in ARROWS:
            event.ignore()
        else:
            super().keyPressEvent(event)


class _Dot(QAbstractButton):
    """One question: filled where it is the one that is shown."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def sizeHint(self) -> QSize:
        side = round(self.look.px(STEP_PX))
        return QSize(side, side)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER:
            self.click()
        elif event.key() in ARROWS:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        colours, radius = self.look.colours, self.look.px(DOT_PX)
        middle = QPointF(self.width() / 2.0, self.height() / 2.0)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            token = "accent" if self.isChecked() or self.underMouse() else "edge"
            painter.setPen(QPen(colours.pick(token), self.look.px(1.8)))
            painter.setBrush(colours.pick("accent" if self.isChecked() else "window"))
            painter.drawEllipse(middle, radius, radius)
            if self.hasFocus():
                painter.setPen(QPen(colours.pick("ink"), self.look.px(2.0)))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(middle, radius + self.look.px(4.0), radius + self.look.px(4.0))


class Dots(QWidget):
    """A dot for each question; Tab stops at the one that is shown, and the arrow keys go on from it."""

    picked = Signal(int)

    def __init__(self, questions: list[str], look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self.dots = [_Dot(look, self) for _ in questions]
        for dot, question in zip(self.dots, questions, strict=True):
            dot.setAccessibleName(question)
            dot.setToolTip(question)
            dot.clicked.connect(self._pick)
            row.addWidget(dot)

    def show_page(self, number: int) -> None:
        """Fill one dot; if another had the keyboard, this one has it now."""
        had_keys = any(dot.hasFocus() for dot in self.dots)
        for place, dot in enumerate(self.dots):
            here = place == number
            dot.setChecked(here)
            dot.setFocusPolicy(Qt.FocusPolicy.StrongFocus if here else Qt.FocusPolicy.ClickFocus)
        if had_keys:
            self.dots[number].setFocus(Qt.FocusReason.OtherFocusReason)

    def show_look(self, look: Look) -> None:
        """Take other sizes and colours."""
        for dot in self.dots:
            dot.look = look
            dot.updateGeometry()
            dot.update()

    def _pick(self) -> None:
        self.picked.emit(next(place for place, dot in enumerate(self.dots) if dot is self.sender()))
