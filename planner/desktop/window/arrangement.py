"""How the docks of a look are arranged until a person moves them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDockWidget, QMainWindow

__all__ = ["WIDE_PX", "arrange", "editors_width"]

WIDE_PX = 1600
"""From this width on, all panels stand side by side; below it all but the first share one place."""

EDITORS_CHARS = 52
BOTTOM_SHARE = 0.385
FIRST_SHARE, FIRST_SHARE_WIDE = 0.46, 0.38

Area = Qt.DockWidgetArea
ACROSS, DOWN = Qt.Orientation.Horizontal, Qt.Orientation.Vertical
Docks = Sequence[QDockWidget]


def arrange(window: QMainWindow, shown: Docks, others: Docks, room_px: int, *, wide: bool) -> None:
    """Place the docks *shown*, the first apart; the *others* are hidden behind them as tabs.

    A wide window has the first one at the right of the middle and the rest in a row below; a narrow one
    has the first one below at the left and the rest beside it, sharing one place. *room_px* is how wide
    the window is beside the editors.
    """
    for dock in (*shown, *others):
        dock.setFloating(False)
        window.removeDockWidget(dock)
    if not shown:
        return
    first, *rest = shown
    window.addDockWidget(Area.RightDockWidgetArea if wide else Area.BottomDockWidgetArea, first)
    if wide and rest:
        window.addDockWidget(Area.BottomDockWidgetArea, rest[0])
        for left, right in pairwise(rest):
            window.splitDockWidget(left, right, ACROSS)
    elif rest:
        window.splitDockWidget(first, rest[0], ACROSS)
        for dock in rest[1:]:
            window.tabifyDockWidget(rest[0], dock)
    for dock in others:
        window.tabifyDockWidget(shown[-1], dock)
        dock.hide()
    for dock in shown:
        dock.show()
    (rest or shown)[0].raise_()
    _share(window, first, rest, room_px, wide=wide)


def editors_width(window: QMainWindow, editors: QDockWidget) -> int:
    """How wide the editors stand by default [px]."""
    wanted = round(window.fontMetrics().averageCharWidth() * EDITORS_CHARS)
    return max(editors.sizeHint().width(), wanted)


def _share(window: QMainWindow, first: QDockWidget, rest: Docks, room_px: int, *, wide: bool) -> None:
    """Give each dock its part of the window; the middle has what is left."""
    below = rest[0] if rest else first
    window.resizeDocks([below], [round(window.height() * BOTTOM_SHARE)], DOWN)
    if wide:
        window.resizeDocks([first], [round(room_px * FIRST_SHARE_WIDE)], ACROSS)
        if rest:
            window.resizeDocks(list(rest), [room_px // len(rest)] * len(rest), ACROSS)
    elif rest:
        first_px = round(room_px * FIRST_SHARE)
        window.resizeDocks([first, rest[0]], [first_px, room_px - first_px], ACROSS)
