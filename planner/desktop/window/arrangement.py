"""How the docks of a look are arranged until a person moves them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDockWidget, QMainWindow

__all__ = ["WIDE_PX", "arrange", "editors_width"]

WIDE_PX = 1600
"""From this width on, panels stand side by side; below it all but the first share one place."""

EDITORS_CHARS, COLUMN_CHARS = 52, 60
BOTTOM_SHARE = 0.385
FIRST_SHARE, FIRST_SHARE_WIDE = 0.46, 0.38

Area = Qt.DockWidgetArea
ACROSS, DOWN = Qt.Orientation.Horizontal, Qt.Orientation.Vertical
Docks = Sequence[QDockWidget]


def arrange(window: QMainWindow, shown: Docks, others: Docks, room_px: int, *, wide: bool) -> None:
    """Place the docks *shown*, the first apart; the *others* are hidden behind them as tabs.

    A wide window has the first one at the right of the middle and the rest in a row below, the last of
    them sharing a place where the row is too short; a narrow one has the first one below at the left and
    the rest beside it, sharing one place. *room_px* is how wide the window is beside the editors.
    """
    for dock in (*shown, *others):
        dock.setFloating(False)
        window.removeDockWidget(dock)
    if not shown:
        return
    first, *rest = shown
    columns = max(1, room_px // (window.fontMetrics().averageCharWidth() * COLUMN_CHARS)) if wide else 1
    row, sharing = rest[:columns], rest[columns:]
    window.addDockWidget(Area.RightDockWidgetArea if wide else Area.BottomDockWidgetArea, first)
    if row and wide:
        window.addDockWidget(Area.BottomDockWidgetArea, row[0])
    elif row:
        window.splitDockWidget(first, row[0], ACROSS)
    for left, right in pairwise(row):
        window.splitDockWidget(left, right, ACROSS)
    for dock in sharing:
        window.tabifyDockWidget(row[-1], dock)
    for dock in others:
        window.tabifyDockWidget(shown[-1], dock)
        dock.hide()
    for dock in shown:
        dock.show()
    (row or shown)[-1].raise_()
    _share(window, first, row, room_px, wide=wide)


def editors_width(window: QMainWindow, editors: QDockWidget) -> int:
    """How wide the editors stand by default [px]."""
    wanted = round(window.fontMetrics().averageCharWidth() * EDITORS_CHARS)
    return max(editors.sizeHint().width(), wanted)


def _share(window: QMainWindow, first: QDockWidget, row: Docks, room_px: int, *, wide: bool) -> None:
    """Give each dock its part of the window; the middle has what is left."""
    below = row[0] if row else first
    window.resizeDocks([below], [round(window.height() * BOTTOM_SHARE)], DOWN)
    if wide:
        window.resizeDocks([first], [round(room_px * FIRST_SHARE_WIDE)], ACROSS)
        if row:
            window.resizeDocks(list(row), [room_px // len(row)] * len(row), ACROSS)
    elif row:
        first_px = round(room_px * FIRST_SHARE)
        window.resizeDocks([first, row[0]], [first_px, room_px - first_px], ACROSS)
