"""The answer of a window's plan written for other programs, or as text to send on."""

from __future__ import annotations

import json
import threading
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QObject, Qt, Signal

from planner import __version__
from planner.plan import Plan, PlanError, cross_checks
from planner.plan.storage import write_atomically

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Exports", "answer_text"]


class Exports(QObject):
    """Writes what ``fewwatts check`` would print for the plan as it now stands, saved or not.

    The whole answer takes some seconds where ways to clear are sought, so it is made in a thread of its
    own, of the plan as it was when it was asked for; ``written`` tells when a file is there.
    """

    written = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window

    def as_json(self) -> None:
        """Write the answer as one JSON document."""
        self._export(".json", self.tr("JSON (*.json)"))

    def as_text(self) -> None:
        """Write the answer as a table of text."""
        self._export(".txt", self.tr("Text (*.txt)"))

    def _export(self, suffix: str, kind: str) -> None:
        window, files = self._window, self._window.files
        files.finish_typing()
        plan = window.document.plan
        if findings := cross_checks(plan):
            window.tell_findings(self.tr("There is no answer to export yet."), findings)
            return
        file = window.questions.file_to_export(files.suggestion(self.tr("answer"), suffix), kind)
        if file is not None:
            task = _Task(plan, files.name, file)
            task.done.connect(self._finish)
            window.setCursor(Qt.CursorShape.BusyCursor)
            task.begin()

    def _finish(self, name: str, fault: str) -> None:
        self._window.unsetCursor()
        if fault:
            self._window.tell(self.tr("“{0}” cannot be written.").format(name), fault)
        else:
            self.written.emit()


class _Task(QObject):
    """One file being written; it belongs to the program, since the window may be closed meanwhile."""

    done = Signal(str, str)
    _made = Signal(str)

    def __init__(self, plan: Plan, name: str, file: Path) -> None:
        super().__init__(QCoreApplication.instance())
        self._plan, self._name, self._file = plan, name, file
        # The thread has this one receiver only: with a second one, the first could delete what still speaks.
        self._made.connect(self._end)

    def begin(self) -> None:
        threading.Thread(target=self._run, daemon=True).start()

    def _run(self) -> None:
        fault = ""
        try:
            write_atomically(self._file, answer_text(self._plan, self._name, self._file.suffix).encode())
        except PlanError as error:
            fault = str(error)
        except OSError as error:
            fault = error.strerror or str(error)
        self._made.emit(fault)

    def _end(self, fault: str) -> None:
        self.done.emit(self._file.name, fault)
        self.deleteLater()


def answer_text(plan: Plan, name: str, suffix: str) -> str:
    """The answer of a plan called *name*: a JSON document for ``.json``, else a table."""
    from planner.headroom.answer import answer_all
    from planner.report.document import plan_document
    from planner.report.table import plan_table

    as_json = suffix == ".json"
    answers = answer_all(plan, with_ways=as_json)
    if not as_json:
        return plan_table(name, plan, answers, colour=False)
    document = {"fewwatts": __version__, "plans": [plan_document(name, plan.title, answers)]}
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
