"""Level against distance: direct and reverberant sound, the critical distance, and the seat."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import figure
from planner.desktop.charts.items import Curve, Marks
from planner.desktop.charts.notes import Rule
from planner.desktop.charts.scales import LinearScale
from planner.desktop.charts.seat_panel import SeatChart, SeatPanel, Sight, level_text, short_name
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.headroom.curves import DistanceCurve, level_against_distance
from planner.plan.units import Preference, display_unit, show, to_display

__all__ = ["DistanceChart", "DistanceGraph"]

STEP_DB = 5.0
WORDS_DB = 2.0
STEPS_ACROSS = {Preference.METRIC: 1.0, Preference.US: 5.0}


@dataclass(frozen=True, eq=False)
class DistanceView:
    """What is looked at, the units to show it in, and its curves once somebody asks for them."""

    sight: Sight
    preference: Preference

    @cached_property
    def curve(self) -> DistanceCurve:
        """Levels against distance; these few milliseconds are spent only where they are seen."""
        return level_against_distance(self.sight.plan, self.sight.candidate, self.sight.place)

    def place(self, distance_m: float) -> float:
        """A distance in the units shown."""
        return to_display(distance_m, "m", self.preference)

    def length_text(self, distance_m: float) -> str:
        """A distance as people say it: to the centimetre, or to the inch."""
        return show(distance_m, "m", self.preference, 0 if self.preference is Preference.US else 2)


class DistanceGraph(SeatChart):
    """The loudest peak on the way from the loudspeakers through the seat to the far end of the room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("DistanceGraph", "Level against distance")
        super().__init__(name, _distance_side(0.0, 8.0, "m"), _level_side(80.0, 120.0), parent)
        self._x_ends: tuple[Preference, Ends] | None = None
        self._y_ends: Ends | None = None
        self.critical = self.add(Rule(self.scales, "", "muted", level=False, dash=(4.0, 3.0)), 0)
        self.target = self.add(Rule(self.scales, "", "ink", level=True), 1)
        self.direct = self.add(Curve(self.scales, self.tr("Direct"), "series 1"), 3)
        self.reverberant = self.add(Curve(self.scales, self.tr("Reverberant"), "series 2"), 2)
        self.together = self.add(Curve(self.scales, self.tr("Together"), "series 0"), 4)
        self.here = self.add(Marks(self.scales, self.tr("The seat"), "accent", "d", 14.0), 5)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> DistanceView:
        """What is looked at, with its curves."""
        view: DistanceView = self.view
        return view

    @property
    def sight(self) -> Sight:
        return self.shown.sight

    def draw(self, view: DistanceView) -> None:
        self.fit()
        curve, in_room = view.curve, view.curve.reverberant_db is not None
        reverberant = (
            np.full(curve.distance_m.size, np.nan) if curve.reverberant_db is None else curve.reverberant_db
        )
        distance = to_display(curve.distance_m, "m", view.preference)
        self.direct.show_points(distance, curve.direct_db)
        for part in (self.together, self.reverberant):
            part.setVisible(in_room)
        self.together.show_points(distance, curve.together_db)
        self.reverberant.show_points(distance, reverberant)
        self.critical.show_at(None if curve.critical_m is None else view.place(curve.critical_m))
        self.target.show_at(curve.target_db)
        self.here.show_points([view.place(curve.seat_m)], [curve.seat_db])
        self.write()

    def write(self) -> None:
        curve = self.shown.curve
        marks = [(self.shown.place(curve.seat_m), curve.seat_db)]
        self.captions.show_captions(self._captions(), marks, self._lines())

    def table(self) -> Table:
        view, curve = self.shown, self.shown.curve
        unit = display_unit("m", view.preference)
        distance = to_display(curve.distance_m, "m", view.preference)
        columns = [Column(self.tr("Distance"), unit, distance, 2)]
        if curve.reverberant_db is not None:
            columns.append(Column(self.tr("Together"), "dB", curve.together_db, 1))
        columns.append(Column(self.tr("Direct"), "dB", curve.direct_db, 1))
        if curve.reverberant_db is not None:
            columns.append(Column(self.tr("Reverberant"), "dB", curve.reverberant_db, 1))
        return Table(tuple(columns), "\n".join((self.sight.settings, self._marks_text())))

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        view, curve = self.shown, self.shown.curve
        if curve.reverberant_db is None:
            return self.tr("In open air every doubling of the distance costs 6 dB")
        if curve.critical_m is not None:
            text = self.tr("From {distance} on the room is louder than the direct sound")
            return text.format(distance=view.length_text(curve.critical_m))
        if curve.direct_db[0] < curve.reverberant_db[0]:
            return self.tr("The room is louder than the direct sound everywhere")
        return self.tr("The direct sound is louder than the room everywhere")

    def summary(self) -> str:
        curve = self.shown.curve
        text = self.tr(
            "{headline}. {marks} From {near} to {far} the loudest peak falls from {most} to {least} dB."
        )
        return text.format(
            headline=self.headline(),
            marks=self._marks_text(),
            near=self.shown.length_text(float(curve.distance_m[0])),
            far=self.shown.length_text(float(curve.distance_m[-1])),
            most=figure(float(curve.together_db[0]), 1),
            least=figure(float(curve.together_db[-1]), 1),
        )

    def _marks_text(self) -> str:
        curve = self.shown.curve
        text = self.tr(
            "{seat}: {distance} from the nearest loudspeaker, loudest peak {peak} dB, target {target} dB."
        )
        told = text.format(
            seat=self.sight.seat.name,
            distance=self.shown.length_text(curve.seat_m),
            peak=figure(curve.seat_db, 1),
            target=level_text(curve.target_db),
        )
        return told if curve.reverberant_db is None else f"{told} {self._modes_text()}"

    def _modes_text(self) -> str:
        return self.tr("The curves are without room modes, the seat's own figure is with them.")

    def fit(self) -> None:
        view, curve = self.shown, self.shown.curve
        same_units = self._x_ends is not None and self._x_ends[0] is view.preference
        now = self._x_ends[1] if self._x_ends is not None and same_units else None
        step, far = STEPS_ACROSS[view.preference], view.place(float(curve.distance_m[-1]))
        self._x_ends = (view.preference, held(0.0, far, step, now))
        lows = [float(curve.direct_db[-1]), curve.target_db, curve.seat_db]
        highs = [float(curve.together_db[0]), curve.target_db, curve.seat_db]
        self._y_ends = held(min(lows) - WORDS_DB, max(highs), STEP_DB, self._y_ends)
        unit = display_unit("m", view.preference)
        self.set_scales(_distance_side(*self._x_ends[1], unit), _level_side(*self._y_ends))

    def _lines(self) -> list[tuple[ArrayLike, ArrayLike]]:
        """What words should not stand on."""
        curve, (low, high) = self.shown.curve, (self.scales.x.low, self.scales.x.high)
        distance = to_display(curve.distance_m, "m", self.shown.preference)
        reverberant = [] if curve.reverberant_db is None else [(distance, curve.reverberant_db)]
        target = (np.linspace(low, high, distance.size), curve.target_db)
        return [target, (distance, curve.together_db), (distance, curve.direct_db), *reverberant]

    def _captions(self) -> Iterator[Caption]:
        view, curve = self.shown, self.shown.curve
        x, y = self.scales.x, self.scales.y
        name = short_name(self.sight.seat.name)
        text = self.tr("{seat}: {peak} dB").format(seat=name, peak=figure(curve.seat_db, 1))
        yield Caption(text, view.place(curve.seat_m), curve.seat_db, "accent", gap_px=8.0, strong=True)
        text = self.tr("target {target} dB").format(target=level_text(curve.target_db))
        yield Caption(text, x.high, curve.target_db, "ink", gap_px=3.0, elsewhere=((x.low, curve.target_db),))
        if curve.critical_m is not None:
            text = self.tr("critical distance {distance}").format(distance=view.length_text(curve.critical_m))
            at_bottom = ((view.place(curve.critical_m), y.low),)
            yield Caption(
                text, view.place(curve.critical_m), y.high, "muted", gap_px=3.0, elsewhere=at_bottom
            )
        if curve.reverberant_db is not None:
            text = self.tr("curves without room modes")
            yield Caption(text, x.low, y.low, "muted", gap_px=3.0, elsewhere=((x.high, y.low),), may_go=True)


class DistanceChart(SeatPanel):
    """Level against distance at the seat looked at, on its card."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, DistanceGraph(), parent)
        settings().units_changed.connect(self._follow)

    def _view(self) -> object:
        sight = self._sight()
        return None if sight is None else DistanceView(sight, settings().units)


def _distance_side(low: float, high: float, unit: str) -> LinearScale:
    title = QCoreApplication.translate("DistanceGraph", "Distance from the loudspeakers")
    return LinearScale(title, unit, low, high, steps=(1.0, 2.0, 5.0, 10.0, 20.0, 50.0))


def _level_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("DistanceGraph", "Loudest peak")
    return LinearScale(title, "dB", low_db, high_db, steps=(5.0, 10.0, 20.0))
