"""The overlaid charts of the candidates, one of which is shown at a time."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QStackedWidget, QVBoxLayout, QWidget

from planner.desktop.charts import ChartPanel
from planner.desktop.compare.bands import BandsOverlay
from planner.desktop.compare.ladders import LaddersOverlay
from planner.desktop.compare.overlay import Kind
from planner.desktop.window.chooser import Chooser

__all__ = ["CompareCurves"]

KINDS = tuple(Kind)


class CompareCurves(QWidget):
    """A chooser of what the curves are of, and the chart; ``turned`` fires when another kind is chosen."""

    turned = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bands, self.ladders = ChartPanel(BandsOverlay()), ChartPanel(LaddersOverlay())
        self.chooser: QComboBox = Chooser(
            self.tr("What the curves show"), self.tr("Which quantity is drawn for all candidates at once")
        )
        self.chooser.addItems([kind.title for kind in KINDS])
        self.chooser.setMinimumContentsLength(18)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.bands)
        self._stack.addWidget(self.ladders)
        label = QLabel(self.tr("Curve&s"))
        label.setBuddy(self.chooser)
        self.top = QHBoxLayout()
        self.top.setContentsMargins(4, 0, 0, 0)
        self.top.addWidget(label)
        self.top.addWidget(self.chooser)
        self.top.addStretch(1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(4)
        lines.addLayout(self.top)
        lines.addWidget(self._stack, 1)
        self.chooser.activated.connect(self._turn)

    @property
    def kind(self) -> Kind:
        """What the curves are of."""
        return KINDS[self.chooser.currentIndex()]

    @property
    def panel(self) -> ChartPanel:
        """The chart that is shown."""
        return self.ladders if self.kind is Kind.LADDER else self.bands

    def show_overlay(self, overlay: object, *, stale: bool) -> None:
        """Show other curves, None for none."""
        self.panel.chart.show_data(overlay)
        if self.panel.chart.stale_look != stale:
            self.panel.set_stale_look(stale)

    def _turn(self) -> None:
        self._stack.setCurrentWidget(self.panel)
        self.turned.emit()
