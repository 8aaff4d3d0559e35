"""Words on a chart that stand clear of one another: each on the first of its sides that is free."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales

__all__ = ["BELOW", "LEFT", "RIGHT", "Caption", "Captions", "Side"]

Side = tuple[float, float]
RIGHT, LEFT, BELOW = (1.0, 0.0), (-1.0, 0.0), (0.0, -1.0)
CORNERS: tuple[Side, ...] = ((1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0))
PLATE_ALPHA = 0.82
PAD_PX = 3.0
LEADING = 0.15
CENTRED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextSingleLine
HALF_MARK = QPointF(7.0, 7.0)


@dataclass(frozen=True, slots=True)
class Caption:
    """Words at a point: `sides` are tried in turn, each −1, 0 or 1 to the right of it and above it.

    Where none is free the points `elsewhere` are tried alike; if none of theirs is, the words stand on
    the first side of all, moved into the chart, unless they `may_go`. A side that a line runs through
    is free at need, unless they may not `cross` any.
    """

    text: str
    x: float
    y: float
    token: str = "ink"
    sides: tuple[Side, ...] = CORNERS
    gap_px: float = 6.0
    strong: bool = False
    may_go: bool = False
    elsewhere: tuple[tuple[float, float], ...] = ()
    down_px: float = 0.0
    plate: bool = True
    cross: bool = True


class Captions(QGraphicsItem):
    """Several captions of one chart, the more important first."""

    def __init__(self, scales: Scales) -> None:
        super().__init__()
        self.key: Key | None = None
        self.placed: list[tuple[Caption, QRectF]] = []
        self._scales = scales
        self._captions: tuple[Caption, ...] = ()
        self._marks: tuple[tuple[float, float], ...] = ()
        self._lines: tuple[tuple[ArrayLike, ArrayLike], ...] = ()
        self._field = QRectF()
        self._taken: list[QRectF] = []
        self._line_points = np.empty((2, 0))
        self._font, self._strong = QFont(), QFont()
        self._look: Look | None = None
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)

    def show_captions(
        self,
        captions: Iterable[Caption],
        marks: Iterable[tuple[float, float]] = (),
        lines: Iterable[tuple[ArrayLike, ArrayLike]] = (),
    ) -> None:
        """Show other words, clear of marks at points and, where there is room, of lines through others."""
        self._captions, self._marks, self._lines = tuple(captions), tuple(marks), tuple(lines)
        self.rescale()

    def rescale(self) -> None:
        self.prepareGeometryChange()
        self.setPos(self._scales.x.ends[0], self._scales.y.ends[1])
        self.placed = []
        points = [self._point(x, y) for x, y in self._marks]
        self._taken = [QRectF(point - HALF_MARK, point + HALF_MARK) for point in points if point is not None]
        self._line_points = self._points_of_lines()
        self._field = QRectF(0.0, 0.0, self._scales.width_px, self._scales.height_px)
        for caption in self._captions:
            box = self._free_box(caption)
            if box is not None:
                self.placed.append((caption, box))
                self._taken.append(box)
        self.update()

    def restyle(self, look: Look) -> None:
        self._look = look
        self.update()

    def refont(self, font: QFont) -> None:
        self._font, self._strong = QFont(font), QFont(font)
        self._strong.setWeight(QFont.Weight.DemiBold)
        self.rescale()

    def boundingRect(self) -> QRectF:
        return self._field

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        if self._look is None:
            return
        plate = QBrush(self._look.pick("surface", PLATE_ALPHA))
        for caption, box in self.placed:
            if caption.plate:
                painter.fillRect(box, plate)
            painter.setFont(self._strong if caption.strong else self._font)
            painter.setPen(QPen(self._look.pick(caption.token)))
            painter.drawText(box, CENTRED, self._fitted(caption, box))

    def _fitted(self, caption: Caption, box: QRectF) -> str:
        if box.width() < self._field.width():
            return caption.text
        metrics = QFontMetricsF(self._strong if caption.strong else self._font)
        room_px = box.width() - 2.0 * PAD_PX + 1.0
        return metrics.elidedText(caption.text, Qt.TextElideMode.ElideRight, room_px)

    def _free_box(self, caption: Caption) -> QRectF | None:
        inside = self._field.adjusted(-0.5, -0.5, 0.5, 0.5)
        first = free = None
        for box in self._boxes(caption):
            first = first or box
            letters = box.adjusted(0.0, LEADING * box.height(), 0.0, -LEADING * box.height())
            if inside.contains(box) and not any(letters.intersects(other) for other in self._taken):
                if not self._crossed(box):
                    return box
                free = free or (box if caption.cross else None)
        if free is None and first is not None and not caption.may_go:
            return self._moved_inside(first)
        return free

    def _boxes(self, caption: Caption) -> Iterator[QRectF]:
        """Every place that the words may have, the best first."""
        metrics = QFontMetricsF(self._strong if caption.strong else self._font)
        words_px = metrics.horizontalAdvance(caption.text) + 2.0 * PAD_PX
        width, height = min(words_px, self._field.width()), metrics.height()
        for x, y in ((caption.x, caption.y), *caption.elsewhere):
            point = self._point(x, y)
            if point is None or not caption.text:
                continue
            for right, above in caption.sides:
                # Beside a point the words are centred on its height, above or below it on its width.
                left = point.x() + right * caption.gap_px + (right - 1.0) / 2.0 * width
                top = point.y() - above * caption.gap_px - (above + 1.0) / 2.0 * height + caption.down_px
                yield self._nudged(QRectF(left, top, width, height))

    def _point(self, x: float, y: float) -> QPointF | None:
        """Where a point is, counted from the upper left of the field; None for nowhere."""
        across, down = self._scales.x.share(x), 1.0 - self._scales.y.share(y)
        if not (math.isfinite(across) and math.isfinite(down)):
            return None
        return QPointF(across * self._scales.width_px, down * self._scales.height_px)

    def _crossed(self, box: QRectF) -> bool:
        across, down = self._line_points
        beside = (across > box.left()) & (across < box.right())
        return bool(np.any(beside & (down > box.top()) & (down < box.bottom())))

    def _points_of_lines(self) -> NDArray[np.float64]:
        """Every point of the lines, (2, points), counted from the upper left of the field [px]."""
        (left, right), (bottom, top) = self._scales.x.ends, self._scales.y.ends
        parts = [np.empty((2, 0))]
        for x, y in self._lines:
            across = (self._scales.x.place(x) - left) / (right - left) * self._scales.width_px
            down = (top - self._scales.y.place(y)) / (top - bottom) * self._scales.height_px
            parts.append(np.stack(np.broadcast_arrays(across, down)))
        return np.concatenate(parts, axis=1)

    def _nudged(self, box: QRectF) -> QRectF:
        """A box that reaches a little over the upper or lower edge, moved off it."""
        moved = self._moved_inside(box)
        return (
            box.translated(0.0, moved.top() - box.top())
            if abs(moved.top() - box.top()) < box.height() / 3.0
            else box
        )

    def _moved_inside(self, box: QRectF) -> QRectF:
        field = self._field
        left = max(min(box.left(), field.right() - box.width()), 0.0)
        top = max(min(box.top(), field.bottom() - box.height()), 0.0)
        return QRectF(QPointF(left, top), box.size())
