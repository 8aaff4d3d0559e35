"""The bare chart: two sides, a grid and its parts, laid out, coloured and held still."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TypeVar

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFocusEvent, QFontMetricsF, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QGraphicsRectItem, QGraphicsSimpleTextItem, QGraphicsView, QWidget

from planner.desktop.charts.axes import TickAxis
from planner.desktop.charts.grid import Grid
from planner.desktop.charts.items import ChartItem, Curve
from planner.desktop.charts.look import THICKEST, Look, Styled
from planner.desktop.charts.scales import Scale, Scales
from planner.desktop.theme import LIGHT, Colours, colours_of, small_font

__all__ = ["Canvas"]

Part = TypeVar("Part", bound=ChartItem)
EDGE_PX = 5.0
RESTYLED_BY = (QEvent.Type.PaletteChange, QEvent.Type.DevicePixelRatioChange)


class Canvas(pg.PlotWidget):
    """A chart's field with its sides.

    Neither wheel nor drag moves the ranges: `set_scales` alone does. Colours follow the palette, text the
    font, line widths the density of the screen.
    """

    _ready = False

    def __init__(self, x: Scale, y: Scale, parent: QWidget | None = None) -> None:
        self.scales = Scales(x, y)
        self.parts: list[ChartItem] = []
        self.colours: Colours = LIGHT
        self._bottom, self._left = TickAxis("bottom", x), TickAxis("left", y)
        super().__init__(parent, axisItems={"bottom": self._bottom, "left": self._left}, enableMenu=False)
        self.plotItem.hideButtons()
        self.setMenuEnabled(False)
        self.plotItem.vb.setMouseEnabled(False, False)
        self.plotItem.vb.disableAutoRange()
        self._x_title, self._y_title = (QGraphicsSimpleTextItem(self.plotItem) for _ in "xy")
        self._grid = Grid()
        self.plotItem.vb.addItem(self._grid, ignoreBounds=True)
        self._grid.setZValue(-10.0)
        self._fixtures: list[Styled] = [self._grid, self._left, self._bottom]
        self._ring = QGraphicsRectItem()
        self._ring.setVisible(False)
        self._ring.setZValue(1000.0)
        self.scene().addItem(self._ring)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(200, 120)
        self._ready = True
        self._refont()
        self.restyle(colours_of(self.palette()))
        self._take_scales()
        self.plotItem.vb.sigResized.connect(self._arrange)

    def add(self, part: Part, z: float = 0.0) -> Part:
        """Put a part on the chart for good; the greater *z* lies on top."""
        self.plotItem.vb.addItem(part, ignoreBounds=True)
        part.setZValue(z)
        self.parts.append(part)
        part.refont(small_font(self.font()))
        part.restyle(self._look())
        return part

    def set_scales(self, x: Scale, y: Scale) -> None:
        """Give the chart other sides; the parts move to their new places."""
        if (x, y) != (self.scales.x, self.scales.y):
            self.scales.x, self.scales.y = x, y
            self._take_scales()

    def line_up(self, sample: str, *, bare_bottom: bool = False) -> None:
        """Leave as much room at the left as *sample* needs, and the figures below to a chart that follows."""
        self._left.sample, self._bottom.bare = sample, bare_bottom
        self._arrange()

    def restyle(self, colours: Colours, line_scale: float | None = None) -> None:
        """Take every colour from a theme; called by itself when the palette or the screen changes."""
        self.colours = colours
        look = self._look(line_scale)
        self.setBackground(look.pick("surface"))
        for title in (self._x_title, self._y_title):
            title.setBrush(look.pick("muted"))
        self._ring.setPen(look.pen("accent", THICKEST))
        for part in (*self._fixtures, *self.parts):
            part.restyle(look)

    def settle(self) -> None:
        """Be laid out as if shown, so that a chart nobody saw yet can be painted."""
        if not self.isVisible():
            if self.width() < self.minimumWidth() or self.height() < self.minimumHeight():
                self.resize(self.sizeHint())
            # Qt keeps sizes back from hidden widgets until they are shown or grabbed.
            self.grab(QRect(0, 0, 1, 1))
        self.plotItem.layout.activate()

    @contextmanager
    def on_paper(self, line_scale: float = 1.0) -> Iterator[None]:
        """Look for a while as on paper: light, without focus ring, every curve in one stroke."""
        colours, ring = self.colours, self._ring.isVisible()
        curves = [part for part in self.parts if isinstance(part, Curve)]
        modes = [curve.opts["segmentedLineMode"] for curve in curves]
        self._ring.setVisible(False)
        self.restyle(LIGHT, line_scale)
        for curve in curves:
            curve.setSegmentedLineMode("off")
        try:
            yield
        finally:
            self.restyle(colours)
            self._ring.setVisible(ring)
            for curve, mode in zip(curves, modes, strict=True):
                curve.setSegmentedLineMode(mode)

    def _look(self, line_scale: float | None = None) -> Look:
        return Look(self.colours, self.devicePixelRatioF() if line_scale is None else line_scale)

    def _take_scales(self) -> None:
        x, y = self.scales.x, self.scales.y
        self._bottom.scale_shown, self._left.scale_shown = x, y
        self._x_title.setText(x.label)
        self._y_title.setText(y.label)
        self.plotItem.vb.setRange(xRange=x.ends, yRange=y.ends, padding=0.0, disableAutoRange=True)
        self._arrange()

    def _refont(self) -> None:
        font = small_font(self.font())
        for title in (self._x_title, self._y_title):
            title.setFont(font)
        for part in (self._left, self._bottom, *self.parts):
            part.refont(font)
        self._arrange()

    def _arrange(self, *_: object) -> None:
        """Fit figures, titles, grid and parts to the room there is; the axes ask for room in their turn."""
        box = self.plotItem.vb
        self.scales.width_px, self.scales.height_px = box.width(), box.height()
        self._left.arrange(box.height())
        self._bottom.arrange(box.width())
        line_px = QFontMetricsF(self._x_title.font()).height()
        below_px = line_px if self._x_title.text() else 0.0
        above_px = 1.4 * line_px if self._y_title.text() else 0.0
        right_px = self._right_px()
        self._left.take_room(self.width())
        self._bottom.take_room(self._bottom.line_px + below_px)
        self._leave_room(above_px, right_px)
        self._place_titles(right_px, line_px)
        self._rule_grid()
        for part in self.parts:
            part.rescale()

    def _right_px(self) -> float:
        """Room to the right of the field [px]."""
        return max(self._bottom.overhang_px, EDGE_PX) + EDGE_PX

    def _leave_room(self, above_px: float, right_px: float) -> None:
        """Lay the field out with room around its sides."""
        self.plotItem.layout.setContentsMargins(EDGE_PX, above_px + EDGE_PX, right_px, EDGE_PX)

    def _place_titles(self, right_px: float, line_px: float) -> None:
        edge = self.plotItem.size()
        left_px = edge.width() - right_px - self._x_title.boundingRect().width()
        self._x_title.setPos(left_px, edge.height() - line_px - EDGE_PX)
        self._y_title.setPos(EDGE_PX + 3.0, EDGE_PX - 1.0)
        self._ring.setRect(QRectF(self.viewport().rect()).adjusted(1.0, 1.0, -1.0, -1.0))

    def _rule_grid(self) -> None:
        (left, right), (bottom, top) = self.scales.x.ends, self.scales.y.ends
        across = [tick.place for tick in self._bottom.ticks]
        along = [tick.place for tick in self._left.ticks]
        self._grid.set_lines(across, along, QRectF(left, bottom, right - left, top - bottom))

    # Qt's own.

    def close(self) -> bool:
        # pyqtgraph's takes the scene apart, so that the chart could not be shown again.
        return QGraphicsView.close(self)

    def sizeHint(self) -> QSize:
        return QSize(420, 240)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if self._ready and event.type() == QEvent.Type.FontChange:
            self._refont()

    def event(self, event: QEvent) -> bool:
        answer = bool(super().event(event))
        if self._ready and event.type() in RESTYLED_BY:
            self.restyle(colours_of(self.palette()))
        return answer

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._ring.setVisible(event.reason() is not Qt.FocusReason.MouseFocusReason)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._ring.setVisible(False)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
