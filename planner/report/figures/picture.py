"""A chart as a file of its own: PNG for a screen, SVG for print."""

from __future__ import annotations

import re
from collections.abc import Callable

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRect, QRectF, QSize
from PySide6.QtGui import QImage, QImageWriter, QPainter
from PySide6.QtSvg import QSvgGenerator

from planner.report.figures.chart import Chart
from planner.report.figures.paint import paint_chart
from planner.report.pages.canvas import Canvas

__all__ = ["SIZE_PT", "png", "svg"]

SIZE_PT = QSize(420, 270)
POINTS_PER_INCH = 72
PNG_SCALE = 3
MARGIN_PT = 12.0
_FAMILY = re.compile(rb'font-family="([^",]+)"')


def png(chart: Chart) -> bytes:
    """The chart on white, three pixels to a point."""
    image = QImage(SIZE_PT * PNG_SCALE, QImage.Format.Format_RGB32)
    with QPainter(image) as painter:
        painter.scale(PNG_SCALE, PNG_SCALE)
        _paint(painter, chart)
    return _buffered(lambda buffer: QImageWriter(buffer, QByteArray(b"png")).write(image))


def svg(chart: Chart) -> bytes:
    """The chart as a drawing whose text stays text; its unit is the point."""
    drawn = _buffered(lambda buffer: _paint_svg(buffer, chart))
    # Where the reader has not this font, any without serifs will do.
    return _FAMILY.sub(rb'font-family="\1, sans-serif"', drawn)


def _paint_svg(buffer: QBuffer, chart: Chart) -> None:
    drawing = QSvgGenerator()
    drawing.setOutputDevice(buffer)
    drawing.setResolution(POINTS_PER_INCH)
    drawing.setSize(SIZE_PT)
    drawing.setViewBox(QRect(0, 0, SIZE_PT.width(), SIZE_PT.height()))
    drawing.setTitle(chart.headline)
    with QPainter(drawing) as painter:
        _paint(painter, chart)


def _paint(painter: QPainter, chart: Chart) -> None:
    canvas, whole = Canvas(painter), QRectF(0.0, 0.0, SIZE_PT.width(), SIZE_PT.height())
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    canvas.box(whole, "surface")
    paint_chart(canvas, whole.adjusted(MARGIN_PT, MARGIN_PT, -MARGIN_PT, -MARGIN_PT), chart)


def _buffered(write: Callable[[QBuffer], object]) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    write(buffer)
    return bytes(buffer.data().data())
