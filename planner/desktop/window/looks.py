"""Which set of panels stands around the middle: a few looks, each as it was left."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QObject, Qt, Signal
from PySide6.QtGui import QAction, QActionGroup, QKeySequence

from planner.desktop.settings import settings
from planner.desktop.window.arrangement import WIDE_PX, arrange, editors_width
from planner.desktop.window.dock import Dock
from planner.desktop.window.panels import ALWAYS, LOOKS, TABLE, panels_of

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["STATE_VERSION", "Looks"]

# What was stored with other panels or other looks holds no longer.
STATE_VERSION = zlib.crc32(repr([(panel.name, panel.looks) for panel in TABLE]).encode()) >> 1
MOVED, WIDE, NARROW = "moved", "wide", "narrow"


@dataclass(frozen=True, slots=True)
class _Left:
    """How a look was left: where everything stood, and whether by hand or as a window of a width has it."""

    state: QByteArray
    order: str


class Looks(QObject):
    """Shows one look after the other; ``changed`` tells that another one is shown."""

    changed = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._docks = window.docks.all
        self._left: dict[str, _Left] = {}
        self._order = ""
        self._arranging = 0
        self.current = LOOKS[0].name
        self.actions = self._made_actions()
        window.docks.moved.connect(self._note_move)

    def choose(self, name: str) -> None:
        """Show another look, as it was left."""
        if name != self.current:
            self._leave()
            self.current = name
            self._enter()
            self.changed.emit()
        self.actions[name].setChecked(True)

    def reset(self) -> None:
        """Put the docks of every look where they belong by default."""
        self._left.clear()
        with self._arrangement():
            self._docks[ALWAYS].setFloating(False)
            self._docks[ALWAYS].show()
            self._place_editors()
            self._arrange(panels_of(self.current))

    def follow_width(self) -> None:
        """Arrange anew when the window becomes wide or narrow, unless a person has moved something."""
        if self._order and self._order not in (MOVED, self._width()):
            with self._arrangement():
                self._arrange(self._shown())

    def keep(self) -> None:
        """Store how every look is left."""
        self._leave()
        settings().keep("look", self.current)
        for name, left in self._left.items():
            settings().keep(f"docks_{name}", left.state)
            settings().keep(f"docks_{name}_order", left.order)

    def restore(self) -> None:
        """Show the look that was shown last, and everything where it stood, or where it belongs."""
        for look in LOOKS:
            state = settings().value(f"docks_{look.name}")
            order = settings().value(f"docks_{look.name}_order")
            if isinstance(state, QByteArray) and order in (MOVED, WIDE, NARROW):
                self._left[look.name] = _Left(state, str(order))
        stored = settings().value("look")
        self.current = stored if stored in self.actions else self.current
        self.actions[self.current].setChecked(True)
        self._place_editors()
        self._enter(with_editors=True)
        self.changed.emit()

    def _made_actions(self) -> dict[str, QAction]:
        group = QActionGroup(self)
        actions = {}
        for number, look in enumerate(LOOKS, start=1):
            action = group.addAction(look.title)
            action.setObjectName(f"look_{look.name}")
            action.setToolTip(look.tip)
            action.setCheckable(True)
            action.setShortcut(QKeySequence(f"Ctrl+{number}"))
            action.setData(look.name)
            actions[look.name] = action
        group.triggered.connect(self._take)
        return actions

    def _take(self, action: QAction) -> None:
        self.choose(action.data())

    def _leave(self) -> None:
        self._left[self.current] = _Left(self._window.saveState(STATE_VERSION), self._order)

    def _enter(self, *, with_editors: bool = False) -> None:
        """Show the current look; the editors stay as they are, unless they are part of what comes back."""
        left, editors = self._left.get(self.current), _Stand(self._window, self._docks[ALWAYS])
        with self._arrangement():
            if left is not None and self._window.restoreState(left.state, STATE_VERSION):
                self._order = left.order
                if not with_editors:
                    editors.take_again()
                if left.order not in (MOVED, self._width()):
                    self._arrange(self._shown())
            else:
                self._arrange(panels_of(self.current))

    def _shown(self) -> list[str]:
        """The panels shown now, those of the look itself first."""
        own = panels_of(self.current)
        shown = [name for name, dock in self._docks.items() if name != ALWAYS and not dock.isHidden()]
        return sorted(shown, key=lambda name: own.index(name) if name in own else len(own))

    def _arrange(self, names: list[str]) -> None:
        self._order = self._width()
        docks, wide = self._docks, self._order == WIDE
        others = [dock for name, dock in docks.items() if name != ALWAYS and name not in names]
        arrange(self._window, [docks[name] for name in names], others, self._beside_editors_px(), wide=wide)
        self._window.docks.title()

    def _place_editors(self) -> None:
        window, editors = self._window, self._docks[ALWAYS]
        window.addDockWidget(Qt.DockWidgetArea.LeftDockWidgetArea, editors)
        window.resizeDocks([editors], [editors_width(window, editors)], Qt.Orientation.Horizontal)

    def _beside_editors_px(self) -> int:
        """How wide the window is beside the editors, as wide as those stand by default."""
        window, editors = self._window, self._docks[ALWAYS]
        apart = editors.isHidden() or editors.isFloating()
        return window.width() - (0 if apart else editors_width(window, editors))

    def _width(self) -> str:
        return WIDE if self._window.width() >= WIDE_PX else NARROW

    @contextmanager
    def _arrangement(self) -> Iterator[None]:
        """While this lasts, what moves is not moved by a person, and nothing is painted half done."""
        self._arranging += 1
        self._window.setUpdatesEnabled(False)
        try:
            yield
        finally:
            self._window.setUpdatesEnabled(True)
            self._arranging -= 1

    def _note_move(self) -> None:
        if not self._arranging:
            self._order = MOVED


class _Stand:
    """Where a dock stands, so that it can be put there again."""

    def __init__(self, window: MainWindow, dock: Dock) -> None:
        self._window, self._dock = window, dock
        self._area, self._size = window.dockWidgetArea(dock), dock.size()
        self._hidden, self._floating = dock.isHidden(), dock.isFloating()
        self._place = dock.geometry()

    def take_again(self) -> None:
        """Stand there again."""
        dock, window = self._dock, self._window
        if self._floating:
            dock.setFloating(True)
            dock.setGeometry(self._place)
        elif dock.isFloating() or window.dockWidgetArea(dock) != self._area:
            dock.setFloating(False)
            window.addDockWidget(self._area, dock)
        dock.setHidden(self._hidden)
        if not self._floating:
            across, down = Qt.Orientation.Horizontal, Qt.Orientation.Vertical
            window.resizeDocks([dock], [self._size.width()], across)
            if self._area in (Qt.DockWidgetArea.TopDockWidgetArea, Qt.DockWidgetArea.BottomDockWidgetArea):
                window.resizeDocks([dock], [self._size.height()], down)
