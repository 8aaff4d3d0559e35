"""What draws a chart's data: built once, then only shown anew, coloured by the theme."""

from typing import Protocol

import numpy as np
import pyqtgraph as pg
from numpy.typing import ArrayLike
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.keys import Key, dash_of
from planner.desktop.charts.look import Look, Styled
from planner.desktop.charts.scales import Places, Scales

__all__ = ["Bars", "ChartItem", "Curve", "Marks"]

FILL_ALPHA = 0.14
NOBODY = QPen(Qt.PenStyle.NoPen)


class ChartItem(Styled, Protocol):
    """What a chart asks of the things that it holds; Qt's graphics items bring the last three."""

    key: Key | None

    def refont(self, font: QFont) -> None:
        """Take the chart's font, where there is text."""

    def rescale(self) -> None:
        """Take the places again after a side of the chart or the size of its field changed."""

    def setZValue(self, z: float) -> None:
        """Lie above what has a lesser *z*."""

    def setOpacity(self, opacity: float) -> None:
        """Be seen through."""

    def isVisible(self) -> bool:
        """Whether it is shown."""


class Curve(pg.PlotCurveItem):
    """A line through points, or steps between edges; `fill_to` shades the space down to a level.

    A name of "" keeps it out of the key. Values that have no place (none, or not above 0 on a log side)
    leave a gap.
    """

    def __init__(
        self,
        scales: Scales,
        name: str,
        token: str,
        *,
        width: float = 2.0,
        dash: tuple[float, ...] | None = None,
        steps: bool = False,
        fill_to: float | None = None,
    ) -> None:
        style = Key(name, token, dash_of(token) if dash is None else dash, width)
        super().__init__(antialias=True, connect="finite")
        self.opts["stepMode"] = "center" if steps else None
        self._scales, self._style, self._fill_to = scales, style, fill_to
        self.key = style if name else None
        self.shown: tuple[Places, Places] = (np.empty(0), np.empty(0))
        if style.dash:
            # Drawn segment by segment, every piece would begin its dashes anew.
            self.setSegmentedLineMode("off")

    def show_points(self, x: ArrayLike, y: ArrayLike) -> None:
        """Show other points; with steps, `x` holds the edges and is one longer than `y`."""
        self.shown = (np.asarray(x, dtype=float), np.asarray(y, dtype=float))
        self.rescale()

    def rescale(self) -> None:
        x, y = self.shown
        if y.size:
            self.setData(self._scales.x.place(x), self._scales.y.place(y))
        else:
            self.clear()
            self.update()
        if self._fill_to is not None:
            self.setFillLevel(float(self._scales.y.place(self._fill_to)))

    def restyle(self, look: Look) -> None:
        self.setPen(look.pen(self._style.token, self._style.width, self._style.dash))
        self.setBrush(QBrush(look.pick(self._style.token, FILL_ALPHA)))

    def refont(self, font: QFont) -> None: ...


class Bars(pg.GraphicsObject):
    """Upright or level bars, each of its own colour if need be."""

    def __init__(self, scales: Scales, name: str, token: str) -> None:
        super().__init__()
        self._scales, self._token = scales, token
        self.key = Key(name, token, filled=True) if name else None
        self._sides: tuple[ArrayLike, ArrayLike, ArrayLike, ArrayLike] = ((), (), (), ())
        self._tokens: tuple[str, ...] = ()
        self._rects: dict[str, list[QRectF]] = {}
        self._bounds = QRectF()
        self._brushes: dict[str, QBrush] = {}
        self._look: Look | None = None

    def show_bars(
        self,
        left: ArrayLike,
        right: ArrayLike,
        bottom: ArrayLike,
        top: ArrayLike,
        tokens: tuple[str, ...] = (),
    ) -> None:
        """Show other bars by their four sides, which broadcast; `tokens` colours them one by one."""
        self._sides, self._tokens = (left, right, bottom, top), tokens
        self.rescale()

    def rescale(self) -> None:
        left, right, bottom, top = self._sides
        x, y = self._scales.x, self._scales.y
        sides = np.broadcast_arrays(x.place(left), y.place(bottom), x.place(right), y.place(top))
        corners = np.stack(sides, axis=-1).reshape(-1, 4)
        tokens = self._tokens or (self._token,) * len(corners)
        self.prepareGeometryChange()
        self._rects = {token: [] for token in tokens}
        self._bounds = QRectF()
        for token, corner in zip(tokens, corners.tolist(), strict=True):
            rect = QRectF(QPointF(*corner[:2]), QPointF(*corner[2:])).normalized()
            self._rects[token].append(rect)
            self._bounds |= rect
        self._mix()
        self.update()

    def restyle(self, look: Look) -> None:
        self._look = look
        self._mix()
        self.update()

    def refont(self, font: QFont) -> None: ...

    def boundingRect(self) -> QRectF:
        return self._bounds

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(NOBODY)
        for token, rects in self._rects.items():
            painter.setBrush(self._brushes[token])
            painter.drawRects(rects)

    def _mix(self) -> None:
        if self._look is not None:
            self._brushes = {token: QBrush(self._look.pick(token)) for token in self._rects}


class Marks(pg.ScatterPlotItem):
    """Single points marked by a shape: o disc, s square, d diamond, t triangle, x cross."""

    def __init__(
        self, scales: Scales, name: str, token: str, symbol: str = "o", size_px: float = 10.0
    ) -> None:
        # Without the cache of bitmaps the marks stay sharp on every screen and on paper.
        super().__init__(symbol=symbol, size=size_px, pxMode=True, useCache=False, antialias=True)
        self._scales, self._token = scales, token
        self.key = Key(name, token, width=0.0, symbol=symbol) if name else None
        self._shown: tuple[ArrayLike, ArrayLike] = ((), ())

    def show_points(self, x: ArrayLike, y: ArrayLike) -> None:
        """Show other points."""
        self._shown = (x, y)
        self.rescale()

    def rescale(self) -> None:
        x, y = self._shown
        self.setData(np.atleast_1d(self._scales.x.place(x)), np.atleast_1d(self._scales.y.place(y)))

    def restyle(self, look: Look) -> None:
        self.setBrush(QBrush(look.pick(self._token)))
        self.setPen(look.pen("surface", 1.5))

    def refont(self, font: QFont) -> None: ...
