"""Reading a chart: pointer or arrow keys choose a point, and every quantity there is said with its unit."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QBrush, QPen
from PySide6.QtWidgets import QGraphicsRectItem

from planner.desktop.charts.items import Curve, Marks
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import NameScale

if TYPE_CHECKING:
    from planner.desktop.charts.base import Chart

__all__ = ["Reader", "nearest", "stepped"]

ROW_ALPHA = 0.10
ALONG_X = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
ALONG_Y = {**ALONG_X, Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}


def nearest(places: NDArray[np.float64], at: float) -> int | None:
    """Find the index of the place nearest to *at*, None where no place is a number."""
    gaps = np.abs(places - at)
    return int(np.nanargmin(gaps)) if np.any(np.isfinite(gaps)) else None


def stepped(index: int | None, key: Qt.Key, count: int, steps: dict[Qt.Key, int] = ALONG_X) -> int | None:
    """Move a reading by a key over *count* points; None says that the key does not move it.

    Examples
    --------
    >>> stepped(None, Qt.Key.Key_Right, 5), stepped(4, Qt.Key.Key_Right, 5), stepped(2, Qt.Key.Key_Home, 5)
    (0, 4, 0)
    """
    if count == 0:
        return None
    if key == Qt.Key.Key_Home:
        return 0
    if key == Qt.Key.Key_End:
        return count - 1
    if key not in steps:
        return None
    if index is None:
        return 0 if steps[key] > 0 else count - 1
    return min(max(index + steps[key], 0), count - 1)


class Reader:
    """The reading of one chart: which point it stands on, and the line or row that shows where."""

    def __init__(self, chart: "Chart", along_x: bool) -> None:
        self._chart = chart
        self._along_x = along_x
        self._places: NDArray[np.float64] | None = None
        self._by_key = False
        self._look = Look(chart.colours)
        self.index: int | None = None
        self.cursor = QGraphicsRectItem()
        self.cursor.setVisible(False)
        self.dots = Marks(chart.scales, "", "ink", "o", 7.0)
        self.dots.setVisible(False)
        chart.plotItem.vb.addItem(self.cursor, ignoreBounds=True)
        chart.plotItem.vb.addItem(self.dots, ignoreBounds=True)
        self.cursor.setZValue(40.0)
        self.dots.setZValue(41.0)

    def point_at(self, where: QPointF) -> None:
        """Read the point nearest to a place of the view, or none outside the chart's field."""
        box = self._chart.plotItem.vb
        if not box.sceneBoundingRect().contains(where):
            self.leave()
            return
        place = box.mapSceneToView(where)
        self._by_key = False
        self._stand(nearest(self._all_places(), place.x() if self._along_x else place.y()))

    def press(self, key: Qt.Key) -> bool:
        """Move or end the reading by a key; False says that the key means nothing here."""
        if key == Qt.Key.Key_Escape and self.index is not None:
            self._stand(None)
            return True
        steps = ALONG_X if self._along_x else ALONG_Y
        index = stepped(self.index, key, len(self._all_places()), steps)
        if index is None:
            return False
        self._by_key = True
        self._stand(index)
        self._announce()
        return True

    def read(self, index: int | None) -> None:
        """Read a point that was chosen elsewhere, or none."""
        if index != self.index:
            self._stand(index)

    def leave(self) -> None:
        """End a reading by the pointer; one by keys stays."""
        if not self._by_key:
            self._stand(None)

    def refresh(self) -> None:
        """Read the same point again after the data or the sides changed."""
        self._places = None
        self.restyle(self._look)
        if self.index is not None:
            count = len(self._all_places())
            self._stand(min(self.index, count - 1) if count else None)

    def restyle(self, look: Look) -> None:
        """Take colours and line widths."""
        self._look = look
        self.cursor.setPen(QPen(Qt.PenStyle.NoPen) if self._by_row() else look.pen("muted"))
        self.cursor.setBrush(QBrush(look.pick("accent", ROW_ALPHA)))
        self.dots.restyle(look)

    @contextmanager
    def hidden(self) -> Iterator[None]:
        """Take the marks of the reading off the chart for a while."""
        seen = [(mark, mark.isVisible()) for mark in (self.cursor, self.dots)]
        for mark, _ in seen:
            mark.setVisible(False)
        try:
            yield
        finally:
            for mark, visible in seen:
                mark.setVisible(visible)

    def _by_row(self) -> bool:
        scale = self._chart.scales.x if self._along_x else self._chart.scales.y
        return isinstance(scale, NameScale)

    def _all_places(self) -> NDArray[np.float64]:
        if self._places is None:
            self._places = self._find_places()
        return self._places

    def _find_places(self) -> NDArray[np.float64]:
        if not self._chart.has_data or not (columns := self._chart.table().columns):
            return np.empty(0)
        scale = self._chart.scales.x if self._along_x else self._chart.scales.y
        values = columns[0].values
        by_number = isinstance(scale, NameScale) or isinstance(values, tuple)
        return scale.place(np.arange(len(values)) if by_number else values)

    def _stand(self, index: int | None) -> None:
        self.index = index
        self._by_key = self._by_key and index is not None
        place = float("nan") if index is None else float(self._all_places()[index])
        self.cursor.setVisible(bool(np.isfinite(place)))
        if self.cursor.isVisible():
            self.cursor.setRect(self._cursor_rect(place))
        self._dot(index)
        self._chart.reading_changed.emit()

    def _cursor_rect(self, place: float) -> QRectF:
        scales = self._chart.scales
        low, high = (scales.y if self._along_x else scales.x).ends
        half = 0.5 if self._by_row() else 0.0
        first, last = QPointF(place - half, low), QPointF(place + half, high)
        return QRectF(first, last) if self._along_x else QRectF(first.transposed(), last.transposed())

    def _dot(self, index: int | None) -> None:
        curves = [
            item for item in self._chart.parts if isinstance(item, Curve) and item.key and item.isVisible()
        ]
        count = len(self._all_places())
        met = [curve.shown for curve in curves if len(curve.shown[0]) == len(curve.shown[1]) == count]
        shown = index is not None and bool(met)
        self.dots.setVisible(shown)
        if shown:
            self.dots.show_points([x[index] for x, _ in met], [y[index] for _, y in met])

    def _announce(self) -> None:
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._chart, self._chart.reading()))
