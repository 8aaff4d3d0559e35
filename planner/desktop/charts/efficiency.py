"""What efficiency buys: the watts that the target needs against the loudspeaker's sensitivity."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import figure, significant
from planner.desktop.charts.items import Curve, Marks
from planner.desktop.charts.notes import Rule, Zone
from planner.desktop.charts.scales import LinearScale, LogScale, watts_scale
from planner.desktop.charts.seat_panel import SeatChart, SeatPanel, Sight, level_text, watts_text
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.headroom.curves import EfficiencyCurve, watts_against_sensitivity

__all__ = ["EfficiencyChart", "EfficiencyGraph"]

FloatArray = NDArray[np.float64]
SENSITIVITY_DB = (82.0, 112.0)
STEP_DB = 3.0
STEP_DECADES = 0.5
EXAMPLE_DB = 12.0


@dataclass(frozen=True, eq=False)
class EfficiencyView:
    """What is looked at, and its curve once somebody asks for it."""

    sight: Sight

    @cached_property
    def curve(self) -> EfficiencyCurve:
        """Watts against sensitivity at the seat."""
        return watts_against_sensitivity(self.sight.seat)

    @property
    def enough_db(self) -> float:
        """The sensitivity from which the amplifier's own rating is enough."""
        curve = self.curve
        return curve.here_db + 10.0 * float(np.log10(curve.here_watts / curve.rated_watts))

    def watts_at(self, sensitivity_db: float) -> float:
        """Watts that the target needs if the sensitivity were this one."""
        return float(self.curve.here_watts * 10.0 ** ((self.curve.here_db - sensitivity_db) / 10.0))


