"""The report on anything that has pages: a PDF, a printer, a preview."""

from __future__ import annotations

import re
from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QPagedPaintDevice, QPageLayout, QPageSize, QPainter, QPdfWriter

from planner import __version__
from planner.report.content.whole import whole_report
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.pages.paper import A4, Paper
from planner.report.pages.sheets import Sheets, sheets_of
from planner.report.wishes import Wishes

__all__ = ["paint_report", "pdf_bytes", "report_sheets"]

DOTS_PER_INCH = 1200
"""Of a PDF, so that neither screen nor scaling changes a page."""
POINTS_PER_INCH = 72.0
_LETTERS = re.compile(rb"\[(?:<[0-9A-F]{4}> ?)+\]\s+endbfrange")
_TAB, _SPACE = b"<0009>", b"<0020>"


def report_sheets(cases: Sequence[Case], paper: Paper, wishes: Wishes) -> Sheets:
    """The report set on paper of a size, ready to be painted."""
    blocks = whole_report(cases, wishes.preference, wishes.on, prices=wishes.prices)
    return sheets_of(blocks, paper, cases[0].plan.title, wishes.maker, wishes.on)


def pdf_bytes(cases: Sequence[Case], paper: Paper = A4, wishes: Wishes | None = None) -> bytes:
    """The report as a PDF: vectors, embedded fonts, text that can be searched and copied."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DOTS_PER_INCH)
    size = QSizeF(paper.width, paper.height)
    writer.setPageSize(QPageSize(size, QPageSize.Unit.Point, "", QPageSize.SizeMatchPolicy.FuzzyMatch))
    writer.setPageMargins(QMarginsF())
    writer.setTitle(cases[0].plan.title)
    writer.setCreator(tr("Few Watts {version}", version=__version__))
    paint_report(writer, cases, wishes or Wishes())
    return _with_spaces(bytes(buffer.data().data()))


def _with_spaces(pdf: bytes) -> bytes:
    """The PDF with spaces for what Qt takes for tabs, which share their glyph, where it names its letters."""
    return _LETTERS.sub(lambda found: found[0].replace(_TAB, _SPACE), pdf)


def paint_report(device: QPagedPaintDevice, cases: Sequence[Case], wishes: Wishes) -> None:
    """Paint the report on a device, on the paper that it has and in the range of pages that it asks for.

    Raises
    ------
    OSError
        If the device takes no page, such as a printer that has gone.
    """
    layout = device.pageLayout()
    full = layout.fullRect(QPageLayout.Unit.Point)
    sheets = report_sheets(cases, Paper(full.width(), full.height()), wishes)
    asked = device.pageRanges()
    numbers = [
        number for number in range(1, len(sheets.pages) + 1) if asked.isEmpty() or asked.contains(number)
    ]
    painter = QPainter()
    if not painter.begin(device):
        raise OSError(tr("the printer takes no page"))
    with painter:
        for position, number in enumerate(numbers):
            if position and not device.newPage():
                raise OSError(tr("the printer takes no further page"))
            _paint_page(painter, device, sheets, number)


def _paint_page(painter: QPainter, device: QPagedPaintDevice, sheets: Sheets, number: int) -> None:
    """A page from the corner of the paper, wherever the device begins to count."""
    layout = device.pageLayout()
    painter.save()
    if layout.mode() is QPageLayout.Mode.StandardMode:
        painter.translate(-layout.paintRectPixels(device.logicalDpiX()).topLeft())
    scale = device.logicalDpiX() / POINTS_PER_INCH
    painter.scale(scale, scale)
    sheets.paint(painter, number)
    painter.restore()
