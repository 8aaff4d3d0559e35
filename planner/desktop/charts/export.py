"""A chart as a file or on the clipboard: pictures on light paper, numbers with their units."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import (
    QBuffer,
    QCoreApplication,
    QIODevice,
    QLocale,
    QMarginsF,
    QRect,
    QRectF,
    QSaveFile,
    QSize,
    QSizeF,
    Qt,
)
from PySide6.QtGui import (
    QFontMetricsF,
    QGuiApplication,
    QImage,
    QImageWriter,
    QPageSize,
    QPainter,
    QPdfWriter,
)
from PySide6.QtSvg import QSvgGenerator

from planner.desktop.charts.keys import keys_height, paint_keys
from planner.desktop.charts.table import to_csv, to_tsv
from planner.desktop.theme import LIGHT, headline_font, small_font

if TYPE_CHECKING:
    from planner.desktop.charts.base import Chart

__all__ = [
    "ExportError",
    "Kind",
    "copy_numbers",
    "copy_picture",
    "encoded",
    "file_name",
    "kind_for",
    "kinds_by_filter",
    "picture",
    "save",
]

PICTURE_SCALE = 2
MARGIN_PX = 12.0
POINTS_PER_INCH = 72.0


class ExportError(Exception):
    """A chart could not be saved; the message says where, why, and what to do."""


class Kind(Enum):
    """What a chart can be saved as."""

    PNG = "png"
    SVG = "svg"
    PDF = "pdf"
    CSV = "csv"
    CSV_COMMA = "csv;"

    @property
    def suffix(self) -> str:
        """The end of the file's name."""
        return self.value.rstrip(";")


def kinds_by_filter() -> dict[str, Kind]:
    """Every kind under the words that a file dialog shows for it."""
    translate = QCoreApplication.translate
    return {
        translate("Export", "PNG picture (*.png)"): Kind.PNG,
        translate("Export", "SVG drawing (*.svg)"): Kind.SVG,
        translate("Export", "PDF page (*.pdf)"): Kind.PDF,
        translate("Export", "CSV table, decimal points (*.csv)"): Kind.CSV,
        translate("Export", "CSV table, decimal commas and semicolons (*.csv)"): Kind.CSV_COMMA,
    }


def kind_for(path: str, chosen_filter: str) -> Kind:
    """Tell the kind by the dialog's filter, or by the file's own suffix where that says another."""
    chosen = kinds_by_filter().get(chosen_filter, Kind.PNG)
    suffix = Path(path).suffix.lower().lstrip(".")
    named = next((kind for kind in Kind if kind.suffix == suffix), chosen)
    return chosen if chosen.suffix == named.suffix else named


def file_name(chart: "Chart") -> str:
    """Suggest a file's name, without suffix, that every system takes."""
    return re.sub(r"[^\w\- ]", "", str(chart.accessibleName())).strip() or "chart"


def save(chart: "Chart", path: str | Path, kind: Kind) -> None:
    """Save a chart whole or not at all; raises ExportError where that cannot be done."""
    if not chart.has_data:
        raise ExportError(QCoreApplication.translate("Export", "There is nothing to save yet."))
    data = encoded(chart, kind)
    file = QSaveFile(str(path))
    opened = file.open(QIODevice.OpenModeFlag.WriteOnly)
    if not (opened and file.write(data) == len(data) and file.commit()):
        template = QCoreApplication.translate(
            "Export",
            "The chart could not be saved as {path}: {reason}. Choose a folder that you may write to.",
        )
        raise ExportError(template.format(path=path, reason=file.errorString()))


def encoded(chart: "Chart", kind: Kind) -> bytes:
    """Write a chart as the bytes of a file."""
    if kind in (Kind.CSV, Kind.CSV_COMMA):
        return to_csv(chart.table(), decimal_comma=kind is Kind.CSV_COMMA).encode()
    if kind is Kind.PNG:
        return _buffered(lambda buffer: QImageWriter(buffer, b"PNG").write(picture(chart)))
    paint = _paint_svg if kind is Kind.SVG else _paint_pdf
    return _buffered(lambda buffer: paint(chart, buffer))


