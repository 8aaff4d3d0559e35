"""A large slider with named places under it, drawn so that it can be seen across a room."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QSlider, QWidget

from planner.desktop.presentation.look import Look, is_free
from planner.desktop.presentation.page import Mark, Scale
from planner.report.language import tr

__all__ = ["BigSlider"]

HANDLE_PX, GROOVE_PX, ROOM_PX, WEDGE_PX, GAP_PX = 13.0, 7.0, 4.0, 8.0, 12.0
TURNS_THE_PAGE = (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class BigSlider(QSlider):
    """Moves over a :class:`Scale`; the place of the plan is marked, and every other that has a name."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.look = look
        self.measure: Scale | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_scale(self, measure: Scale | None, value: float | None) -> None:
        """Stand at a value of another scale, without telling anybody; without a scale nothing moves."""
        self.measure = measure
        self.setEnabled(measure is not None)
        blocked = self.blockSignals(True)
        self.setRange(0, measure.last if measure else 0)
        self.setPageStep(max(1, self.maximum() // 10))
        self.setValue(measure.position_of(value) if measure and value is not None else 0)
        self.blockSignals(blocked)
        self.update()

    def show_look(self, look: Look) -> None:
        """Take other sizes and colours."""
        self.look = look
        self.updateGeometry()
        self.update()

    def x_of(self, value: float) -> float:
        """Where a value stands [px]."""
        left, right = self._ends()
        share = self.measure.share_of(value) if self.measure else 0.0
        return left + share * (right - left)

    def sizeHint(self) -> QSize:
        handle, room = self.look.px(HANDLE_PX), self.look.px(ROOM_PX)
        wedge = self.look.px(WEDGE_PX)
        return QSize(200, round(2.0 * (handle + room) + wedge + self.look.line("small")))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    # What a hand does.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in TURNS_THE_PAGE:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self.setSliderDown(True)
            self._go_to(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self.isSliderDown():
            self._go_to(event.position().x())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.setSliderDown(False)

    def _go_to(self, x: float) -> None:
        left, right = self._ends()
        self.setValue(round((x - left) / max(right - left, 1.0) * self.maximum()))

    # What is seen.

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_groove(painter)
            if self.measure is not None:
                self._paint_names(painter, self.measure)
                self._paint_handle(painter)

    def _paint_groove(self, painter: QPainter) -> None:
        left, right = self._ends()
        half = 0.5 * self.look.px(GROOVE_PX)
        groove = QRectF(left - half, self._middle() - half, right - left + 2.0 * half, 2.0 * half)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.look.colours.pick("rule"))
        painter.drawRoundedRect(groove, half, half)
        if self.measure is not None:
            groove.setRight(self._handle_x())
            painter.setBrush(self.look.colours.pick("accent"))
            painter.drawRoundedRect(groove, half, half)

    def _paint_handle(self, painter: QPainter) -> None:
        colours, at = self.look.colours, QPointF(self._handle_x(), self._middle())
        radius = self.look.px(HANDLE_PX)
        painter.setPen(QPen(colours.pick("accent"), self.look.px(3.0)))
        painter.setBrush(colours.pick("accent" if self.isSliderDown() else "surface"))
        painter.drawEllipse(at, radius - self.look.px(2.5), radius - self.look.px(2.5))
        if self.hasFocus():
            painter.setPen(QPen(colours.pick("ink"), self.look.px(2.0)))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(at, radius + self.look.px(2.0), radius + self.look.px(2.0))

    def _paint_names(self, painter: QPainter, measure: Scale) -> None:
        """Write the names under their places, that of the plan first; one that finds no room is left out."""
        top = self._middle() + self.look.px(HANDLE_PX + ROOM_PX + WEDGE_PX)
        taken: list[QRectF] = []
        for number, mark in enumerate(_named_places(measure)):
            x = self.x_of(mark.value)
            box = self._free_box(self.look.box(QPointF(x, top), mark.words, "small", 0.5, 0.0), x, taken)
            if box is None:
                continue
            taken.append(box)
            token = "ink" if number == 0 else "muted"
            self._paint_place(painter, x, token)
            self.look.write(painter, box.center(), mark.words, "small", token)

    def _free_box(self, box: QRectF, x: float, taken: list[QRectF]) -> QRectF | None:
        """The box moved aside until it touches no other, if its place is then still above it."""
        gap, edge = self.look.px(GAP_PX), self.look.px(0.5 * WEDGE_PX)
        sides = [(other.left() - gap - box.width(), other.right() + gap) for other in taken]
        for left in sorted([box.left(), *chain(*sides)], key=lambda left: abs(left - box.left())):
            moved = QRectF(box)
            moved.moveLeft(max(0.0, min(left, self.width() - box.width())))
            over = moved.left() - edge <= x <= moved.right() + edge
            if over and is_free(moved, taken, gap - 0.1):
                return moved
        return None

    def _paint_place(self, painter: QPainter, x: float, token: str) -> None:
        """A small wedge under the groove."""
        side, y = self.look.px(0.5 * WEDGE_PX), self._middle() + self.look.px(HANDLE_PX + ROOM_PX)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.look.colours.pick(token))
        tip = [QPointF(x, y), QPointF(x - side, y + 1.5 * side), QPointF(x + side, y + 1.5 * side)]
        painter.drawPolygon(QPolygonF(tip))

    def _ends(self) -> tuple[float, float]:
        edge = self.look.px(HANDLE_PX + ROOM_PX)
        return edge, self.width() - edge

    def _middle(self) -> float:
        return self.look.px(HANDLE_PX + ROOM_PX)

    def _handle_x(self) -> float:
        return self.x_of(self.measure.value_at(self.value())) if self.measure else self._ends()[0]


def _named_places(measure: Scale) -> Iterator[Mark]:
    yield Mark(measure.planned, tr("as in the plan"))
    yield from measure.marks
