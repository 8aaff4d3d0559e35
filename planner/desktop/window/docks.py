"""All docks of a window: what switches them, which of them still want their panel, and their titles."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QTabWidget

from planner.desktop.window.dock import Dock
from planner.desktop.window.panels import TABLE, Factory

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["MIDDLE", "Docks"]

MIDDLE = "ladder"
"""The panel that stands in the middle of the window and is no dock."""

Area = Qt.DockWidgetArea


class Docks(QObject):
    """Every dock by the name of its panel.

    ``moved`` tells that a dock has another place now, ``wanted`` that one has come into sight.
    """

    moved = Signal()
    wanted = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._title_soon = QTimer(self, singleShot=True, interval=0)
        self._title_soon.timeout.connect(self.title)
        self.all = {panel.name: Dock(panel, window) for panel in TABLE if panel.name != MIDDLE}
        window.setDockNestingEnabled(True)
        window.setTabPosition(Area.AllDockWidgetAreas, QTabWidget.TabPosition.North)
        window.setCorner(Qt.Corner.BottomLeftCorner, Area.LeftDockWidgetArea)
        window.setCorner(Qt.Corner.TopLeftCorner, Area.LeftDockWidgetArea)
        window.setCorner(Qt.Corner.BottomRightCorner, Area.BottomDockWidgetArea)
        for dock in self.all.values():
            dock.dockLocationChanged.connect(self._note_move)
            dock.topLevelChanged.connect(self._note_move)
            dock.visibilityChanged.connect(self._note_sight)

    def fill(self, name: str, made: Mapping[str, Factory]) -> None:
        """Make the panel of a dock, unless it is there."""
        if self.all[name].panel is None:
            self.all[name].fill(made[name], self._window.document)

    def next_unmade(self) -> str | None:
        """The first dock in sight that still wants its panel."""
        unmade = (name for name, dock in self.all.items() if dock.in_sight and dock.panel is None)
        return next(unmade, None)

    def title(self) -> None:
        """Leave out the title of a dock whose tab says it already."""
        for dock in self.all.values():
            dock.show_bare(bool(self._window.tabifiedDockWidgets(dock)) and not dock.isFloating())

    def _note_move(self) -> None:
        self._title_soon.start()
        self.moved.emit()

    def _note_sight(self) -> None:
        self._title_soon.start()
        self.wanted.emit()
