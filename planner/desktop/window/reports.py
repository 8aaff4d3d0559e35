"""The report of a window's plan: as a PDF, on paper, and on the screen before it is printed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QLocale, QObject, Signal

from planner.desktop.settings import settings
from planner.plan import Plan, cross_checks
from planner.plan.storage import write_atomically

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from planner.desktop.background import Progress
    from planner.desktop.window.main import MainWindow
    from planner.report.gather import Case
    from planner.report.printing import Wishes

__all__ = ["Reports"]

Cases = tuple["Case", ...]


class Reports(QObject):
    """Tells of the plan as it now stands, saved or not.

    What the report says is worked out beside the window, which shows a strip with a button to cancel;
    ``finished`` tells that a report is written, printed or closed.
    """

    finished = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._background: Any = None
        self._then: Callable[[Any], None] | None = None

    def as_pdf(self) -> None:
        """Write the report to a file that a person chooses."""
        plan, window = self._plan(), self._window
        if plan is None:
            return
        kind = self.tr("PDF (*.pdf)")
        file = window.questions.file_to_export(window.files.suggestion(self.tr("report"), ".pdf"), kind)
        if file is not None:
            self._begin(partial(_pdf, plan, _is_letter(), _wishes()), partial(self._write, file))

    def print(self) -> None:
        """Print the report on a printer that a person chooses."""
        plan = self._plan()
        if plan is not None:
            self._begin(partial(_gathered, plan), self._ask_printer)

    def preview(self) -> None:
        """Show the report as it would be printed."""
        plan = self._plan()
        if plan is not None:
            self._begin(partial(_gathered, plan), self._show_preview)

    def cancel(self) -> None:
        """Want no report any more."""
        self._then = None
        if self._background is not None:
            self._background.drop()
        self._window.busy.hide()

    def _plan(self) -> Plan | None:
        """The plan to be told of, or None if it has no answer, which is then said."""
        self._window.files.finish_typing()
        plan = self._window.document.plan
        if findings := cross_checks(plan):
            self._window.tell_findings(self.tr("There is no answer to report yet."), findings)
            return None
        return plan

    def _begin(self, work: Callable[[Progress], object], then: Callable[[Any], None]) -> None:
        from planner.desktop.background import Background

        if self._background is None:
            self._background = Background(self)
            self._background.done.connect(self._take)
        self._then = then
        self._window.busy.say(self.tr("The report is being worked out."))
        self._background.ask(work)

    def _take(self) -> None:
        then, self._then = self._then, None
        self._window.busy.hide()
        if then is not None and self._background.result is not None:
            then(self._background.result)

    def _write(self, file: Path, pdf: bytes) -> None:
        try:
            write_atomically(file, pdf)
        except OSError as error:
            self._tell_fault(self.tr("“{0}” cannot be written.").format(file.name), error)
        else:
            self.finished.emit()

    def _ask_printer(self, cases: Cases) -> None:
        from planner.report.printing import paint_report

        printer = self._window.questions.printer(_printer(cases))
        if printer is None:
            return
        try:
            paint_report(printer, cases, _wishes())
        except OSError as error:
            self._tell_fault(self.tr("The report cannot be printed."), error)
        self.finished.emit()

    def _show_preview(self, cases: Cases) -> None:
        from planner.desktop.window.preview import Preview

        preview = Preview(_printer(cases), cases, _wishes(), self._window)
        preview.finished.connect(self.finished)
        preview.open()

    def _tell_fault(self, heading: str, error: OSError) -> None:
        self._window.tell(heading, error.strerror or str(error))


def _gathered(plan: Plan, progress: Progress) -> object:
    from planner.report.gather import gather

    return gather(plan)


def _pdf(plan: Plan, letter: bool, wishes: Wishes, progress: Progress) -> object:
    from planner.report.gather import gather
    from planner.report.pages.paper import A4, LETTER
    from planner.report.printing import pdf_bytes

    cases = gather(plan)
    return pdf_bytes(cases, LETTER if letter else A4, wishes) if progress(0.5) else None


def _wishes() -> Wishes:
    from planner.report.printing import Wishes

    return Wishes(settings().units, settings().maker)


def _is_letter() -> bool:
    """Whether paper is Letter where this program runs; A4 elsewhere."""
    return QLocale.system().measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem


def _printer(cases: Cases) -> QPrinter:
    """The default printer, with the paper that is usual here and the plan's title."""
    from PySide6.QtGui import QPageSize
    from PySide6.QtPrintSupport import QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    letter = QPageSize.PageSizeId.Letter if _is_letter() else QPageSize.PageSizeId.A4
    printer.setPageSize(QPageSize(letter))
    printer.setDocName(cases[0].plan.title)
    return printer
