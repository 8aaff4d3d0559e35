"""Python's cyclic garbage, collected only where no call into Qt is under way."""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

__all__ = ["Collector", "collect_due"]

LOOK_MS = 100


class Collector(QObject):
    """Switches automatic collection off and collects from the event loop instead.

    Qt holds a lock while it connects and disconnects. A collection that starts there, because Python
    happens to allocate, may destroy a widget that lies in a reference cycle, and its destructor waits
    for the same lock for ever: the window hangs. From the event loop no such lock is held.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._look = QTimer(self, interval=LOOK_MS)
        self._look.timeout.connect(collect_due)
        self._look.start()

    def end(self) -> None:
        """Leave collecting to Python again."""
        self._look.stop()
        gc.enable()


def collect_due() -> None:
    """Collect the oldest generation whose time has come by Python's own thresholds, if any."""
    counts, thresholds = gc.get_count(), gc.get_threshold()
    due = [generation for generation in range(3) if counts[generation] > thresholds[generation] > 0]
    if due:
        gc.collect(max(due))