class EfficiencyGraph(SeatChart):
    """A straight line on a log axis of watts, with this loudspeaker and this amplifier on it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("EfficiencyGraph", "What efficiency buys")
        super().__init__(name, _sensitivity_side(*SENSITIVITY_DB), _watts_side(-1.0, 3.0), parent)
        self._x_ends: Ends = SENSITIVITY_DB
        self._y_ends: Ends | None = None
        self.enough = self.add(Zone(self.scales, "", "clears", level=False), -5)
        self.rated = self.add(Rule(self.scales, "", "ink", level=True, dash=(4.0, 3.0)), 1)
        self.curve = self.add(Curve(self.scales, "", "series 0"), 2)
        self.crossing = self.add(Marks(self.scales, "", "clears", "d", 11.0), 3)
        self.here = self.add(Marks(self.scales, "", "accent", "o", 13.0), 4)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def sight(self) -> Sight:
        return self.shown.sight

    @property
    def shown(self) -> EfficiencyView:
        """What is looked at, with its curve."""
        view: EfficiencyView = self.view
        return view

    def draw(self, view: EfficiencyView) -> None:
        self.fit()
        low, high = self._x_ends
        curve, enough_db = view.curve, view.enough_db
        self.curve.show_points([low, high], [view.watts_at(low), view.watts_at(high)])
        self.rated.show_at(curve.rated_watts)
        self.enough.show_between(min(enough_db, high), high)
        self.crossing.show_points([enough_db], [curve.rated_watts])
        self.here.show_points([curve.here_db], [curve.here_watts])
        self.write()

    def write(self) -> None:
        view, curve = self.shown, self.shown.curve
        marks = [(curve.here_db, curve.here_watts), (view.enough_db, curve.rated_watts)]
        sensitivities = np.linspace(*self._x_ends, 61)
        watts = np.array([view.watts_at(each) for each in sensitivities.tolist()])
        lines = [(sensitivities, watts), (sensitivities, np.full(watts.size, curve.rated_watts))]
        self.captions.show_captions(self._captions(), marks, lines)

    def table(self) -> Table:
        curve = self.shown.curve
        spare = 10.0 * np.log10(curve.rated_watts / curve.watts)
        return Table(
            (
                Column(self.tr("Sensitivity, 1 W at 1 m"), "dB", curve.sensitivity_db, 1),
                Column(self.tr("Watts needed"), "W", curve.watts, None, watts_text),
                Column(self.tr("This amplifier to spare"), "dB", spare, 1),
            ),
            "\n".join((self.sight.settings, self._marks_text())),
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        curve = self.shown.curve
        below = curve.here_db - EXAMPLE_DB
        other = below if below >= SENSITIVITY_DB[0] else curve.here_db + EXAMPLE_DB
        text = self.tr(
            "At {here} dB this seat asks {watts}; at {other} dB it would be {others}: "
            "every 3 dB halves the watts"
        )
        return text.format(
            here=level_text(curve.here_db),
            watts=watts_text(curve.here_watts),
            other=level_text(other),
            others=watts_text(self.shown.watts_at(other)),
        )

    def summary(self) -> str:
        low, high = (self.shown.watts_at(end_db) for end_db in SENSITIVITY_DB)
        text = self.tr("{headline}. {marks} The line falls from {low} at 82 dB to {high} at 112 dB.")
        return text.format(
            headline=self.headline(), marks=self._marks_text(), low=watts_text(low), high=watts_text(high)
        )

    def _marks_text(self) -> str:
        curve = self.shown.curve
        text = self.tr(
            "This loudspeaker: {here} dB for 1 W at 1 m, {watts} needed; this amplifier: {rated}, "
            "enough from {enough} dB up."
        )
        return text.format(
            here=level_text(curve.here_db),
            watts=watts_text(curve.here_watts),
            rated=watts_text(curve.rated_watts),
            enough=figure(self.shown.enough_db, 1),
        )

    def fit(self) -> None:
        view, curve = self.shown, self.shown.curve
        low = min(SENSITIVITY_DB[0], curve.here_db - STEP_DB / 2.0)
        high = max(SENSITIVITY_DB[1], curve.here_db + STEP_DB / 2.0)
        first, last = held(low - SENSITIVITY_DB[0], high - SENSITIVITY_DB[0], STEP_DB)
        self._x_ends = (first + SENSITIVITY_DB[0], last + SENSITIVITY_DB[0])
        watts = [view.watts_at(self._x_ends[1]), view.watts_at(self._x_ends[0]), curve.rated_watts]
        decades = np.log10(watts)
        self._y_ends = held(decades.min() - 0.1, decades.max() + 0.1, STEP_DECADES, self._y_ends)
        self.set_scales(_sensitivity_side(*self._x_ends), _watts_side(*self._y_ends))

    def _captions(self) -> Iterator[Caption]:
        view, curve = self.shown, self.shown.curve
        (low, high), (least, most) = self._x_ends, (self.scales.y.low, self.scales.y.high)
        text = self.tr("this loudspeaker: {watts}").format(watts=watts_text(curve.here_watts))
        yield Caption(text, curve.here_db, curve.here_watts, "accent", ((1.0, 1.0), (-1.0, -1.0)), 8.0, True)
        text = self.tr("this amplifier: {watts}").format(watts=watts_text(curve.rated_watts))
        yield Caption(text, low, curve.rated_watts, "ink", gap_px=3.0, elsewhere=((high, curve.rated_watts),))
        if low < view.enough_db < high:
            text = self.tr("enough from {enough} dB up").format(enough=figure(view.enough_db, 1))
            at_top, at_bottom = (view.enough_db, most), (view.enough_db, least)
            yield Caption(text, *at_top, "clears", gap_px=4.0, may_go=True, elsewhere=(at_bottom,))


class EfficiencyChart(SeatPanel):
    """What efficiency buys at the seat looked at, on its card."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, EfficiencyGraph(), parent)

    def _view(self) -> object:
        sight = self._sight()
        return None if sight is None else EfficiencyView(sight)


def _sensitivity_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("EfficiencyGraph", "Sensitivity, 1 W at 1 m")
    return LinearScale(title, "dB", low_db, high_db, steps=(3.0, 6.0, 12.0), origin=SENSITIVITY_DB[0])


def _watts_side(low_decade: float, high_decade: float) -> LogScale:
    title = QCoreApplication.translate("EfficiencyGraph", "Watts needed")
    side = watts_scale(title, 10.0**low_decade, 10.0**high_decade)
    return replace(side, unit="W", text=significant)
