"""How output impedance and cable bend the frequency response, above the impedance that makes them do so."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.bend_view import BendView
from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import figure, frequency_text, significant
from planner.desktop.charts.impedance import ImpedanceGraph, degrees_text
from planner.desktop.charts.items import Curve
from planner.desktop.charts.keys import Entry
from planner.desktop.charts.notes import Rule
from planner.desktop.charts.scales import LinearScale, frequency_scale
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.system_panel import SystemGraph, SystemPanel, facts, words_share
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.headroom.wiring import AUDIBLE_HZ

__all__ = ["BendChart", "BendGraph"]

FloatArray = NDArray[np.float64]
STEP_DB = 0.5
LEAST_DB = 1.0
LEAST_PX = 80
WIDEST_FIGURE = "−0.5"
BENDS = {"together": "series 0", "without_cable": "series 1", "cable_alone": "series 2"}


class BendGraph(SystemGraph):
    """Three bends about the zero line, which is the response into the nominal impedance."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("BendGraph", "Bend of the response")
        super().__init__(name, frequency_scale("", *AUDIBLE_HZ), _bend_side(-LEAST_DB, LEAST_DB), parent)
        self._ends: Ends | None = None
        self.zero = self.add(Rule(self.scales, "", "edge", level=True), 0)
        self.curves = {
            key: self.add(
                Curve(self.scales, self._names()[key], token, width=2.0 if key == "together" else 1.5),
                3 if key == "together" else 2,
            )
            for key, token in BENDS.items()
        }
        self.captions = self.add(Captions(self.scales), 6)
        self.line_up(WIDEST_FIGURE, bare_bottom=True)

    @property
    def shown(self) -> BendView:
        view: BendView = self.view
        return view

    def draw(self, view: BendView) -> None:
        self.fit()
        self.zero.show_at(0.0)
        for key, curve in self.curves.items():
            curve.show_points(view.hertz, view.response(key))
        self.write()

    def fit(self) -> None:
        low = min(-LEAST_DB, *(float(self.shown.bend(key).response_db.min()) for key in BENDS))
        high = max(LEAST_DB, *(float(self.shown.bend(key).response_db.max()) for key in BENDS))
        words = words_share(self) * (high - low)
        self._ends = held(low - words, high + words, STEP_DB, self._ends)
        self.set_scales(self.shown.side, _bend_side(*self._ends))

    def write(self) -> None:
        hertz = self.shown.hertz
        lines: list[tuple[ArrayLike, ArrayLike]] = [(hertz, self.shown.response(key)) for key in BENDS]
        self.captions.show_captions(self._captions(), (), lines)

    def table(self) -> Table:
        view, names = self.shown, self._names()
        bends = [Column(names[key], "dB", view.response(key), 2, _bend_text) for key in BENDS]
        return Table(
            (
                Column(self.tr("Frequency"), "Hz", view.hertz, None, frequency_text),
                *bends,
                Column(self.tr("|Z|"), "Ω", np.abs(view.load_ohm), None),
                Column(self.tr("Phase"), "°", np.degrees(np.angle(view.load_ohm)), 0, degrees_text),
            ),
            "\n".join((self.sight.settings, view.wiring.amplifier, self.headline(), *self._facts())),
        )

    def key_entries(self) -> list[Entry]:
        if not self.has_data:
            return []
        keys: list[Entry] = [
            (curve.key, self._key_text(key)) for key, curve in self.curves.items() if self._worth_showing(key)
        ]
        return [*keys, *facts(self._facts())]

    def reading_entries(self, row: int) -> list[Entry]:
        first, *others = self.table().columns
        names = {curve.key.name: curve.key for curve in self.curves.values() if curve.key is not None}
        said: list[Entry] = [(names.get(each.title), each.reading(row)) for each in others]
        said[-2] = (None, f"|Z| {said[-2][1]}")
        return [(None, first.reading(row)), *said]

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        wiring = self.shown.wiring
        bend = wiring.together
        if bend.peak_to_peak_db < 0.05:
            return self.tr("Output impedance and cable leave the response straight")
        text = self.tr("Response bent by {bend} dB from peak to peak")
        return text.format(bend=figure(bend.peak_to_peak_db, 1))

    def summary(self) -> str:
        text = self.tr("{amplifier}. {headline}: up at {high}, down at {low}. {parts}. {facts}.")
        return text.format(
            amplifier=self.shown.wiring.amplifier,
            headline=self.headline(),
            high=self._frequency_of(np.argmax),
            low=self._frequency_of(np.argmin),
            parts="; ".join(self._key_text(key) for key in BENDS),
            facts="; ".join(self._facts()),
        )

    @contextmanager
    def on_paper(self, line_scale: float = 1.0) -> Iterator[None]:
        """Look as on paper, where no chart below says the frequencies."""
        x, y = self.scales.x, self.scales.y
        title = self.tr("Frequency")
        self.line_up(WIDEST_FIGURE)
        self.set_scales(replace(x, title=title, unit="Hz"), y)
        self.plotItem.layout.activate()
        try:
            with super().on_paper(line_scale):
                yield
        finally:
            self.line_up(WIDEST_FIGURE, bare_bottom=True)
            self.set_scales(x, y)

    def _frequency_of(self, pick: Callable[[FloatArray], Any]) -> str:
        wiring = self.shown.wiring
        hertz = float(wiring.frequency_hz[int(pick(wiring.together.response_db))])
        return frequency_text(float(f"{hertz:.2g}"))

    def _worth_showing(self, key: str) -> bool:
        return key == "together" or self.shown.wiring.loop_ohm > 0.0

    def _names(self) -> dict[str, str]:
        return {
            "together": self.tr("Together"),
            "without_cable": self.tr("Without cable"),
            "cable_alone": self.tr("Cable alone"),
        }

    def _key_text(self, key: str) -> str:
        bend = figure(self.shown.bend(key).peak_to_peak_db, 1)
        return self.tr("{name} {bend} dB").format(name=self._names()[key].lower(), bend=bend)

    def _facts(self) -> Iterator[str]:
        wiring = self.shown.wiring
        text = self.tr("damping factor {all}, without cable {bare}")
        yield text.format(all=_factor(wiring.damping_factor), bare=_factor(wiring.damping_at_terminals))
        if wiring.loop_ohm > 0.0:
            text = self.tr("cable {ohm} Ω loses {loss} dB")
            yield text.format(ohm=significant(wiring.loop_ohm), loss=figure(wiring.cable_loss_db, 2))
        else:
            yield self.tr("no cable in the plan")

    def _captions(self) -> Iterator[Caption]:
        """The highest and the lowest point of all, by figure and frequency."""
        wiring = self.shown.wiring
        response = wiring.together.response_db
        if wiring.together.peak_to_peak_db < 0.05:
            return
        for pick, above in ((np.argmax, 1.0), (np.argmin, -1.0)):
            row = int(pick(response))
            hertz, level = float(wiring.frequency_hz[row]), float(response[row])
            text = self.tr("{bend} dB at {frequency}").format(
                bend=_hundredths(level), frequency=self._frequency_of(pick)
            )
            sides = ((0.0, above), (1.0, above), (-1.0, above))
            yield Caption(text, hertz, level, "series 0", sides, 3.0, strong=True)


