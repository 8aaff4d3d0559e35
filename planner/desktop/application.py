"""The running program with its windows: started with or without a plan file."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QLocale, QObject
from PySide6.QtGui import QFileOpenEvent
from PySide6.QtWidgets import QApplication

from planner import __version__
from planner.desktop.collector import Collector
from planner.desktop.settings import settings
from planner.desktop.theme import Scheme, apply
from planner.desktop.window.incidents import Incidents
from planner.desktop.window.main import MainWindow
from planner.desktop.window.mark import program_icon
from planner.desktop.window.menus import example_files
from planner.desktop.window.recovery import left_behind
from planner.desktop.window.windows import Windows, windows
from planner.plan import Plan, PlanError, load
from planner.plan.presets import preset
from planner.report import language

__all__ = ["Program", "run"]

FIRST_ROOM = "map_room"


def run(plan_path: str | None) -> int:
    """Show the window with a plan, or with a sample room, until the last window is closed.

    A plan that cannot be opened is told in the window, with every fault.
    """
    application = QApplication.instance() or Application(sys.argv[:1])
    assert isinstance(application, QApplication)
    program = Program(application)
    program.begin(plan_path)
    try:
        return application.exec()
    finally:
        program.end()


class Application(QApplication):
    """Takes the files that macOS hands over when they are opened from outside."""

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QFileOpenEvent) and event.file():
            windows().open_file(Path(event.file()))
            return True
        return bool(super().event(event))


class Program(QObject):
    """What all windows share: theme, language, and what happens to faults."""

    def __init__(self, application: QApplication) -> None:
        super().__init__(application)
        self._application = application
        application.setApplicationName("fewwatts")
        application.setApplicationDisplayName("Few Watts")
        application.setApplicationVersion(__version__)
        application.setDesktopFileName("fewwatts")
        application.setWindowIcon(program_icon())
        # One decimal mark on every face of the program, that of its files; both are read.
        QLocale.setDefault(QLocale.c())
        self.incidents = Incidents(self)
        self._collector = Collector(self)
        self.windows: Windows = windows()

    def begin(self, plan_path: str | None) -> MainWindow:
        """Dress the program, watch for faults, and show the first window."""
        self.incidents.install()
        self.incidents.happened.connect(self._show_trouble)
        language.install(_translated)
        settings().scheme_changed.connect(self._dress)
        self._dress()
        window = self._first_window(plan_path)
        window.recovery_notice.ask(left_behind())
        return window

    def _first_window(self, plan_path: str | None) -> MainWindow:
        if plan_path is None:
            window = self.windows.show(first_plan())
            window.start_here.greet()
            return window
        try:
            return self.windows.show(load(plan_path), Path(plan_path))
        except PlanError as error:
            window = self.windows.show(first_plan())
            window.files.tell_unreadable(Path(plan_path), error)
            return window

    def end(self) -> None:
        """Leave the process as it was."""
        language.install(str)
        self.incidents.uninstall()
        self._collector.end()

    def _dress(self) -> None:
        apply(self._application, Scheme(settings().scheme))

    def _show_trouble(self, summary: str, details: str) -> None:
        window = self.windows.active()
        if window is not None:
            window.trouble.tell(summary, details)


def first_plan() -> Plan:
    """The sample room to begin with; a typical room, should the samples be missing."""
    samples = {file.stem: file for file in example_files()}
    first = samples.get(FIRST_ROOM) or next(iter(samples.values()), None)
    return load(first) if first is not None else preset("living_room").plan()


def _translated(text: str) -> str:
    return QCoreApplication.translate("Report", text)
