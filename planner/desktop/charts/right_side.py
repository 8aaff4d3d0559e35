"""A second side at the right of a chart, for a quantity of another unit over the same abscissa."""

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import LinearScale, Tick, fitting
from planner.desktop.theme import LIGHT

__all__ = ["RightSide"]

TICK_PX, GAP_PX, BETWEEN_PX = 4.0, 3.0, 10.0


class RightSide(QGraphicsItem):
    """Figures beside the field with their title above; it hangs on the chart and is no part of the field."""

    def __init__(self, parent: QGraphicsItem, scale: LinearScale) -> None:
        super().__init__(parent)
        self.key: Key | None = None
        self.scale_shown = scale
        self._field = QRectF()
        self._from_px = 0.0
        self._ticks: list[Tick] = []
        self._look = Look(LIGHT)
        self._font = QFont()

    @property
    def room_px(self) -> float:
        """Width that the figures need beside the field [px]."""
        metrics = QFontMetricsF(self._font)
        widest = max((metrics.horizontalAdvance(tick.text) for tick in self._ticks), default=0.0)
        return TICK_PX + GAP_PX + widest

    def show_scale(self, scale: LinearScale) -> None:
        """Show another scale."""
        if scale != self.scale_shown:
            self.scale_shown = scale
            self._arrange()

    def place(self, values: object) -> object:
        """Where values stand between the lower and the upper end, 0 to 1."""
        scale = self.scale_shown
        return (scale.place(values) - scale.low) / (scale.high - scale.low)  # type: ignore[arg-type]

    def stand_beside(self, field: QRectF, from_px: float) -> None:
        """Stand at the right of a field, in its parent's coordinates; the title may begin `from_px`."""
        if (field, from_px) != (self._field, self._from_px):
            self.prepareGeometryChange()
            self._field, self._from_px = field, from_px
            self._arrange()

    def rescale(self) -> None: ...

    def restyle(self, look: Look) -> None:
        self._look = look
        self.update()

    def refont(self, font: QFont) -> None:
        self._font = font
        self._arrange()

    def boundingRect(self) -> QRectF:
        line_px = QFontMetricsF(self._font).height()
        left = min(self._from_px, self._field.right())
        right = self._field.right() + self.room_px + GAP_PX
        top, bottom = self._field.top() - 2.0 * line_px, self._field.bottom() + line_px
        return QRectF(left, top, right - left, bottom - top)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        metrics = QFontMetricsF(self._font)
        line_px, right = metrics.height(), self._field.right()
        painter.setFont(self._font)
        for tick in self._ticks:
            level = self._field.bottom() - float(self.place(tick.place)) * self._field.height()  # type: ignore[arg-type]
            painter.setPen(QPen(self._look.pick("edge"), 1.0))
            painter.drawLine(QLineF(right, level, right + TICK_PX, level))
            painter.setPen(self._look.pick("muted"))
            box = QRectF(right + TICK_PX + GAP_PX, level - line_px, 100.0, 2.0 * line_px)
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, tick.text)
        self._paint_title(painter, metrics)

    def _paint_title(self, painter: QPainter, metrics: QFontMetricsF) -> None:
        """The title in line with that of the left side, the unit alone where there is no room for both."""
        end = self._field.right() + self.room_px
        free_px = end - self._from_px
        scale, align = self.scale_shown, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
        text = scale.label if metrics.horizontalAdvance(scale.label) <= free_px else scale.unit
        top = self._field.top() - 1.4 * metrics.height() - 1.0
        painter.setPen(self._look.pick("muted"))
        painter.drawText(QRectF(self._from_px, top, free_px, metrics.height()), align, text)

    def _arrange(self) -> None:
        self.prepareGeometryChange()
        line_px = QFontMetricsF(self._font).height()
        self._ticks = fitting(self.scale_shown, self._field.height(), lambda text: line_px, BETWEEN_PX)
        self.update()
