"""``fewwatts report``: a plan in, a PDF out, or its figures as a table or as pictures; and an exit status.

Qt is loaded only once this machine is known to have what Qt needs.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from planner.plan import PlanError
from planner.plan.units import Preference
from planner.platform_check import apt_line, missing
from planner.report.answers import CLEAR, UNUSABLE, deliver, read_plan, replace_file
from planner.report.csv_tables import csv_text
from planner.report.gather import Case, gather
from planner.report.maker import Maker, kept_maker
from planner.report.wishes import Wishes

if TYPE_CHECKING:
    from PySide6.QtGui import QGuiApplication

__all__ = ["LACKING", "report"]

LACKING = 3
FONT_PACKAGE = "fonts-dejavu-core"


def report(
    path: str,
    output: str | None,
    *,
    paper: Literal["a4", "letter"] = "a4",
    units: Literal["metric", "us"] = "metric",
    as_csv: bool = False,
    figures: str | None = None,
    maker: Maker | None = None,
    prices: bool = False,
) -> int:
    """Report on a plan file, or on standard input for ``-``.

    Parameters
    ----------
    path : str
        The plan file.
    output : str, optional
        The PDF to write, or with `as_csv` the table, which is printed without it.
    paper, units : str
        Size of the paper; units beside those of the figures.
    as_csv : bool
        Write the figures as a table in place of the PDF.
    figures : str, optional
        A folder for every chart as PNG and SVG.
    maker : Maker, optional
        Who hands it out; without it the one of the preferences.
    prices : bool
        Tell what the candidates cost.

    Returns
    -------
    int
        0; 2 if the plan cannot be used or a file not be written; 3 if this machine lacks something.
    """
    if output is None and not as_csv and figures is None:
        return _fault(f"{path}: say where the report is to go, such as -o report.pdf", UNUSABLE)
    try:
        cases = gather(read_plan(path))
    except PlanError as error:
        return _fault("\n".join(str(finding) for finding in error.in_file(path).findings), UNUSABLE)
    status = deliver(csv_text(cases), output) if as_csv else CLEAR
    if as_csv and figures is None:
        return status
    if lack := _lack():
        return _fault(lack, LACKING)
    preference = Preference(units)
    if output is not None and not as_csv:
        wishes = Wishes(preference, _told_of_mark(maker or _preferred_maker()), prices=prices)
        status = _save_pdf(cases, output, paper, wishes)
    return max(status, CLEAR if figures is None else _save_figures(cases, Path(figures), preference))


def _lack() -> str:
    """What this machine lacks for painting, in a line or two; empty if nothing, and Qt then runs."""
    if lacking := missing(need_window=False):
        libraries = ", ".join(soname for soname, _ in lacking)
        return f"No report without {libraries}; install with:\n  {apt_line(lacking)}"
    _application()
    from planner.report.pages.typeface import has_fonts

    if has_fonts():
        return ""
    return f"No report without a font; install one with:\n  {apt_line([('a font', FONT_PACKAGE)])}"


def _save_pdf(cases: Sequence[Case], output: str, paper: str, wishes: Wishes) -> int:
    from planner.report.pages.paper import PAPERS
    from planner.report.printing import pdf_bytes

    return replace_file(output, pdf_bytes(cases, PAPERS[paper], wishes))


@cache
def _application() -> QGuiApplication:
    """Qt without a screen, kept as long as the process runs; only offscreen needs no display on Linux."""
    from PySide6.QtGui import QGuiApplication

    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    return QGuiApplication(["fewwatts", *(["-platform", "offscreen"] if sys.platform == "linux" else [])])


def _preferred_maker() -> Maker:
    """The maker that the window's preferences name."""
    from platformdirs import user_config_path
    from PySide6.QtCore import QSettings

    file = user_config_path("fewwatts") / "fewwatts.ini"
    return kept_maker(QSettings(str(file), QSettings.Format.IniFormat).value)


def _told_of_mark(maker: Maker) -> Maker:
    """The maker, with a word on standard error where the mark cannot be read; the report does without."""
    from planner.report.pages.letterhead import mark_of

    if maker.mark_file and mark_of(maker.mark_file) is None:
        text = f"{maker.mark_file}: no picture that can be read, so the report bears no mark"
        print(text, file=sys.stderr)
    return maker


def _save_figures(cases: Sequence[Case], folder: Path, preference: Preference) -> int:
    """Every chart as PNG and SVG."""
    from planner.report.figures.all import charts_of
    from planner.report.figures.picture import png, svg

    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        return _fault(f"{folder}: cannot be made; {error.strerror or error}", UNUSABLE)
    for stem, chart in charts_of(cases, preference):
        for suffix, paint in ((".png", png), (".svg", svg)):
            if status := replace_file(str(folder / f"{stem}{suffix}"), paint(chart)):
                return status
    return CLEAR


def _fault(text: str, status: int) -> int:
    print(text, file=sys.stderr)
    return status
