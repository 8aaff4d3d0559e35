"""Garbage is collected from the event loop, never within a call into Qt."""

import gc

from PySide6.QtCore import QObject

from planner.desktop.collector import Collector


class Ring:
    """Something only the collector can free."""

    def __init__(self, freed):
        self.me, self.freed = self, freed

    def __del__(self):
        self.freed.append(True)


def test_that_cycles_are_freed_from_the_event_loop_and_not_before(qtbot):
    parent = QObject()
    collector = Collector(parent)
    try:
        gc.collect()
        freed = []
        Ring(freed)
        kept = [[] for _ in range(5000)]  # far beyond Python's first threshold
        assert len(kept) == 5000 and freed == []
        qtbot.waitUntil(lambda: bool(freed), timeout=5000)
    finally:
        collector.end()
    assert gc.isenabled()
    gc.disable()