class BendChart(SystemPanel):
    """Bend of the response by one amplifier, with the impedance that it drives, on one card."""

    kind = BendView
    load: ImpedanceGraph | None = None

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, BendGraph(), parent, by_amplifier=True)
        self.load = ImpedanceGraph(self)
        self.load.line_up(WIDEST_FIGURE)
        self.chart.setMinimumHeight(LEAST_PX)
        self.load.setMinimumHeight(LEAST_PX)
        place = self.lines.indexOf(self._stack)
        self.lines.insertWidget(place + 1, self.load, 5)
        self.lines.setStretch(place, 6)
        self.load.reading_changed.connect(self._read_bend)
        self.chart.reading_changed.connect(self._read_load)
        self.load.menu().table_action.setVisible(False)
        self._follow()

    def show_table(self, shown: bool) -> None:
        super().show_table(shown)
        if self.load is not None:
            self.load.setVisible(not shown)

    def set_stale_look(self, stale: bool) -> None:
        super().set_stale_look(stale)
        if self.load is not None:
            self.load.set_stale_look(stale)

    def _follow(self) -> None:
        super()._follow()
        if self.load is not None:
            self.load.show_data(self.chart.view)

    def _read_bend(self) -> None:
        if self.load is not None:
            self.chart.read_row(self.load.row_read)

    def _read_load(self) -> None:
        if self.load is not None:
            self.load.read_row(self.chart.row_read)


def _bend_text(bend_db: float) -> str:
    return f"{_hundredths(bend_db)} dB"


def _hundredths(bend_db: float) -> str:
    text = figure(bend_db, 2)
    return f"+{text}" if bend_db > 0.0 and text != figure(0.0, 2) else text


def _factor(factor: float) -> str:
    return "∞" if factor == float("inf") else figure(factor, 1 if factor < 100.0 else 0)


def _bend_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("BendGraph", "Bend, re nominal impedance")
    return LinearScale(title, "dB", low_db, high_db, steps=(0.5, 1.0, 2.0, 5.0, 10.0))
