"""Where the panels stand: editors at the left, drawing and charts around the ladder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP, QByteArray, QCoreApplication, QObject, Qt, QTimer
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QDockWidget, QTabWidget, QWidget

from planner.desktop.settings import settings
from planner.desktop.window.panels import Factory

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["DOCKS", "STATE_VERSION", "WIDE_PX", "Docks"]

STATE_VERSION = 1
WIDE_PX = 1600
"""From this width on, all panels stand side by side; below it the charts share one place."""

BOTTOM_SHARE = 0.4
DRAWING_SHARE = 0.46
DRAWING_SHARE_WIDE = 0.38
MOVED, WIDE, NARROW = "moved", "wide", "narrow"

Area = Qt.DockWidgetArea


@dataclass(frozen=True, slots=True)
class Dock:
    """One panel that can be moved and hidden: its name in the table of panels, and its title."""

    panel: str
    title: object


DOCKS = (
    Dock("editors", QT_TRANSLATE_NOOP("Docks", "&Plan")),
    Dock("drawing", QT_TRANSLATE_NOOP("Docks", "R&oom")),
    Dock("efficiency", QT_TRANSLATE_NOOP("Docks", "&What Efficiency Buys")),
    Dock("bands", QT_TRANSLATE_NOOP("Docks", "&Headroom by Band")),
    Dock("distance", QT_TRANSLATE_NOOP("Docks", "Level against &Distance")),
)
CHARTS = ("efficiency", "bands", "distance")


class Docks(QObject):
    """The docks of one window, and how they are arranged until a person moves them."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._arranged: bool | None = None
        self._arranging = self._moved = False
        self._title_soon = QTimer(self, singleShot=True, interval=0)
        self._title_soon.timeout.connect(self._title)
        self.all = {dock.panel: self._made(dock) for dock in DOCKS}
        window.setDockNestingEnabled(True)
        window.setTabPosition(Area.AllDockWidgetAreas, QTabWidget.TabPosition.North)
        window.setCorner(Qt.Corner.BottomLeftCorner, Area.LeftDockWidgetArea)
        window.setCorner(Qt.Corner.TopLeftCorner, Area.LeftDockWidgetArea)
        window.setCorner(Qt.Corner.BottomRightCorner, Area.BottomDockWidgetArea)

    @property
    def toggles(self) -> list[QAction]:
        """What switches each dock on and off."""
        return [dock.toggleViewAction() for dock in self.all.values()]

    def fill(self, panel: str, made: Mapping[str, Factory]) -> None:
        """Make a panel and put it into its dock."""
        dock = self.all[panel]
        dock.setWidget(made[panel](self._window.document, dock))

    def reset(self) -> None:
        """Put every dock where it belongs by default, and show it."""
        self._moved = False
        for dock in self.all.values():
            dock.setFloating(False)
            dock.show()
        self._arrange(self._is_wide())

    def follow_width(self) -> None:
        """Arrange anew when the window becomes wide or narrow, unless a person has moved something."""
        if not self._moved and self._arranged is not self._is_wide():
            self._arrange(self._is_wide())

    def keep(self) -> None:
        """Store where everything stands."""
        settings().keep("docks", self._window.saveState(STATE_VERSION))
        settings().keep("docks_order", MOVED if self._moved else WIDE if self._arranged else NARROW)

    def restore(self) -> None:
        """Put everything where it stood last, or where it belongs by default."""
        self._arrange(self._is_wide())
        state, order = settings().value("docks"), settings().value("docks_order")
        if isinstance(state, QByteArray) and order in (MOVED, WIDE, NARROW):
            self._arranging = True
            if self._window.restoreState(state, STATE_VERSION):
                self._moved, self._arranged = order == MOVED, order == WIDE
            self._arranging = False
        self.follow_width()

    def _is_wide(self) -> bool:
        return self._window.width() >= WIDE_PX

    def _arrange(self, wide: bool) -> None:
        self._arranging, self._arranged = True, wide
        hidden = [dock for dock in self.all.values() if dock.isHidden()]
        window, docks = self._window, self.all
        charts = [docks[name] for name in CHARTS]
        window.addDockWidget(Area.LeftDockWidgetArea, docks["editors"])
        if wide:
            window.addDockWidget(Area.RightDockWidgetArea, docks["drawing"])
            window.addDockWidget(Area.BottomDockWidgetArea, charts[0])
            for left, right in pairwise(charts):
                window.splitDockWidget(left, right, Qt.Orientation.Horizontal)
        else:
            window.addDockWidget(Area.BottomDockWidgetArea, docks["drawing"])
            window.splitDockWidget(docks["drawing"], charts[0], Qt.Orientation.Horizontal)
            for chart in charts[1:]:
                window.tabifyDockWidget(charts[0], chart)
            charts[0].raise_()
        for dock in hidden:
            dock.hide()
        self._title()
        self._share_room(wide)
        self._arranging = False

    def _share_room(self, wide: bool) -> None:
        """Give each panel its part of the window; the ladder has what is left."""
        window, docks = self._window, self.all
        across, down = Qt.Orientation.Horizontal, Qt.Orientation.Vertical
        editors_px = max(
            docks["editors"].sizeHint().width(), round(window.fontMetrics().averageCharWidth() * 52)
        )
        rest_px = window.width() - editors_px
        window.resizeDocks([docks["editors"]], [editors_px], across)
        window.resizeDocks([docks[CHARTS[0]]], [round(window.height() * BOTTOM_SHARE)], down)
        if wide:
            window.resizeDocks([docks["drawing"]], [round(rest_px * DRAWING_SHARE_WIDE)], across)
            window.resizeDocks([docks[name] for name in CHARTS], [rest_px // 3] * 3, across)
        else:
            drawing_px = round(rest_px * DRAWING_SHARE)
            window.resizeDocks(
                [docks["drawing"], docks[CHARTS[0]]], [drawing_px, rest_px - drawing_px], across
            )

    def _made(self, dock: Dock) -> QDockWidget:
        text = QCoreApplication.translate("Docks", str(dock.title))
        made = QDockWidget(text.replace("&", ""), self._window)
        made.setObjectName(dock.panel)
        made.setAccessibleName(made.windowTitle())
        made.toggleViewAction().setText(text)
        made.dockLocationChanged.connect(self._note_move)
        made.topLevelChanged.connect(self._note_move)
        made.visibilityChanged.connect(self._title_soon.start)
        return made

    def _title(self) -> None:
        """Leave out the title of a dock whose tab says it already."""
        for dock in self.all.values():
            bare = bool(self._window.tabifiedDockWidgets(dock)) and not dock.isFloating()
            if bare is (dock.titleBarWidget() is None):
                dock.setTitleBarWidget(QWidget(dock) if bare else None)  # type: ignore[arg-type]

    def _note_move(self) -> None:
        self._title_soon.start()
        if not self._arranging:
            self._moved = True
