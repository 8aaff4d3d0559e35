"""Metres on paper: the two views of a room, and how both fit a picture at one scale."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSizeF

from planner.plan import Plan
from planner.report.drawing.places import Position

__all__ = ["ABOVE", "SIDE", "WALL_PX", "Frame", "Margins", "arranged", "extents"]

ABOVE, SIDE = "above", "side"
WALL_PX = 8.0
_AROUND_M = 1.0
_ABOVE_M = 1.2
_LEAST_HEIGHT_M = 2.4
_LEAST_PX_PER_M = 2.0

Extents = tuple[Position, Position]


@dataclass(frozen=True, slots=True)
class Frame:
    """One view: x runs to the right, and y (from above) or z (from the side) runs up."""

    view: str
    rect: QRectF
    px_per_m: float
    low_m: tuple[float, float]

    @property
    def up(self) -> int:
        """Which axis runs up: 1 for y, 2 for z."""
        return 1 if self.view == ABOVE else 2

    def to_px(self, position_m: Position) -> QPointF:
        """Where a position in the room lies on the picture."""
        return self.at(position_m[0], position_m[self.up])

    def at(self, across_m: float, up_m: float) -> QPointF:
        """Where a point of this view lies on the picture."""
        across = (across_m - self.low_m[0]) * self.px_per_m
        up = (up_m - self.low_m[1]) * self.px_per_m
        return QPointF(self.rect.left() + across, self.rect.bottom() - up)

    def to_m(self, point: QPointF) -> tuple[float, float]:
        """Which point of this view [m] lies at a place of the picture."""
        across = (point.x() - self.rect.left()) / self.px_per_m
        up = (self.rect.bottom() - point.y()) / self.px_per_m
        return self.low_m[0] + across, self.low_m[1] + up

    def room_px(self, dimensions_m: Position) -> QRectF:
        """The room on this view."""
        return QRectF(self.at(0.0, dimensions_m[self.up]), self.at(dimensions_m[0], 0.0))


@dataclass(frozen=True, slots=True)
class Margins:
    """What a picture keeps round each view for walls, dimensions and a title, and below both [px]."""

    left: float
    top: float
    right: float
    bottom: float
    footer: float


def extents(plan: Plan) -> Extents:
    """Lowest and highest corner of what is to be seen [m]: the room, and all that is in or beside it."""
    points = [thing.position_m for thing in (*plan.seats, *plan.stands)]
    low = tuple(min(values) for values in zip(*points, strict=True))
    high = tuple(max(values) for values in zip(*points, strict=True))
    if plan.room is not None:
        length, width, height = plan.room.dimensions_m
        low = (min(low[0], 0.0), min(low[1], 0.0), 0.0)
        return low, (max(high[0], length), max(high[1], width), max(high[2], height))
    low = (low[0] - _AROUND_M, low[1] - _AROUND_M, 0.0)
    return low, (high[0] + _AROUND_M, high[1] + _AROUND_M, max(high[2] + _ABOVE_M, _LEAST_HEIGHT_M))


def arranged(size: QSizeF, whole: Extents, margins: Margins) -> tuple[Frame, Frame]:
    """Both views at one scale, one above the other or side by side, whichever shows them larger."""
    length, width, height = (high - low for low, high in zip(*whole, strict=True))
    across_px, down_px = margins.left + margins.right, margins.top + margins.bottom
    free_px = size.height() - margins.footer
    stacked = min((size.width() - across_px) / length, (free_px - 2.0 * down_px) / (width + height))
    beside = min((size.width() - 2.0 * across_px) / (2.0 * length), (free_px - down_px) / max(width, height))
    scale = max(stacked, beside, _LEAST_PX_PER_M)
    page = QSizeF(size.width(), free_px)
    above_px = QSizeF(length * scale, width * scale)
    side_px = QSizeF(length * scale, height * scale)
    place = _stacked if stacked >= beside else _beside
    above, side = place(page, above_px, side_px, margins)
    (x, y, z), _ = whole
    return Frame(ABOVE, above, scale, (x, y)), Frame(SIDE, side, scale, (x, z))


def _stacked(page: QSizeF, above: QSizeF, side: QSizeF, margins: Margins) -> tuple[QRectF, QRectF]:
    left = margins.left + (page.width() - margins.left - margins.right - above.width()) / 2.0
    free = page.height() - above.height() - side.height() - 2.0 * (margins.top + margins.bottom)
    first = margins.top + free / 3.0
    second = first + above.height() + margins.bottom + margins.top + free / 3.0
    return QRectF(QPointF(left, first), above), QRectF(QPointF(left, second), side)


def _beside(page: QSizeF, above: QSizeF, side: QSizeF, margins: Margins) -> tuple[QRectF, QRectF]:
    free = page.width() - above.width() - side.width() - 2.0 * (margins.left + margins.right)
    first = margins.left + free / 3.0
    second = first + above.width() + margins.right + margins.left + free / 3.0
    tall = max(above.height(), side.height())
    bottom = margins.top + (page.height() - margins.top - margins.bottom - tall) / 2.0 + tall
    floor = QPointF(0.0, bottom)
    return (
        QRectF(QPointF(first, floor.y() - above.height()), above),
        QRectF(QPointF(second, floor.y() - side.height()), side),
    )
