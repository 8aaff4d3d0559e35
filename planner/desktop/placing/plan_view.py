"""A small plan of the room on which the area is drawn, and on which the better place is shown."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.drawing.steps import STEP, steps_m
from planner.desktop.placing.quest import Mover
from planner.desktop.placing.rectangle import Hold, cursor_at, held, upright
from planner.desktop.settings import settings
from planner.desktop.theme import colours_of, small_font
from planner.headroom.placing import Area
from planner.plan import Plan
from planner.report.drawing.frames import ABOVE, WALL_PX, Frame, extents
from planner.report.drawing.look import Look
from planner.report.drawing.names import paint_names
from planner.report.drawing.places import Place, places
from planner.report.drawing.room_paint import MEASURE_GAP_PX, paint_measures, paint_room
from planner.report.drawing.sheet import Sheet, stroke
from planner.report.drawing.symbols import Shape, shape_of
from planner.report.drawing.things_paint import paint_symbol

__all__ = ["PlanView"]

EDGE_PX = 4.0
CORNER_PX = 3.0
FADED = 0.35


class PlanView(QWidget):
    """The room from above. A drag on the floor draws the area; it is moved and pulled by its edges."""

    drawn = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look: Look | None = None
        self._after: Plan | None = None
        self._mover: Mover | None = None
        self._mirrored = False
        self.area = Area(0.0, 0.0, 1.0, 1.0)
        self._hold: Hold | None = None
        self._before = self.area
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setMinimumSize(260, 220)
        self.setAccessibleName(self.tr("Plan of the room with the area"))
        self.setToolTip(self.tr("Drag a rectangle; pull it by its edges, or move it as a whole"))

    def show_plan(self, plan: Plan, candidate: int, seat: int, mover: Mover, mirrored: bool) -> None:
        """Show a plan as drawn for a candidate, and what of it may move; a better place is forgotten."""
        selected = mover.places[0]
        self._look = Look(plan, candidate, seat, preference=settings().units, selected=selected)
        self._mover, self._mirrored, self._after = mover, mirrored, None
        self.update()

    def show_area(self, area: Area) -> None:
        """Show another area; nothing is announced."""
        self.area = area
        self.update()

    def show_after(self, after: Plan | None) -> None:
        """Show the plan as it would be, drawn for the candidate; None takes it away."""
        self._after = after
        self.update()

    def frame(self) -> Frame:
        """Where the floor lies in the picture."""
        assert self._look is not None, "a plan is shown first"
        line = QFontMetricsF(small_font(self.font())).height()
        left, top = EDGE_PX + line + MEASURE_GAP_PX + WALL_PX, EDGE_PX + line + 3.0 + WALL_PX
        right, bottom = EDGE_PX + WALL_PX, WALL_PX + MEASURE_GAP_PX + line + EDGE_PX
        (x0, y0, _), (x1, y1, _) = extents(self._look.plan)
        across, down = self.width() - left - right, self.height() - top - bottom
        scale = max(min(across / (x1 - x0), down / (y1 - y0)), 1.0)
        size = QPointF((x1 - x0) * scale, (y1 - y0) * scale)
        corner = QPointF(left + (across - size.x()) / 2.0, top + (down - size.y()) / 2.0)
        return Frame(ABOVE, QRectF(corner, corner + size), scale, (x0, y0))

    def area_px(self, area: Area | None = None) -> QRectF:
        """Where an area lies in the picture."""
        shown, frame = area or self.area, self.frame()
        return QRectF(frame.at(shown.x0_m, shown.y1_m), frame.at(shown.x1_m, shown.y0_m)).normalized()

    # Painting.

    def sizeHint(self) -> QSize:
        return QSize(420, 340)

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), colours.pick("surface"))
            if self._look is None:
                return
            painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
            sheet, frame = Sheet(painter, self._look, colours, self.font()), self.frame()
            paint_room(sheet, frame, self._look.plan.room)
            paint_measures(sheet, frame, self._look.plan.room)
            self._paint_area(sheet)
            self._paint_things(sheet, frame)

    def _paint_area(self, sheet: Sheet) -> None:
        room = sheet.look.plan.room
        sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
        if self._mirrored and room is not None:
            shown = self.area
            twin = Area(shown.x0_m, room.width_m - shown.y1_m, shown.x1_m, room.width_m - shown.y0_m)
            sheet.painter.setPen(stroke(sheet.colours, "accent", 1.0, dash=(4.0, 3.0)))
            sheet.painter.drawRect(self.area_px(twin))
        box = self.area_px()
        sheet.painter.setPen(stroke(sheet.colours, "accent", 1.6))
        sheet.painter.setBrush(sheet.colours.pick("accent", 0.14))
        sheet.painter.drawRect(box)
        sheet.painter.setBrush(sheet.colours.pick("surface"))
        for corner in (box.topLeft(), box.topRight(), box.bottomLeft(), box.bottomRight()):
            half = QPointF(CORNER_PX, CORNER_PX)
            sheet.painter.drawRect(QRectF(corner - half, corner + half))

    def _paint_things(self, sheet: Sheet, frame: Frame) -> None:
        look = sheet.look
        order = sorted(places(look.plan), key=lambda one: one.kind, reverse=True)
        shapes = {place: shape_of(look, frame, place) for place in order}
        moving = self._mover.places if self._mover is not None and self._after is not None else ()
        for place, shape in shapes.items():
            sheet.painter.setOpacity(FADED if place in moving else 1.0)
            paint_symbol(sheet, place, shape)
        sheet.painter.setOpacity(1.0)
        boxes = {place: shape.box for place, shape in shapes.items()}
        sheet.taken += boxes.values()
        if self._after is not None:
            self._paint_moved(sheet, frame, shapes)
        paint_names(sheet, frame, boxes)

    def _paint_moved(self, sheet: Sheet, frame: Frame, shapes: dict[Place, Shape]) -> None:
        """What moves where it would go, and the way there."""
        assert self._after is not None and self._mover is not None, "a better place is known"
        after = Look(self._after, sheet.look.candidate, sheet.look.seat)
        for place in self._mover.places:
            shape = shape_of(after, frame, place)
            way = QLineF(shapes[place].at, shape.at)
            sheet.taken.append(shape.box)
            if way.length() < 1.0:
                continue
            sheet.painter.setPen(stroke(sheet.colours, "accent", 1.6, dash=(3.0, 2.0)))
            sheet.painter.drawLine(way)
            there = Sheet(sheet.painter, after, sheet.colours, self.font())
            paint_symbol(there, place, shape)
            sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
            sheet.painter.setPen(stroke(sheet.colours, "accent", 2.0))
            sheet.painter.drawRoundedRect(shape.box.adjusted(-4.0, -4.0, 4.0, 4.0), 4.0, 4.0)

    # The hand.

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self._room_m() is not None:
            point = event.position()
            self._before = self.area
            self._hold = held(self.area, self.area_px(), point, self.frame().to_m(point), _step_m())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        room_m = self._room_m()
        if room_m is None:
            return
        if self._hold is None:
            self.setCursor(cursor_at(self.area_px(), event.position()))
        else:
            self._draw(self._hold.at(self.frame().to_m(event.position()), _step_m(), room_m))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._hold is not None and event.button() is Qt.MouseButton.LeftButton:
            self._hold = None
            self._draw(upright(self.area) or self._before)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._hold is not None and event.key() == Qt.Key.Key_Escape:
            self._hold = None
            self._draw(self._before)
        else:
            super().keyPressEvent(event)

    def _draw(self, area: Area) -> None:
        if area != self.area:
            self.area = area
            self.drawn.emit()
            self.update()

    def _room_m(self) -> tuple[float, float] | None:
        room = None if self._look is None else self._look.plan.room
        return None if room is None else (room.length_m, room.width_m)


def _step_m() -> float:
    return steps_m(settings().units)[STEP]
