"""The key of a chart: how each curve is told from the others, by colour, by line and by mark."""

from dataclasses import dataclass

from pyqtgraph.graphicsItems.ScatterPlotItem import Symbols
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from planner.desktop.charts.look import Look
from planner.desktop.theme import Colours

__all__ = ["DASHES", "Entry", "Key", "dash_of", "keys_height", "paint_keys"]

# In widths of the line: unbroken, dashed, dotted, dash and dot; the second code beside colour.
DASHES: tuple[tuple[float, ...], ...] = ((), (5.0, 2.5), (1.2, 2.0), (6.0, 2.0, 1.2, 2.0))
LINE_PX, MARK_PX = 24.0, 11.0
WORD_GAP_PX = 6.0
ENTRY_GAP_PX = 16.0
LINE_PITCH = 1.5


@dataclass(frozen=True, slots=True)
class Key:
    """What tells one thing on a chart from the others."""

    name: str
    token: str
    dash: tuple[float, ...] = ()
    width: float = 2.0
    symbol: str = ""
    filled: bool = False

    @property
    def sample_px(self) -> float:
        """Length of its sample [px]."""
        return MARK_PX if self.filled or self.width == 0.0 else LINE_PX


Entry = tuple[Key | None, str]


def dash_of(token: str) -> tuple[float, ...]:
    """Dashes that a series has by its number, so that no two neighbours differ by colour alone."""
    kind, _, number = token.partition(" ")
    return DASHES[int(number or 0) % len(DASHES)] if kind == "series" else ()


def keys_height(entries: list[Entry], width_px: float, metrics: QFontMetricsF) -> float:
    """Height that entries need when they flow into lines of this width [px]."""
    lines = _flow(entries, width_px, metrics)
    return (lines[-1][1] + 1) * LINE_PITCH * metrics.height() if lines else 0.0


def paint_keys(
    painter: QPainter, rect: QRectF, entries: list[Entry], colours: Colours, token: str = "ink"
) -> None:
    """Paint samples with their words from the upper left of *rect*, line by line, in the painter's font."""
    metrics = QFontMetricsF(painter.font(), painter.device())
    pitch = LINE_PITCH * metrics.height()
    for (key, words), (left, line) in zip(entries, _flow(entries, rect.width(), metrics), strict=True):
        box = QRectF(rect.left() + left, rect.top() + line * pitch, rect.width() - left, pitch)
        if key is not None:
            _paint_sample(painter, QRectF(box.left(), box.top(), key.sample_px, pitch), key, colours)
            box.setLeft(box.left() + key.sample_px + WORD_GAP_PX)
        painter.setPen(colours.pick(token))
        text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, text)


def _flow(entries: list[Entry], width_px: float, metrics: QFontMetricsF) -> list[tuple[float, int]]:
    """Where each entry begins: its left end, and its line counted from 0."""
    places: list[tuple[float, int]] = []
    left, line = 0.0, 0
    for key, words in entries:
        sample_px = key.sample_px + WORD_GAP_PX if key is not None else 0.0
        entry_px = sample_px + metrics.horizontalAdvance(words)
        if left > 0.0 and left + entry_px > width_px:
            left, line = 0.0, line + 1
        places.append((left, line))
        left += entry_px + ENTRY_GAP_PX
    return places


def _paint_sample(painter: QPainter, rect: QRectF, key: Key, colours: Colours) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    middle = rect.center()
    if key.filled:
        half = MARK_PX / 2.0
        painter.fillRect(
            QRectF(middle.x() - half, middle.y() - half, MARK_PX, MARK_PX), colours.pick(key.token)
        )
    elif key.width > 0.0:
        pen = Look(colours).pen(key.token, key.width, key.dash)
        pen.setCosmetic(False)
        painter.setPen(pen)
        painter.drawLine(QPointF(rect.left(), middle.y()), QPointF(rect.right(), middle.y()))
    if key.symbol:
        painter.translate(middle)
        painter.scale(9.0, 9.0)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colours.pick(key.token))
        painter.drawPath(Symbols[key.symbol])
    painter.restore()
