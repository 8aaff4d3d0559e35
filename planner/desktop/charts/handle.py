"""A handle on a chart: an upright line with a grip at its foot, to be dragged along the bottom side."""

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QFont, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales
from planner.desktop.theme import LIGHT

__all__ = ["Handle"]

GRIP_PX = 7.0
NEAR_PX = 9.0


class Handle(QGraphicsItem):
    """Stands at a value of the bottom side; what drags it lies with the chart."""

    def __init__(self, scales: Scales, token: str = "accent") -> None:
        super().__init__()
        self.key: Key | None = None
        self.value: float | None = None
        self.warm = False
        self._scales, self._token = scales, token
        self._look = Look(LIGHT)
        self._field = QRectF()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.setVisible(False)

    def show_at(self, value: float | None) -> None:
        """Stand at a value; None takes the handle away."""
        self.value = value
        self.setVisible(value is not None)
        self.update()

    def warm_up(self, warm: bool) -> None:
        """Show that it can be taken, while the pointer is over it."""
        if warm is not self.warm:
            self.warm = warm
            self.update()

    def is_near(self, across_px: float) -> bool:
        """Whether a point so far from the left of the field would take it."""
        return self.isVisible() and abs(across_px - self._across()) <= NEAR_PX

    def rescale(self) -> None:
        self.prepareGeometryChange()
        self.setPos(self._scales.x.ends[0], self._scales.y.ends[1])
        self._field = QRectF(0.0, 0.0, self._scales.width_px, self._scales.height_px)
        self.update()

    def restyle(self, look: Look) -> None:
        self._look = look
        self.update()

    def refont(self, font: QFont) -> None: ...

    def boundingRect(self) -> QRectF:
        return self._field

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        across, foot = self._across(), self._field.bottom() - GRIP_PX - 1.0
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._look.pick(self._token), 1.4))
        painter.drawLine(QLineF(across, 0.0, across, self._field.bottom()))
        painter.setPen(QPen(self._look.pick(self._token), 2.0))
        painter.setBrush(self._look.pick(self._token if self.warm else "surface"))
        painter.drawEllipse(QPointF(across, foot), GRIP_PX, GRIP_PX)
        painter.setPen(QPen(self._look.pick("surface" if self.warm else self._token), 1.4))
        for side in (-1.0, 1.0):
            tip = QPointF(across + side * 4.0, foot)
            wing = QPointF(-side * 2.2, 2.2)
            painter.drawPolyline([tip + wing, tip, tip + QPointF(wing.x(), -wing.y())])

    def _across(self) -> float:
        return 0.0 if self.value is None else self._scales.x.share(self.value) * self._field.width()
