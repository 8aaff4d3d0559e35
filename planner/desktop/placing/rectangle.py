"""A rectangle in the hand: drawn anew, moved as a whole, or pulled by its edges."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt

from planner.desktop.drawing.steps import snapped
from planner.headroom.placing import Area

__all__ = ["Hold", "cursor_at", "held", "upright"]

NEAR_PX = 6.0
LEAST_M = 0.02
Edges = tuple[bool, bool, bool, bool]
"""Which of the edges x0, y0, x1, y1 move."""
ALL: Edges = (True, True, True, True)
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Hold:
    """What is held: an area as it was, the edges that go along, and where they were taken [m]."""

    area: Area
    edges: Edges
    start_m: Point

    def at(self, point_m: Point, step_m: float, room_m: Point) -> Area:
        """The area when the pointer is at a point: in steps, within the room, of its size if moved whole.

        Examples
        --------
        >>> Hold(Area(1.0, 1.0, 2.0, 2.0), ALL, (1.5, 1.5)).at((-1.5, 2.02), 0.05, (5.0, 4.0))
        Area(x0_m=0.0, y0_m=1.5, x1_m=1.0, y1_m=2.5)
        """
        one = self.area
        across, up = (snapped(now - then, step_m) for now, then in zip(point_m, self.start_m, strict=True))
        if all(self.edges):
            across = min(max(across, -one.x0_m), room_m[0] - one.x1_m)
            up = min(max(up, -one.y0_m), room_m[1] - one.y1_m)
        values, ways, ends = (one.x0_m, one.y0_m, one.x1_m, one.y1_m), (across, up) * 2, room_m * 2
        moved = (
            min(max(value + way, 0.0), end) if goes else value
            for value, way, end, goes in zip(values, ways, ends, self.edges, strict=True)
        )
        return Area(*(round(value, 4) for value in moved))


def held(area: Area, box: QRectF, point: QPointF, point_m: Point, step_m: float) -> Hold:
    """What a point of the picture takes: edges or the whole of an area, else a corner of a new one."""
    edges = _edges_at(box, point)
    if edges is not None:
        return Hold(area, edges, point_m)
    x, y = (snapped(value, step_m) for value in point_m)
    return Hold(Area(x, y, x, y), (False, False, True, True), (x, y))


def cursor_at(box: QRectF, point: QPointF) -> Qt.CursorShape:
    """How the pointer looks at a point of the picture."""
    edges = _edges_at(box, point)
    if edges is None:
        return Qt.CursorShape.CrossCursor
    if all(edges):
        return Qt.CursorShape.SizeAllCursor
    left, bottom, right, top = edges
    if (left or right) and (bottom or top):
        rising = (left and bottom) or (right and top)
        return Qt.CursorShape.SizeBDiagCursor if rising else Qt.CursorShape.SizeFDiagCursor
    return Qt.CursorShape.SizeHorCursor if left or right else Qt.CursorShape.SizeVerCursor


def upright(area: Area) -> Area | None:
    """The area with its lower edges first; None where it has no size, as after a mere click."""
    x0, x1 = sorted((area.x0_m, area.x1_m))
    y0, y1 = sorted((area.y0_m, area.y1_m))
    return None if max(x1 - x0, y1 - y0) < LEAST_M else Area(x0, y0, x1, y1)


def _edges_at(box: QRectF, point: QPointF) -> Edges | None:
    """What of a rectangle lies under a point, in a picture whose y runs down; None outside it."""
    if not box.adjusted(-NEAR_PX, -NEAR_PX, NEAR_PX, NEAR_PX).contains(point):
        return None
    right, top = abs(point.x() - box.right()) <= NEAR_PX, abs(point.y() - box.top()) <= NEAR_PX
    left = not right and abs(point.x() - box.left()) <= NEAR_PX
    bottom = not top and abs(point.y() - box.bottom()) <= NEAR_PX
    edges = (left, bottom, right, top)
    return edges if any(edges) else ALL
