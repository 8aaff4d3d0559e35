"""The report on the screen as it would be printed."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtPrintSupport import QPrinter, QPrintPreviewDialog
from PySide6.QtWidgets import QWidget

from planner.report.gather import Case
from planner.report.printing import Wishes, paint_report

__all__ = ["Preview"]

WIDE_CHARS, TALL_LINES = 150, 52


class Preview(QPrintPreviewDialog):
    """Shows every page, and can print them."""

    def __init__(self, printer: QPrinter, cases: tuple[Case, ...], wishes: Wishes, parent: QWidget) -> None:
        super().__init__(printer, parent)
        # Qt's dialog only borrows the printer.
        self._paper = printer
        self._cases, self._wishes = cases, wishes
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Report: {0}").format(cases[0].plan.title))
        self.paintRequested.connect(self._paint)
        self.resize(self.sizeHint())

    def sizeHint(self) -> QSize:
        size = QFontMetricsF(self.font())
        return QSize(round(WIDE_CHARS * size.averageCharWidth()), round(TALL_LINES * size.lineSpacing()))

    def _paint(self, printer: QPrinter) -> None:
        paint_report(printer, self._cases, self._wishes)
