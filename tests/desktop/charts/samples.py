"""Two charts to test the frame with, and hands to use them."""

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, Qt
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
)
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import (
    Bars,
    Chart,
    Column,
    Curve,
    LinearScale,
    Rule,
    Table,
    frequency_scale,
    names_scale,
)
from planner.desktop.charts.figures import band_text, figure

BANDS_HZ = 10.0 ** (np.arange(13, 44) / 10.0)
LEVELS_DB = 80.0 + 6.0 * np.sin(np.arange(31.0))


class Levels(Chart):
    """Two curves over frequency."""

    def __init__(self, parent: QWidget | None = None) -> None:
        x, y = frequency_scale("Frequency"), LinearScale("Level", "dB", 60.0, 100.0)
        super().__init__("Level by band", x, y, parent)
        self.first = self.add(Curve(self.scales, "Direct", "series 0"), 1)
        self.second = self.add(Curve(self.scales, "Reverberant", "series 1"), 1)
        self.target = self.add(Rule(self.scales, "", "muted", level=True))
        self.drawn = 0

    def draw(self, view: np.ndarray) -> None:
        self.drawn += 1
        self.first.show_points(BANDS_HZ, view)
        self.second.show_points(BANDS_HZ, view - 3.0)
        self.target.show_at(85.0)

    def table(self) -> Table:
        band = Column("Band", "Hz", BANDS_HZ, 0, band_text)
        return Table(
            (band, Column("Direct", "dB", self.view), Column("Reverberant", "dB", self.view - 3.0)),
            "Demo room, sofa",
        )

    def headline(self) -> str:
        return f"The loudest band has {figure(float(self.view.max()), 1)} dB" if self.has_data else "Level"

    def summary(self) -> str:
        return f"Levels from {self.view.min():.1f} to {self.view.max():.1f} dB."


class Steps(Chart):
    """Level bars in named rows."""

    NAMES = ("one watt", "watts", "distance")

    def __init__(self, parent: QWidget | None = None) -> None:
        x = LinearScale("Level", "dB", 80.0, 110.0)
        super().__init__("Level ladder", x, names_scale(self.NAMES), parent, reads_along_x=False)
        self.bars = self.add(Bars(self.scales, "", "series 0"))

    def draw(self, view: np.ndarray) -> None:
        rows = np.arange(len(view))
        self.bars.show_bars(80.0, view, rows - 0.3, rows + 0.3)

    def table(self) -> Table:
        return Table((Column("Step", "", self.NAMES), Column("Level", "dB", self.view)))

    def summary(self) -> str:
        return "Three steps."


def press(widget: QWidget, key: Qt.Key, modifiers=Qt.KeyboardModifier.NoModifier) -> bool:
    """Press a key on a widget; whether the widget took it."""
    event = QKeyEvent(QEvent.Type.KeyPress, key, modifiers)
    event.ignore()
    QCoreApplication.sendEvent(widget, event)
    return event.isAccepted()


def point_at(chart: Chart, frequency_hz: float, level_db: float) -> None:
    """Move the pointer over a place of the chart."""
    place = QPointF(float(np.log10(frequency_hz)), level_db)
    where = QPointF(chart.mapFromScene(chart.plotItem.vb.mapViewToScene(place)))
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        where,
        QPointF(chart.viewport().mapToGlobal(where.toPoint())),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QCoreApplication.sendEvent(chart.viewport(), event)
