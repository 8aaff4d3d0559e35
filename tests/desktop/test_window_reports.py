"""The report from the window: as a PDF, printed, previewed; what is said when it cannot be."""

import re

import pytest
from PySide6.QtPrintSupport import QPrinter, QPrintPreviewWidget
from PySide6.QtWidgets import QApplication

from planner.desktop.settings import settings
from planner.desktop.window import reports
from planner.desktop.window.dialogs import TextDialog
from planner.desktop.window.preview import Preview
from planner.plan.units import Preference
from planner.report.maker import Maker

LENGTH = ("room", "length_m")


def shows(window, kind):
    return [one for one in window.findChildren(kind) if one.isVisible()]


def pages(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


@pytest.fixture
def file(window, tmp_path, monkeypatch):
    """Where the report is to go, as if a person had chosen it."""
    path = tmp_path / "report.pdf"
    asked = []

    def choose(suggestion, kind):
        asked.append(suggestion)
        return path

    monkeypatch.setattr(window.questions, "file_to_export", choose)
    yield path
    assert [one.name for one in asked] == ["sample_room_report.pdf"]


def test_that_the_report_is_written_as_a_pdf_while_the_window_lives(qtbot, window, file):
    settings().maker = Maker("Horn works")
    with qtbot.waitSignal(window.reports.finished, timeout=20000):
        window.menus.actions["export_report"].trigger()
        assert window.busy.isVisible()
        assert not file.exists()
    assert not window.busy.isVisible()
    assert file.read_bytes().startswith(b"%PDF-")
    assert pages(file.read_bytes()) >= 2


def test_that_a_report_that_is_given_up_is_not_written(qtbot, window, file):
    window.menus.actions["export_report"].trigger()
    window.busy.cancel_button.click()
    assert not window.busy.isVisible()
    qtbot.waitUntil(lambda: not window.reports._background._look.isActive(), timeout=20000)
    assert not file.exists()


def test_that_a_file_that_cannot_be_written_is_told(qtbot, window, monkeypatch, tmp_path):
    monkeypatch.setattr(window.questions, "file_to_export", lambda *_: tmp_path / "no folder" / "report.pdf")
    window.menus.actions["export_report"].trigger()
    qtbot.waitUntil(lambda: shows(window, TextDialog) != [], timeout=20000)
    (dialog,) = shows(window, TextDialog)
    assert "report.pdf" in dialog.heading.text()
    dialog.close()


def test_that_a_plan_without_an_answer_lists_what_to_mend_and_asks_nothing(window, monkeypatch):
    monkeypatch.setattr(window.questions, "file_to_export", lambda *_: pytest.fail("asked where"))
    window.document.edit(LENGTH, 3.0, "Change length")
    for command in ("export_report", "print", "preview"):
        window.menus.actions[command].trigger()
        (dialog,) = shows(window, TextDialog)
        assert "Sofa" in dialog.text.toPlainText() or "seats[0]" in dialog.text.toPlainText()
        dialog.close()
        QApplication.processEvents()


# A printer that writes to a file stands in for one with paper.
def test_that_the_report_is_printed_on_the_printer_that_is_chosen(qtbot, window, monkeypatch, tmp_path):
    paper = tmp_path / "printed.pdf"

    def choose(printer):
        assert printer.docName() == "Sample room"
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(paper))
        return printer

    monkeypatch.setattr(window.questions, "printer", choose)
    with qtbot.waitSignal(window.reports.finished, timeout=20000):
        window.menus.actions["print"].trigger()
    assert pages(paper.read_bytes()) >= 2


def test_that_printing_may_be_given_up_at_the_choice_of_a_printer(qtbot, window, monkeypatch):
    asked = []
    monkeypatch.setattr(window.questions, "printer", asked.append)
    window.menus.actions["print"].trigger()
    qtbot.waitUntil(lambda: asked != [], timeout=20000)
    assert not window.busy.isVisible()


def test_that_the_preview_shows_every_page_before_it_is_printed(qtbot, window):
    window.menus.actions["preview"].trigger()
    qtbot.waitUntil(lambda: shows(window, Preview) != [], timeout=20000)
    (preview,) = shows(window, Preview)
    assert preview.windowTitle() == "Report: Sample room"
    pane = preview.findChild(QPrintPreviewWidget)
    qtbot.waitUntil(lambda: pane.pageCount() >= 2)
    with qtbot.waitSignal(window.reports.finished):
        preview.reject()


@pytest.mark.parametrize("letter", [True, False])
def test_that_the_paper_is_the_one_that_is_usual_here(qtbot, window, file, monkeypatch, letter):
    monkeypatch.setattr(reports, "_is_letter", lambda: letter)
    settings().units = Preference.US
    with qtbot.waitSignal(window.reports.finished, timeout=20000):
        window.menus.actions["export_report"].trigger()
    width = float(re.search(rb"/MediaBox \[\s*0 0 ([\d.]+)", file.read_bytes())[1])
    # Letter is 8.5 in wide (ANSI/ASME Y14.1), A4 210 mm (ISO 216), in points of 1/72 in.
    assert width == pytest.approx(612.0 if letter else 595.3, abs=1.0)
