"""Which charts a window shows, and what can be done with the one that is looked at."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from planner.desktop.charts.base import Chart
    from planner.desktop.window.main import MainWindow

__all__ = ["Charts"]


class Charts(QObject):
    """Finds the charts of a window; the one looked at is the last that had the focus, or else the first."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._last = ""

    def visible(self) -> list[Chart]:
        """The charts in sight, in the order of the table of panels."""
        # Without a chart made, there is none to find, and its slow library need not be loaded.
        module: Any = sys.modules.get("planner.desktop.charts.base")
        if module is None:
            return []
        return [
            chart for chart in self._window.findChildren(module.Chart) if chart.isVisible() and chart.has_data
        ]

    def names(self) -> list[str]:
        """What the charts in sight are called."""
        return [chart.accessibleName() for chart in self.visible()]

    def looked_at(self) -> Chart | None:
        """The chart that a command without a name means."""
        charts = self.visible()
        return next(
            (chart for chart in charts if chart.accessibleName() == self._last), charts[0] if charts else None
        )

    def copy_picture(self) -> None:
        """Put the chart looked at on the clipboard as a picture."""
        chart = self.looked_at()
        if chart is not None:
            chart.copy_picture()

    def copy_numbers(self) -> None:
        """Put the numbers behind the chart looked at on the clipboard."""
        chart = self.looked_at()
        if chart is not None:
            chart.copy_numbers()

    def export(self, index: int) -> None:
        """Ask where to save one of the charts in sight."""
        charts = self.visible()
        if index < len(charts):
            charts[index].menu().ask_where()

    def follow(self, old: QWidget | None, new: QWidget | None) -> None:
        """Heed where the focus goes."""
        module: Any = sys.modules.get("planner.desktop.charts.base")
        if module is not None and isinstance(new, module.Chart) and self._window.isAncestorOf(new):
            self._last = new.accessibleName()
