"""A chart whose field is a floor: both sides at one scale, and the key of its colours beside it."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.canvas import EDGE_PX
from planner.desktop.charts.later import LaterChart
from planner.desktop.charts.scales import LinearScale
from planner.desktop.floor_map.bar import Bar
from planner.desktop.theme import small_font

__all__ = ["ScaledChart", "side"]

BETWEEN_PX, LEAST_BAR_PX = 16.0, 120.0
STEPS_ALONG = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)


class ScaledChart(LaterChart):
    """Keeps the shape of the floor, in the middle of the room there is."""

    _made = False
    _spare_px = (0.0, 0.0)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, side("", "", 0.0, 6.0), side("", "m", 0.0, 4.0), parent)
        self.bar = Bar(self.plotItem)
        self.parts.append(self.bar)
        self.bar.refont(small_font(self.font()))
        self.bar.restyle(self._look())
        self.plotItem.vb.geometryChanged.connect(self._stand_beside)
        self._made = True
        self._arrange()

    def _right_px(self) -> float:
        return super()._right_px() + (self.bar.room_px if self._made else 0.0)

    def _leave_room(self, above_px: float, right_px: float) -> None:
        whole = self.plotItem.size()
        left, top, right, bottom = EDGE_PX, above_px + EDGE_PX, right_px, EDGE_PX
        across = whole.width() - left - right - self._left.minimumWidth()
        down = whole.height() - top - bottom - self._bottom.minimumHeight()
        length, width = (scale.high - scale.low for scale in (self.scales.x, self.scales.y))
        scale = max(min(across / length, down / width), 0.0)
        aside, below = max(across - scale * length, 0.0) / 2.0, max(down - scale * width, 0.0) / 2.0
        self._spare_px = aside, below
        self.plotItem.layout.setContentsMargins(left + aside, top + below, right + aside, bottom + below)

    def _place_titles(self, right_px: float, line_px: float) -> None:
        aside, below = self._spare_px
        super()._place_titles(right_px + aside, line_px)
        self._x_title.moveBy(0.0, -below)
        self._y_title.moveBy(aside, below)
        if self._made:
            self._stand_beside()

    def _rule_grid(self) -> None:
        """No grid: the floor is covered with colour."""

    def _stand_beside(self) -> None:
        title = self._y_title
        after_px = title.pos().x() + title.boundingRect().width() + BETWEEN_PX
        field = QRectF(self.plotItem.vb.geometry())
        # Beside a long narrow floor the key is taller than the floor, to be read at all.
        more_px = min(max((LEAST_BAR_PX - field.height()) / 2.0, 0.0), self._spare_px[1])
        self.bar.stand_beside(field.adjusted(0.0, -more_px, 0.0, more_px), after_px)


def side(title: str, unit: str, low: float, high: float) -> LinearScale:
    """One side of a floor, in steps that are round in metres and in feet."""
    return LinearScale(title, unit, low, high, steps=STEPS_ALONG)
