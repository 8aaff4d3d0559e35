"""One dock: it holds a panel that is made when it is first seen, and rests while it is out of sight."""

from __future__ import annotations

from PySide6.QtWidgets import QDockWidget, QMainWindow, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.window.panels import Factory, Panel

__all__ = ["Dock"]


class Dock(QDockWidget):
    """Qt moves a dock that a tab covers out of the window but counts it as visible; its panel is hidden."""

    def __init__(self, panel: Panel, window: QMainWindow) -> None:
        super().__init__(panel.title.replace("&", ""), window)
        self.setObjectName(panel.name)
        self.setAccessibleName(self.windowTitle())
        self.toggleViewAction().setText(panel.title)
        self.panel: QWidget | None = None
        self.in_sight = False
        self._body = QWidget(self)
        self._lines = QVBoxLayout(self._body)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self.setWidget(self._body)
        self.visibilityChanged.connect(self._follow)

    def fill(self, make: Factory, document: PlanDocument) -> None:
        """Make the panel and put it here."""
        self.panel = make(document, self._body)
        # A panel out of sight goes on asking for its room, so that nothing jumps when tabs are changed.
        policy = self.panel.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.panel.setSizePolicy(policy)
        self.panel.hide()
        self._lines.addWidget(self.panel)
        # It has its size before it is seen, and so draws itself once.
        self._lines.activate()
        self.panel.setVisible(self.in_sight)

    def show_bare(self, bare: bool) -> None:
        """Leave out the title, or show it again."""
        if bare is (self.titleBarWidget() is None):
            self.setTitleBarWidget(QWidget(self) if bare else None)  # type: ignore[arg-type]

    def _follow(self, visible: bool) -> None:
        self.in_sight = visible
        if self.panel is not None:
            self.panel.setVisible(visible)
