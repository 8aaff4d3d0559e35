"""The drawing as a picture: on the clipboard, as PNG, or as SVG; always on light paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRect, QSize, QSizeF
from PySide6.QtGui import QFont, QImage, QImageWriter, QPainter
from PySide6.QtSvg import QSvgGenerator

from planner.desktop.theme import LIGHT
from planner.plan.storage import write_atomically
from planner.report.drawing.frames import extents
from planner.report.drawing.look import Look
from planner.report.drawing.painting import frames_for, paint
from planner.report.drawing.words import summary, tr

__all__ = ["filters", "picture", "save", "svg"]

PICTURE_SCALE = 2


def filters() -> list[str]:
    """What the drawing can be saved as, in the words of a file dialog."""
    return [tr("PNG picture (*.png)"), tr("SVG drawing (*.svg)")]


def picture(look: Look, size: QSize, font: QFont) -> QImage:
    """The drawing at twice its size on the screen."""
    image = QImage(size * PICTURE_SCALE, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(PICTURE_SCALE)
    with QPainter(image) as painter:
        _paint(painter, look, size, font)
    return image


def svg(look: Look, size: QSize, font: QFont, dots_per_inch: int) -> bytes:
    """The drawing as an SVG document; at the screen's own resolution the words keep their places."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    drawing = QSvgGenerator()
    drawing.setOutputDevice(buffer)
    drawing.setResolution(dots_per_inch)
    drawing.setSize(size)
    drawing.setViewBox(QRect(0, 0, size.width(), size.height()))
    drawing.setTitle(look.plan.title)
    drawing.setDescription(summary(look))
    with QPainter(drawing) as painter:
        _paint(painter, look, size, font)
    return bytes(buffer.data().data())


def save(path: str | Path, look: Look, size: QSize, font: QFont, dots_per_inch: int) -> None:
    """Save the drawing whole or not at all, by the suffix of its file; raises OSError where it cannot be."""
    if Path(path).suffix.lower() == ".svg":
        write_atomically(path, svg(look, size, font, dots_per_inch))
        return
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    # QImage.save takes the format as text in one version of the binding and as bytes in another.
    QImageWriter(buffer, QByteArray(b"png")).write(picture(look, size, font))
    write_atomically(path, bytes(buffer.data().data()))


def _paint(painter: QPainter, look: Look, size: QSize, font: QFont) -> None:
    look = replace(look, selected=None, hovered=None, on_paper=True)
    whole = QSizeF(size)
    paint(painter, whole, look, frames_for(whole, extents(look.plan), font), LIGHT, font)
