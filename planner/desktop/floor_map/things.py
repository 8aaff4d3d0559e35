"""Seats and stands on the map, to scale, and the places round a stand where nobody may sit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.scales import Scales
from planner.desktop.floor_map.overlay import Overlay
from planner.headroom.floor_modal import Floor
from planner.plan import Plan
from planner.plan.checks import LEAST_DISTANCE_M
from planner.report.drawing.frames import ABOVE, Frame
from planner.report.drawing.look import Look
from planner.report.drawing.places import places
from planner.report.drawing.sheet import Sheet
from planner.report.drawing.symbols import shape_of
from planner.report.drawing.things_paint import paint_symbol

__all__ = ["Things"]

HATCH_PX = 5.0
GROUND_ALPHA = 0.88


class Things(Overlay):
    """Draws what stands and sits on the floor."""

    def __init__(self, scales: Scales) -> None:
        super().__init__(scales)
        self._shown: tuple[Look, Floor] | None = None

    def show_things(self, plan: Plan, candidate: int, seat: int, floor: Floor) -> None:
        """Show the seats and stands of a plan on a floor, one of the seats as the one looked at."""
        self._shown = Look(plan, candidate, seat), floor
        self.update()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        if self._shown is None or self.field.isEmpty():
            return
        look, floor = self._shown
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = Frame(ABOVE, self.field, self.field.width() / floor.length_m, (floor.x_m, floor.y_m))
        for stand in look.plan.stands:
            level_m = math.sqrt(max(LEAST_DISTANCE_M**2 - (stand.z_m - floor.height_m) ** 2, 0.0))
            if level_m > 0.0:
                self._paint_barred(painter, frame.to_px(stand.position_m), level_m * frame.px_per_m)
        sheet = Sheet(painter, look, self._look.colours, self._font)
        for place in sorted(places(look.plan), key=lambda one: one.kind, reverse=True):
            paint_symbol(sheet, place, shape_of(look, frame, place))
        self._paint_outline(painter, in_room=look.plan.room is not None)

    def _paint_outline(self, painter: QPainter, *, in_room: bool) -> None:
        """The walls; outdoors only where the map ends."""
        width = 2.0 if in_room else 1.0
        painter.setPen(QPen(self._look.pick("ink" if in_room else "edge"), width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        inset = width / 2.0
        painter.drawRect(self.field.adjusted(inset, inset, -inset, -inset))

    def _paint_barred(self, painter: QPainter, middle: QPointF, radius: float) -> None:
        """A hatched disc: too near the stand for anyone to sit."""
        painter.setPen(QPen(self._look.pick("muted"), 1.0))
        painter.setBrush(self._look.pick("surface", GROUND_ALPHA))
        painter.drawEllipse(QRectF(middle.x() - radius, middle.y() - radius, 2.0 * radius, 2.0 * radius))
        painter.drawLines([line.translated(middle) for line in hatching(radius)])


def hatching(radius: float) -> Iterator[QLineF]:
    """Rising lines across a disc round the origin: chords, since a clip would be lost in an SVG."""
    slant = math.sqrt(0.5)
    for number in range(-int(radius / HATCH_PX), int(radius / HATCH_PX) + 1):
        off = number * HATCH_PX
        half = math.sqrt(radius**2 - off**2)
        yield QLineF(slant * (off - half), slant * (off + half), slant * (off + half), slant * (off - half))
