"""The impedance that an amplifier drives: magnitude on a log side, phase on a scale of its own."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.bend_view import BendView
from planner.desktop.charts.captions import LEFT, Caption, Captions
from planner.desktop.charts.figures import figure, frequency_text, significant
from planner.desktop.charts.items import Curve
from planner.desktop.charts.notes import Rule
from planner.desktop.charts.scales import LogScale, frequency_scale
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.system_panel import SystemGraph, words_share
from planner.desktop.charts.table import Column, Table

__all__ = ["ImpedanceGraph", "degrees_text"]

FloatArray = NDArray[np.float64]
STEP_DECADES, LEAST_DECADES = 0.1, 0.3
LEADS = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0)
PHASES_DEG = (0.0, 90.0, -90.0, 45.0, -45.0)
SPAN_DEG = 100.0


class ImpedanceGraph(SystemGraph):
    """Magnitude and phase over frequency."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("ImpedanceGraph", "Impedance")
        super().__init__(name, frequency_scale(""), _ohm_side(0.3, 1.6), parent)
        self._ends: Ends | None = None
        self.nominal = self.add(Rule(self.scales, "", "muted", level=True, dash=(4.0, 3.0)), 0)
        self.phase = self.add(Curve(self.scales, self.tr("phase"), "series 3", width=1.5), 2)
        self.magnitude = self.add(Curve(self.scales, self.tr("|Z|"), "series 0"), 3)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> BendView:
        view: BendView = self.view
        return view

    def draw(self, view: BendView) -> None:
        self.fit()
        self.magnitude.show_points(view.hertz, np.abs(view.load_ohm))
        self.phase.show_points(view.hertz, self._beside(np.degrees(np.angle(view.load_ohm))))
        self.nominal.show_at(view.wiring.nominal_ohm)
        self.write()

    def fit(self) -> None:
        ohm = [*np.abs(self.shown.load_ohm), self.shown.wiring.nominal_ohm]
        low, high = float(np.log10(min(ohm))), float(np.log10(max(ohm)))
        words = words_share(self) * max(high - low, LEAST_DECADES)
        self._ends = held(low - words, high + words, STEP_DECADES, self._ends)
        self.set_scales(self.shown.side, _ohm_side(*self._ends))
        self.phase.show_points(self.shown.hertz, self._beside(np.degrees(np.angle(self.shown.load_ohm))))

    def write(self) -> None:
        view = self.shown
        lines: list[tuple[ArrayLike, ArrayLike]] = [(view.hertz, np.abs(view.load_ohm)), self.phase.shown]
        self.captions.show_captions(self._captions(), (), lines)

    def table(self) -> Table:
        view = self.shown
        return Table(
            (
                Column(self.tr("Frequency"), "Hz", view.hertz, None, frequency_text),
                Column(self.tr("|Z|"), "Ω", np.abs(view.load_ohm), None),
                Column(self.tr("Phase"), "°", np.degrees(np.angle(view.load_ohm)), 0, degrees_text),
            ),
            "\n".join((self.sight.settings, view.wiring.amplifier, self.headline())),
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        text = self.tr("{amplifier} drives {nominal} Ω nominal, {least} at the least and {most} at the most")
        view = self.shown
        least, most = (self._point_text(row) for row in self._extremes())
        return text.format(
            amplifier=view.wiring.amplifier,
            nominal=significant(view.wiring.nominal_ohm),
            least=least,
            most=most,
        )

    def summary(self) -> str:
        degrees = np.degrees(np.angle(self.shown.load_ohm))
        text = self.tr("{headline}; its phase runs from {low} to {high}.")
        return text.format(
            headline=self.headline(),
            low=degrees_text(float(degrees.min())),
            high=degrees_text(float(degrees.max())),
        )

    def _extremes(self) -> tuple[int, int]:
        magnitude = np.abs(self.shown.load_ohm)
        return int(np.argmin(magnitude)), int(np.argmax(magnitude))

    def _point_text(self, row: int) -> str:
        hertz, ohm = float(self.shown.hertz[row]), float(np.abs(self.shown.load_ohm[row]))
        text = self.tr("{ohm} Ω at {frequency}")
        return text.format(ohm=significant(ohm), frequency=frequency_text(float(f"{hertz:.2g}")))

    def _beside(self, degrees: ArrayLike) -> FloatArray:
        """Where degrees stand on the side of ohms: 0° in its middle."""
        low, high = np.log10(self.scales.y.low), np.log10(self.scales.y.high)
        share = 0.5 + np.asarray(degrees) / (2.0 * SPAN_DEG)
        return np.asarray(10.0 ** (low + share * (high - low)))

    def _captions(self) -> Iterator[Caption]:
        magnitude, hertz = np.abs(self.shown.load_ohm), self.shown.hertz
        rows: tuple[int, ...] = self._extremes()
        if magnitude.max() - magnitude.min() < 0.01:
            rows = rows[:1]
        for row, above in zip(rows, (-1.0, 1.0), strict=False):
            sides = ((0.0, above), (1.0, above), (-1.0, above))
            text, ohm = self._point_text(row), float(magnitude[row])
            yield Caption(text, float(hertz[row]), ohm, "series 0", sides, 3.0, strong=True)
        for degrees, place in zip(PHASES_DEG, self._beside(PHASES_DEG), strict=True):
            text = degrees_text(degrees) if degrees <= 0.0 else f"+{degrees_text(degrees)}"
            yield Caption(
                text, self.scales.x.high, float(place), "series 3", (LEFT,), 1.0, may_go=True, plate=False
            )


def degrees_text(degrees: float) -> str:
    """An angle to the degree."""
    return f"{figure(degrees, 0)}°"


def _ohm_side(low_decade: float, high_decade: float) -> LogScale:
    title = QCoreApplication.translate("ImpedanceGraph", "|Z| (Ω) and phase over frequency (Hz)")
    decades = range(-3, 4)
    dense = tuple(lead * 10.0**decade for decade in decades for lead in LEADS)
    sparse = tuple(lead * 10.0**decade for decade in decades for lead in (1.0, 2.0, 4.0))
    ends = (10.0**low_decade, 10.0**high_decade)
    return LogScale(title, "", *ends, (dense, sparse, tuple(10.0**decade for decade in decades)), significant)
