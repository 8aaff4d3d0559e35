"""The valve's plate curves with the load line and the operating point."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import ArrayLike
from PySide6.QtCore import QCoreApplication, QSize
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import Chart, Column, Curve, LinearScale, Marks, Table
from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import figure, significant
from planner.desktop.charts.keys import Entry
from planner.desktop.charts.steady import Ends, held
from planner.desktop.triode.working import CURVES, Working

__all__ = ["PlatesGraph"]

STEP_V, STEP_MA_SHARE, ROOM = 50.0, 0.2, 1.18


class PlatesGraph(Chart):
    """Plate current over plate voltage for grid voltages in even steps; the bias is one of them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("PlatesGraph", "Plate curves and load line")
        super().__init__(name, _volts_side(0.0, 500.0), _current_side(0.0, 150.0), parent)
        self._ends: tuple[Ends | None, Ends | None] = (None, None)
        bias = CURVES // 2
        self.curves = [
            self.add(
                Curve(
                    self.scales,
                    "",
                    "muted" if row == bias else "edge",
                    width=1.6 if row == bias else 1.0,
                    dash=(),
                ),
                1,
            )
            for row in range(CURVES)
        ]
        self.line = self.add(Curve(self.scales, self.tr("Load line"), "series 1", width=2.0, dash=()), 3)
        self.rest = self.add(Marks(self.scales, "", "accent", "o", 11.0), 4)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> Working:
        """The stage worked out."""
        view: Working = self.view
        return view

    def draw(self, view: Working) -> None:
        self._fit()
        for curve, current in zip(self.curves, view.current_ma, strict=True):
            curve.show_points(view.plate_v, np.where(current <= self.scales.y.high, current, np.nan))
        order = np.argsort(view.cycle_v)
        self.line.show_points(view.cycle_v[order], view.cycle_ma[order])
        self.rest.show_points([view.stage.plate_v], [view.stage.plate_ma])
        self.captions.show_captions(
            self._captions(), [(view.stage.plate_v, view.stage.plate_ma)], self._lines()
        )

    def _fit(self) -> None:
        view, (volts, current) = self.shown, self._ends
        most_ma = ROOM * float(view.cycle_ma.max())
        step = float(10.0 ** np.floor(np.log10(STEP_MA_SHARE * most_ma)))
        volts = held(0.0, float(view.plate_v[-1]), STEP_V, volts)
        current = held(0.0, most_ma, 2.0 * step, current if current and current[1] < 3.0 * most_ma else None)
        self._ends = (volts, current)
        self.set_scales(_volts_side(*volts), _current_side(*current))

    def sizeHint(self) -> QSize:
        # Both charts share what height the dialog has, be it little.
        return self.minimumSize()

    def table(self) -> Table:
        view = self.shown
        columns = [
            Column(self.tr("{grid} V grid").format(grid=figure(float(grid), 1)), "mA", current, 1)
            for grid, current in zip(view.grid_v, view.current_ma, strict=True)
        ]
        plate = Column(self.tr("Plate voltage"), "V", view.plate_v, 0)
        return Table((plate, *columns), "\n".join((self.headline(), self.summary())))

    def key_entries(self) -> list[Entry]:
        return [(self.line.key, self._line_text())] if self.has_data else []

    def reading_entries(self, row: int) -> list[Entry]:
        view = self.shown
        said: list[Entry] = [
            (None, f"{figure(float(grid), 0)} V: {figure(float(current[row]), 1)} mA")
            for grid, current in zip(view.grid_v, view.current_ma, strict=True)
        ]
        return [
            (None, self.tr("{plate} V at the plate").format(plate=figure(float(view.plate_v[row]), 0))),
            *said,
        ]

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        stage = self.shown.stage
        text = self.tr("{volts} V and {current} mA at rest: {watts} W on the plate")
        return text.format(
            volts=significant(stage.plate_v),
            current=significant(stage.plate_ma),
            watts=significant(stage.plate_v * stage.plate_ma / 1000.0),
        )

    def summary(self) -> str:
        return f"{self.headline()}. {self._line_text()}."

    def _line_text(self) -> str:
        view = self.shown
        text = self.tr("load line of {load} Ω, from {low} to {high} V and {least} to {most} mA")
        return text.format(
            load=significant(view.stage.primary_ohm),
            low=figure(float(view.cycle_v.min()), 0),
            high=figure(float(view.cycle_v.max()), 0),
            least=figure(float(view.cycle_ma.min()), 0),
            most=figure(float(view.cycle_ma.max()), 0),
        )

    def _lines(self) -> list[tuple[ArrayLike, ArrayLike]]:
        view = self.shown
        fine = np.linspace(view.plate_v[0], view.plate_v[-1], 240)
        curves = [(fine, np.interp(fine, view.plate_v, current)) for current in view.current_ma]
        order = np.argsort(view.cycle_v)
        return [*curves, (fine, np.interp(fine, view.cycle_v[order], view.cycle_ma[order]))]

    def _captions(self) -> Iterator[Caption]:
        view = self.shown
        text = self.tr("at rest")
        yield Caption(text, view.stage.plate_v, view.stage.plate_ma, "accent", gap_px=7.0, strong=True)
        for row, (grid, current) in enumerate(zip(view.grid_v, view.current_ma, strict=True)):
            inside = np.flatnonzero(current <= self.scales.y.high)
            if inside.size:
                last = int(inside[-1])
                at_top = last < view.plate_v.size - 1
                sides = ((1.0, -1.0), (-1.0, -1.0)) if at_top else ((-1.0, 1.0),)
                token = "ink" if row == CURVES // 2 else "muted"
                words = self.tr("{grid} V").format(grid=figure(float(grid), 0))
                yield Caption(
                    words, float(view.plate_v[last]), float(current[last]), token, sides, 2.0, may_go=True
                )


def _volts_side(low_v: float, high_v: float) -> LinearScale:
    title = QCoreApplication.translate("PlatesGraph", "Plate voltage")
    return LinearScale(title, "V", low_v, high_v, steps=(50.0, 100.0, 200.0, 500.0))


def _current_side(low_ma: float, high_ma: float) -> LinearScale:
    return LinearScale(QCoreApplication.translate("PlatesGraph", "Plate current"), "mA", low_ma, high_ma)
