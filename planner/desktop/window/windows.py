"""All windows of the running program: one document, one window."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import shiboken6
from PySide6.QtCore import QCoreApplication, QObject
from PySide6.QtWidgets import QApplication

from planner.desktop.document import PlanDocument
from planner.desktop.window.panels import PANELS, Factory
from planner.plan import Plan

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Windows", "windows"]


class Windows(QObject):
    """Makes windows and holds them, each with its document, until they are closed."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.panels: Mapping[str, Factory] = PANELS
        self._open: list[tuple[MainWindow, PlanDocument]] = []

    @property
    def all(self) -> list[MainWindow]:
        """Every open window, the oldest first."""
        return [window for window, _ in self._open if shiboken6.isValid(window) and window.isVisible()]

    def show(self, plan: Plan, path: Path | None = None) -> MainWindow:
        """Show a plan in a window of its own."""
        from planner.desktop.window.main import MainWindow

        document = PlanDocument(plan, self)
        window = MainWindow(document, self.panels)
        self._open.append((window, document))
        window.destroyed.connect(self._forget)
        window.files.belong_to(path)
        window.take_place(len(self.all))
        window.show()
        return window

    def showing(self, file: Path) -> MainWindow | None:
        """The window that shows this file, if there is one."""
        wanted = file.resolve()
        return next((window for window in self.all if window.files.path == wanted), None)

    def active(self) -> MainWindow | None:
        """The window that is worked in, or else the newest."""
        front = QApplication.activeWindow()
        return next((window for window in self.all if window is front), self.all[-1] if self.all else None)

    def open_file(self, file: Path) -> None:
        """Open a file as if it were dropped on the window that is worked in."""
        window = self.active()
        if window is not None:
            window.files.open_file(file)

    def _forget(self) -> None:
        """Let go of the windows that are gone; their documents go after them, never before."""
        held, self._open = self._open, []
        for window, document in held:
            if shiboken6.isValid(window):
                self._open.append((window, document))
            else:
                document.deleteLater()


def windows() -> Windows:
    """The windows of the running application."""
    application = QCoreApplication.instance()
    assert application is not None, "windows belong to a running application"
    found = application.findChild(Windows)
    return found if found is not None else Windows(application)