def copy_picture(chart: "Chart") -> None:
    """Put a chart on the clipboard as a picture."""
    if chart.has_data:
        QGuiApplication.clipboard().setImage(picture(chart))


def copy_numbers(chart: "Chart") -> None:
    """Put the numbers behind a chart on the clipboard, for a spreadsheet of the reader's own locale."""
    if chart.has_data:
        QGuiApplication.clipboard().setText(to_tsv(chart.table(), QLocale.system().decimalPoint()))


def picture(chart: "Chart") -> QImage:
    """Paint a chart on light paper at twice its size on the screen."""
    with _on_paper(chart, PICTURE_SCALE) as size:
        image = QImage(size * PICTURE_SCALE, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(PICTURE_SCALE)
        with QPainter(image) as painter:
            _paint_sheet(chart, painter, size)
    return image


def _paint_svg(chart: "Chart", buffer: QBuffer) -> None:
    with _on_paper(chart) as size:
        drawing = QSvgGenerator()
        drawing.setOutputDevice(buffer)
        drawing.setResolution(chart.logicalDpiX())
        drawing.setSize(size)
        drawing.setViewBox(QRect(0, 0, size.width(), size.height()))
        drawing.setTitle(chart.headline())
        drawing.setDescription(chart.summary())
        with QPainter(drawing) as painter:
            _paint_sheet(chart, painter, size)


def _paint_pdf(chart: "Chart", buffer: QBuffer) -> None:
    with _on_paper(chart) as size:
        page = QPdfWriter(buffer)
        # At any other resolution the text would not be the size that its places were reckoned for.
        page.setResolution(chart.logicalDpiX())
        points = QSizeF(size) * (POINTS_PER_INCH / chart.logicalDpiX())
        page.setPageSize(QPageSize(points, QPageSize.Unit.Point, "", QPageSize.SizeMatchPolicy.ExactMatch))
        page.setPageMargins(QMarginsF())
        page.setTitle(chart.headline())
        page.setCreator(QCoreApplication.applicationName())
        with QPainter(page) as painter:
            _paint_sheet(chart, painter, size)


@contextmanager
def _on_paper(chart: "Chart", line_scale: float = 1.0) -> Iterator[QSize]:
    """Dress a chart for paper, with what stands above it; gives the size of the whole sheet."""
    chart.settle()
    with chart.on_paper(line_scale):
        whole = chart.viewport().size()
        yield QSize(whole.width(), whole.height() + round(_head_px(chart, whole.width())))


def _head_px(chart: "Chart", width: float) -> float:
    metrics = QFontMetricsF(small_font(chart.font()))
    keys_px = keys_height(chart.key_entries(), width - 2.0 * MARGIN_PX, metrics)
    return MARGIN_PX + _headline_rect(chart, width).height() + 4.0 + keys_px


def _headline_rect(chart: "Chart", width: float) -> QRectF:
    room = QRectF(MARGIN_PX, MARGIN_PX, width - 2.0 * MARGIN_PX, 1000.0)
    return QFontMetricsF(headline_font(chart.font())).boundingRect(
        room, Qt.TextFlag.TextWordWrap, chart.headline()
    )


def _paint_sheet(chart: "Chart", painter: QPainter, size: QSize) -> None:
    painter.fillRect(QRectF(0.0, 0.0, size.width(), size.height()), LIGHT.pick("surface"))
    head_px = _head_px(chart, size.width())
    rect = _headline_rect(chart, size.width())
    painter.setFont(headline_font(chart.font()))
    painter.setPen(LIGHT.pick("ink"))
    painter.drawText(rect.adjusted(0.0, 0.0, 2.0, 0.0), Qt.TextFlag.TextWordWrap, chart.headline())
    painter.setFont(small_font(chart.font()))
    keys_rect = QRectF(
        MARGIN_PX, rect.bottom() + 4.0, size.width() - 2.0 * MARGIN_PX, head_px - rect.bottom() - 4.0
    )
    paint_keys(painter, keys_rect, chart.key_entries(), LIGHT)
    view = chart.viewport().rect()
    chart.render(painter, QRectF(0.0, head_px, view.width(), view.height()), view)


def _buffered(write: Callable[[QBuffer], object]) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    write(buffer)
    return bytes(buffer.data().data())
