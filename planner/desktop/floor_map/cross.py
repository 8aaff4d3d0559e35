"""Reading a map: pointer or arrow keys choose a place, and what someone would hear there is said."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.look import Look
from planner.desktop.charts.reading import Reader
from planner.desktop.charts.scales import Scales
from planner.desktop.drawing.steps import FINE, LONG, STEP, snapped, steps_m
from planner.desktop.floor_map.overlay import Overlay
from planner.desktop.floor_map.view import Spot
from planner.desktop.settings import settings
from planner.headroom.outcome import SeatOutcome

if TYPE_CHECKING:
    from planner.desktop.floor_map.graph import FloorMapGraph

__all__ = ["CrossReader"]

REST_MS = 120
RADIUS_PX = 5.0
WAYS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class Cross(Overlay):
    """Two hairlines that meet at a place, cased so that they stand out on every colour."""

    def __init__(self, scales: Scales) -> None:
        super().__init__(scales)
        self._middle = QPointF()
        self.setVisible(False)

    def show_at(self, x_share: float, y_share: float) -> None:
        """Meet at a point of the field."""
        self._middle = self.at(x_share, y_share)
        self.setVisible(True)
        self.update()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        x, y = self._middle.x(), self._middle.y()
        lines = [
            QLineF(0.0, y, x - RADIUS_PX, y),
            QLineF(x + RADIUS_PX, y, self.field.right(), y),
            QLineF(x, 0.0, x, y - RADIUS_PX),
            QLineF(x, y + RADIUS_PX, x, self.field.bottom()),
        ]
        ring = QRectF(x - RADIUS_PX, y - RADIUS_PX, 2.0 * RADIUS_PX, 2.0 * RADIUS_PX)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for token, alpha, width in (("surface", 0.7, 3.0), ("ink", 1.0, 1.0)):
            painter.setPen(QPen(self._look.pick(token, alpha), width))
            painter.drawLines(lines)
            painter.drawEllipse(ring)


class CrossReader(Reader):
    """Reads a map at any place of the floor: at once between its points, and exactly after a short rest."""

    def __init__(self, chart: FloorMapGraph) -> None:
        super().__init__(chart, along_x=True)
        self._graph = chart
        self.spot: Spot | None = None
        self.exact: SeatOutcome | None = None
        self.barred = False
        self.cross = Cross(chart.scales)
        # Under the words, which would be struck through.
        self.cross.setZValue(5.0)
        chart.plotItem.vb.addItem(self.cross, ignoreBounds=True)
        self._rest = QTimer(chart, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(chart.read_exactly)

    def point_at(self, where: QPointF) -> None:
        box = self._chart.plotItem.vb
        field = box.sceneBoundingRect()
        if not field.contains(where) or not self._graph.has_data:
            self.leave()
            return
        self._by_key = False
        inside = where - field.topLeft()
        self._stand_at(self._spot(inside.x() / field.width(), 1.0 - inside.y() / field.height()))

    def press(self, key: Qt.Key) -> bool:
        if key == Qt.Key.Key_Escape and self.spot is not None:
            self._stand_at(None)
            return True
        return False

    def walk(self, event: QKeyEvent) -> bool:
        """Move the cross by a key: arrows a step, with Shift far, with Alt a little; Home to the seat."""
        key, modifiers = Qt.Key(event.key()), event.modifiers()
        if not self._graph.has_data or (key not in WAYS and key != Qt.Key.Key_Home):
            return False
        view = self._graph.shown
        seat = view.sight.plan.seats[view.sight.place]
        spot = (seat.x_m, seat.y_m)
        if key in WAYS and self.spot is not None:
            far, fine = (
                modifiers & Qt.KeyboardModifier.ShiftModifier,
                modifiers & Qt.KeyboardModifier.AltModifier,
            )
            step = steps_m(settings().units)[LONG if far else FINE if fine else STEP]
            x, y = (snapped(at + way * step, 0.0001) for at, way in zip(self.spot, WAYS[key], strict=True))
            spot = (x, y)
        self._by_key = True
        self._stand_at(self._held(spot))
        return True

    def leave(self) -> None:
        if not self._by_key:
            self._stand_at(None)

    def refresh(self) -> None:
        """Read the same place again after the map or its sides changed."""
        if self.spot is not None:
            self._stand_at(self._held(self.spot) if self._graph.has_data else None)

    def restyle(self, look: Look) -> None:
        super().restyle(look)
        self.cross.restyle(look)

    @contextmanager
    def hidden(self) -> Iterator[None]:
        seen = self.cross.isVisible()
        self.cross.setVisible(False)
        try:
            yield
        finally:
            self.cross.setVisible(seen)

    def know(self, exact: SeatOutcome | None) -> None:
        """Take the exact answer at the place, None where nobody may sit."""
        self.exact, self.barred = exact, exact is None
        self._chart.reading_changed.emit()
        if self._by_key and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._chart, self._chart.reading()))

    def _stand_at(self, spot: Spot | None) -> None:
        self.spot, self.exact, self.barred = spot, None, False
        self.index = None if spot is None else 0
        self._by_key = self._by_key and spot is not None
        self.cross.rescale()
        if spot is None:
            self.cross.setVisible(False)
            self._rest.stop()
        else:
            floor = self._graph.shown.map.floor
            x, y = (spot[0] - floor.x_m) / floor.length_m, (spot[1] - floor.y_m) / floor.width_m
            self.cross.show_at(x, y)
            self._rest.start()
        self._chart.reading_changed.emit()

    def _spot(self, x_share: float, y_share: float) -> Spot:
        floor = self._graph.shown.map.floor
        return floor.x_m + x_share * floor.length_m, floor.y_m + y_share * floor.width_m

    def _held(self, spot: Spot) -> Spot:
        floor = self._graph.shown.map.floor
        return (
            min(max(spot[0], floor.x_m), floor.x_m + floor.length_m),
            min(max(spot[1], floor.y_m), floor.y_m + floor.width_m),
        )
