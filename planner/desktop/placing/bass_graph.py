"""The bass at a seat before and after: the thirds that were judged."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import Chart
from planner.desktop.charts.figures import band_text, figure, nominal_hz
from planner.desktop.charts.items import Curve
from planner.desktop.charts.scales import LinearScale, frequency_scale
from planner.desktop.charts.seat_panel import short_name, signed
from planner.desktop.charts.steady import held
from planner.desktop.charts.table import Column, Table
from planner.headroom.placing import Placing

__all__ = ["BassGraph"]

STEP_DB = 5.0
LOWEST_HZ, HIGHEST_HZ = 28.0, 225.0


class BassGraph(Chart):
    """Two curves of level for 1 V in each third octave."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("BassGraph", "Bass before and after")
        side = frequency_scale(QCoreApplication.translate("BassGraph", "Frequency"), LOWEST_HZ, HIGHEST_HZ)
        super().__init__(name, side, _level_side(70.0, 100.0), parent)
        self._seat = ""
        self.before = self.add(Curve(self.scales, self.tr("Before"), "muted", dash=(4.0, 3.0)), 1)
        self.after = self.add(Curve(self.scales, self.tr("After"), "accent"), 2)

    @property
    def placing(self) -> Placing:
        """What is shown."""
        placing: Placing = self.view
        return placing

    def show_placing(self, placing: Placing, seat: str) -> None:
        """Show what a better place brings to the seat of a name."""
        self._seat = seat
        self.show_data(placing)

    def draw(self, view: Placing) -> None:
        levels = np.concatenate([view.before_db, view.after_db])
        self.set_scales(self.scales.x, _level_side(*held(float(levels.min()), float(levels.max()), STEP_DB)))
        self.before.show_points(view.band_hz, view.before_db)
        self.after.show_points(view.band_hz, view.after_db)

    def table(self) -> Table:
        one = self.placing
        bands = np.array([nominal_hz(hz) for hz in one.band_hz.tolist()])
        return Table(
            (
                Column(self.tr("Band"), "Hz", bands, None, band_text),
                Column(self.tr("Before"), "dB", one.before_db, 1),
                Column(self.tr("After"), "dB", one.after_db, 1),
                Column(self.tr("Change"), "dB", one.after_db - one.before_db, 1),
            ),
            self.headline(),
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        return self.tr("Bass at {seat} before and after").format(seat=short_name(self._seat))

    def summary(self) -> str:
        one = self.placing
        change = one.after_db - one.before_db
        least, most = int(np.argmin(change)), int(np.argmax(change))
        text = self.tr("{headline}: from {least} dB at {low} to {most} dB at {high}, mean change {mean} dB.")
        return text.format(
            headline=self.headline(),
            least=signed(float(change[least])),
            low=band_text(float(one.band_hz[least])),
            most=signed(float(change[most])),
            high=band_text(float(one.band_hz[most])),
            mean=figure(float(change.mean()), 1),
        )


def _level_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("BassGraph", "Level for 1 V in each third")
    return LinearScale(title, "dB", low_db, high_db, steps=(5.0, 10.0, 20.0))
