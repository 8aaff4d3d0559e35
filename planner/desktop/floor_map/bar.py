"""The key of the colours: every step with its figures, beside the map."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.figures import figure
from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.floor_map.ramp import ramp
from planner.desktop.floor_map.steps import Steps
from planner.desktop.theme import LIGHT

__all__ = ["Bar"]

WIDTH_PX, TIP_PX, GAP_PX, TICK_PX = 15.0, 9.0, 16.0, 4.0
WIDEST = "−00.0"
MARK_PX = 5.0


class Bar(QGraphicsItem):
    """A pile of colours, pointed where values lie beyond its end; it is no part of the field."""

    def __init__(self, parent: QGraphicsItem) -> None:
        super().__init__(parent)
        self.key: Key | None = None
        self._steps = Steps(0.0, 1.0, 1)
        self._beyond = (False, False)
        self._mark: float | None = None
        self._box = QRectF()
        self._from_px = 0.0
        self.title = ""
        self._look = Look(LIGHT)
        self._font = QFont()

    @property
    def steps(self) -> Steps:
        """The steps that are shown."""
        return self._steps

    @property
    def room_px(self) -> float:
        """Width that it needs beside the field [px]."""
        figures = QFontMetricsF(self._font).horizontalAdvance(WIDEST)
        return GAP_PX + WIDTH_PX + TICK_PX + 3.0 + figures

    def show_steps(self, title: str, steps: Steps, ends: tuple[float, float], mark: float | None) -> None:
        """Show other steps for values between two ends, with a mark where the line on the map lies."""
        self.title, self._steps, self._mark = title, steps, mark
        least, most = ends
        self._beyond = (least < steps.low, most > steps.high)
        self.update()

    def stand_beside(self, field: QRectF, from_px: float) -> None:
        """Stand to the right of a field, in its parent's coordinates; the title may begin `from_px`."""
        box = QRectF(field.right() + GAP_PX, field.top(), WIDTH_PX, field.height())
        if (box, from_px) != (self._box, self._from_px):
            self.prepareGeometryChange()
            self._box, self._from_px = box, from_px
            self.update()

    def rescale(self) -> None: ...

    def restyle(self, look: Look) -> None:
        self._look = look
        self.update()

    def refont(self, font: QFont) -> None:
        self._font = font
        self.update()

    def boundingRect(self) -> QRectF:
        line = QFontMetricsF(self._font).height()
        return self._box.adjusted(-self._box.left(), -2.0 * line, self.room_px, line)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(Qt.PenStyle.NoPen)
        for number, colour in enumerate(ramp(self._steps.count).tolist()):
            painter.setBrush(QColor.fromRgb(colour))
            painter.drawPolygon(self._swatch(number))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_figures(painter)
        self._paint_title(painter)
        if self._mark is not None and self._steps.low <= self._mark <= self._steps.high:
            self._paint_mark(painter, self._level(self._mark))

    def _pile(self) -> QRectF:
        """The pile between its tips, for which room is kept at both ends."""
        return self._box.adjusted(0.0, TIP_PX, 0.0, -TIP_PX)

    def _level(self, value: float) -> float:
        pile = self._pile()
        return (
            pile.bottom() - (value - self._steps.low) / (self._steps.high - self._steps.low) * pile.height()
        )

    def _swatch(self, number: int) -> QPolygonF:
        left, right = self._box.left(), self._box.right()
        low, high = (self._level(self._steps.edges[edge]) for edge in (number, number + 1))
        corners = [QPointF(left, low), QPointF(left, high), QPointF(right, high), QPointF(right, low)]
        middle = (left + right) / 2.0
        if number == self._steps.count - 1 and self._beyond[1]:
            corners.insert(2, QPointF(middle, high - TIP_PX))
        if number == 0 and self._beyond[0]:
            corners.append(QPointF(middle, low + TIP_PX))
        return QPolygonF(corners)

    def _paint_figures(self, painter: QPainter) -> None:
        metrics = QFontMetricsF(self._font)
        stride = self._stride(metrics.height())
        painter.setFont(self._font)
        # Counted from nought, so that it has a figure wherever figures are left out.
        first = round(self._steps.low / self._steps.size)
        for number, value in enumerate(self._steps.edges.tolist()):
            level, told = self._level(value), (first + number) % stride == 0
            painter.setPen(QPen(self._look.pick("edge"), 1.0))
            end = self._box.right() + (TICK_PX if told else TICK_PX / 2.0)
            painter.drawLine(QPointF(self._box.right(), level), QPointF(end, level))
            if told:
                painter.setPen(self._look.pick("muted"))
                half = metrics.height()
                box = QRectF(self._box.right() + TICK_PX + 3.0, level - half, 80.0, 2.0 * half)
                painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, figure(value, self._steps.decimals))

    def _paint_title(self, painter: QPainter) -> None:
        """Quantity and unit in line with the title of the left side, the unit alone where that is long."""
        metrics = QFontMetricsF(self._font)
        right = self._box.right() + self.room_px - GAP_PX - WIDTH_PX
        free_px = right - self._from_px
        whole = f"{self.title} (dB)"
        text = whole if metrics.horizontalAdvance(whole) <= free_px else "dB"
        top = self._box.top() - 1.4 * metrics.height() - 1.0
        painter.setPen(self._look.pick("muted"))
        align = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
        painter.drawText(QRectF(self._from_px, top, free_px, metrics.height()), align, text)

    def _stride(self, line_px: float) -> int:
        step_px = self._pile().height() / self._steps.count
        return next((each for each in (1, 2, 5, 10) if each * step_px >= line_px), 20)

    def _paint_mark(self, painter: QPainter, level: float) -> None:
        """A small pointer at the left, where the line on the map lies."""
        left = self._box.left()
        painter.setPen(QPen(self._look.pick("ink"), 1.8))
        painter.drawLine(QPointF(left, level), QPointF(self._box.right(), level))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.pick("ink"))
        tip = QPointF(left - 1.0, level)
        back = QPointF(-MARK_PX - 1.0, 0.0)
        painter.drawPolygon(QPolygonF([tip, tip + back + QPointF(0, -4.0), tip + back + QPointF(0, 4.0)]))
