"""The map of the floor on its card: a chooser above, below it the bands that the modes take away."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planner.desktop.charts.seat_panel import SeatPanel
from planner.desktop.document import PlanDocument
from planner.desktop.fields import Hint
from planner.desktop.floor_map import words
from planner.desktop.floor_map.chooser import MapChooser
from planner.desktop.floor_map.graph import FloorMapGraph
from planner.desktop.floor_map.view import MapView
from planner.desktop.settings import settings
from planner.headroom.nulls import nulls

__all__ = ["FloorMapPanel"]

REST_MS = 150
WIDE_LETTERS = 58


class FloorMapPanel(SeatPanel):
    """The floor at ear height, in step with the document.

    It is drawn anew with every answer; the nulls, which cost a while and change little, wait for a rest.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        self.chooser = MapChooser()
        self._beside: bool | None = None
        super().__init__(document, FloorMapGraph(), parent)
        self.nulls = Hint(parent=self)
        self.nulls.setAccessibleName(self.tr("Nulls"))
        self.nulls.say("")
        self._lines.addWidget(self.nulls)
        self._place_chooser()
        self.setTabOrder(self.chooser, self._button)
        self.setTabOrder(self._button, self.chart)
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._tell_nulls)
        self.chart.changed.connect(self._rest.start)
        self.chooser.changed.connect(self._follow)
        settings().units_changed.connect(self._follow)

    @property
    def _lines(self) -> QVBoxLayout:
        lines = self.layout()
        assert isinstance(lines, QVBoxLayout), "a panel lays its parts out from top to bottom"
        return lines

    def _place_chooser(self) -> None:
        """Beside the headline, or below it where that would leave it no room."""
        beside = self.width() > WIDE_LETTERS * self.fontMetrics().averageCharWidth()
        if beside is self._beside:
            return
        self._beside = beside
        head = self._lines.itemAt(0)
        top = head.layout() if head is not None else None
        assert isinstance(top, QHBoxLayout), "its headline and its menu stand side by side"
        (self._lines if beside else top).removeWidget(self.chooser)
        if beside:
            top.insertWidget(1, self.chooser, 0, Qt.AlignmentFlag.AlignTop)
        else:
            self._lines.insertWidget(1, self.chooser, 0, Qt.AlignmentFlag.AlignLeft)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._rest.start()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_chooser()

    def _view(self) -> object:
        sight = self._sight()
        return None if sight is None else MapView(sight, self.chooser.choice, settings().units)

    def _tell_nulls(self) -> None:
        if not self.isVisible() or not self.chart.has_data:
            return
        sight = self.chart.shown.sight
        self.nulls.say(words.nulls_text(nulls(sight.plan, sight.candidate)))
