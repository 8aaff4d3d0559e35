"""Charts that cost more than most: drawn a little after they are told to, and then only the last of many."""

from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.scales import Scale
from planner.desktop.charts.seat_panel import SeatChart

__all__ = ["LaterChart"]


class LaterChart(SeatChart):
    """Draws `wait_ms` after the first of several views; with 0 in the next turn of the event loop.

    So whatever else waits for the same answer is painted first.
    """

    wait_ms = 0

    def __init__(self, name: str, x: Scale, y: Scale, parent: QWidget | None = None) -> None:
        super().__init__(name, x, y, parent)
        self._next: Any = None
        self._soon = QTimer(self, singleShot=True, interval=self.wait_ms)
        self._soon.timeout.connect(self.show_next)

    def show_data(self, view: Any) -> None:
        self._next = view
        if view is None or not self.has_data or not self.isVisible():
            self.show_next()
        elif not self._soon.isActive():
            self._soon.start()

    def show_next(self) -> None:
        """Show now what waits to be shown."""
        self._soon.stop()
        super().show_data(self._next)

    def settle(self) -> None:
        if self._soon.isActive():
            self.show_next()
        super().settle()
