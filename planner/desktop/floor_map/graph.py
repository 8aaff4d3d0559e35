"""The chart of the floor: coloured by what is heard there, with seats, stands and the line of the target."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import BELOW, LEFT, RIGHT, Caption, Captions
from planner.desktop.charts.keys import Entry
from planner.desktop.charts.seat_panel import Sight, short_name
from planner.desktop.charts.table import Column, Table
from planner.desktop.floor_map import words
from planner.desktop.floor_map.cross import CrossReader
from planner.desktop.floor_map.heat import Heat, Line
from planner.desktop.floor_map.quantity import Choice, Quantity
from planner.desktop.floor_map.scaled import ScaledChart, side
from planner.desktop.floor_map.steps import Steps, steps_for
from planner.desktop.floor_map.things import Things
from planner.desktop.floor_map.view import MapView
from planner.plan.units import display_unit, to_display

__all__ = ["FloorMapGraph"]

SPOTS_FOR_WORDS = 4
ROOMY_LINES, ROOMY_LETTERS = 17, 70
NAME_GAP_PX = 13.0


class FloorMapGraph(ScaledChart):
    """The floor to scale in steps of colour, drawn in the turn of the event loop after its answer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("FloorMap", "Map of the floor")
        super().__init__(name, parent)
        self._steps: Steps | None = None
        self._steps_of: Quantity | None = None
        self.heat = self.add(Heat(self.scales), 0)
        self.line = self.add(Line(self.scales), 2)
        self.things = self.add(Things(self.scales), 3)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> MapView:
        """What is shown."""
        view: MapView = self.view
        return view

    @property
    def sight(self) -> Sight:
        return self.shown.sight

    @property
    def cross(self) -> CrossReader:
        """What reads the map."""
        reader = self._reader
        assert isinstance(reader, CrossReader), "a map is read at any place"
        return reader

    # What a chart says.

    def draw(self, view: MapView) -> None:
        self.fit()
        quantity = view.choice.quantity
        self._steps = steps_for(view.values, self._steps if quantity is self._steps_of else None)
        self._steps_of = quantity
        sight, floor = view.sight, view.map.floor
        self.heat.show_values(view.closed, self._steps)
        self.line.show_level(view.contoured, 0.0)
        self.things.show_things(sight.plan, sight.candidate, sight.place, floor)
        mark = view.mark if len(self.line.pieces) else None
        self.bar.show_steps(view.title, self._steps, view.span_db, mark)
        self.write()

    def fit(self) -> None:
        view = self.shown
        floor, unit = view.map.floor, display_unit("m", view.preference)
        ends = [
            (view.place(low), view.place(low + length))
            for low, length in ((floor.x_m, floor.length_m), (floor.y_m, floor.width_m))
        ]
        self.set_scales(*(side(*named, *end) for named, end in zip(self._named(unit), ends, strict=True)))

    def write(self) -> None:
        view = self.shown
        things = [*view.sight.plan.seats, *view.sight.plan.stands]
        marks = [(view.place(thing.x_m), view.place(thing.y_m)) for thing in things]
        self.captions.show_captions((*self._seat_captions(), *self._line_captions()), marks)

    def table(self) -> Table:
        view = self.shown
        floor, unit = view.map, display_unit("m", view.preference)
        sides = (to_display(side, "m", view.preference) for side in (floor.x_m, floor.y_m))
        x, y = np.meshgrid(*sides, indexing="ij")
        columns = [
            Column("x", unit, x.ravel(), 2),
            Column("y", unit, y.ravel(), 2),
            Column(Quantity.PEAK.title, "dB", floor.loudest_peak_db.ravel(), 1),
            Column(Quantity.HEADROOM.title, "dB", floor.headroom_db.ravel(), 1),
        ]
        if view.sight.plan.room is not None:
            choice = Choice(Quantity.GAIN, view.choice.band)
            title = choice.title(view.sight.seat.bands.centre_hz)
            columns.append(Column(title, "dB", choice.over(floor).ravel(), 1))
        return Table(tuple(columns), "\n".join((view.sight.settings, self.headline())))

    def headline(self) -> str:
        return words.headline(self.shown) if self.has_data else super().headline()

    def summary(self) -> str:
        return words.summary(self.shown)

    # Reading.

    def reading(self) -> str:
        return "   ".join(text for _, text in self.reading_entries(0)) if self.cross.spot is not None else ""

    def reading_entries(self, row: int) -> list[Entry]:
        view, spot = self.shown, self.cross.spot
        seat = view.sight.plan.seats[view.sight.place]
        # Without a reading: what one would look like, so that room is kept for it.
        at = (seat.x_m, seat.y_m) if spot is None else spot
        exact, barred = self.cross.exact, self.cross.barred
        return [(None, text) for text in words.reading(view, at, exact, barred)]

    def read_exactly(self) -> None:
        """Compute the full answer at the place that is read."""
        if self.cross.spot is not None and self.has_data:
            self.cross.know(self.shown.exactly(self.cross.spot))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.cross.walk(event):
            self._ring.setVisible(True)
            event.accept()
        else:
            super().keyPressEvent(event)

    # Inside.

    def _made_reader(self, along_x: bool) -> CrossReader:
        return CrossReader(self)

    def _named(self, unit: str) -> tuple[tuple[str, str], tuple[str, str]]:
        """Title and unit of both sides; where there is little room for the map one unit must do."""
        if not self._roomy():
            return ("", ""), ("", unit)
        if self.sight.plan.room is None:
            return ("x", unit), ("y", unit)
        return (self.tr("From the front wall"), unit), (self.tr("From the left wall"), unit)

    def _roomy(self) -> bool:
        """Whether there is room for more than the map and its figures."""
        metrics = self.fontMetrics()
        return (
            self.height() > ROOMY_LINES * metrics.height()
            and self.width() > ROOMY_LETTERS * metrics.averageCharWidth()
        )

    def _seat_captions(self) -> Iterator[Caption]:
        view = self.shown
        sides = (RIGHT, LEFT, BELOW, (0.0, 1.0))
        for number, (seat, answer) in enumerate(
            zip(view.sight.plan.seats, view.sight.outcome.seats, strict=True)
        ):
            figure = view.choice.text(view.choice.at(answer))
            text = f"{short_name(seat.name)}  {figure}" if self._roomy() else figure
            chosen = number == view.sight.place
            token = "accent" if chosen else "ink"
            at = view.place(seat.x_m), view.place(seat.y_m)
            yield Caption(text, *at, token, sides, NAME_GAP_PX, chosen, may_go=not chosen)

    def _line_captions(self) -> Iterator[Caption]:
        points = self._free_points()
        if points:
            (x, y), *others = points
            text = words.target_text(self.shown)
            sides = ((0.0, 1.0), BELOW, RIGHT, LEFT)
            yield Caption(text, x, y, "ink", sides, 4.0, may_go=True, elsewhere=tuple(others))

    def _free_points(self) -> list[tuple[float, float]]:
        """Points of the line that lie well away from the things on the floor and from its edges."""
        if not len(self.line.pieces):
            return []
        middles = self.line.pieces.mean(axis=1)
        plan, floor = self.sight.plan, self.shown.map.floor
        low, size = np.array([floor.x_m, floor.y_m]), np.array([floor.length_m, floor.width_m])
        things = np.array([thing.position_m[:2] for thing in (*plan.seats, *plan.stands)])
        away = np.linalg.norm(middles[:, None, :] - (things - low) / size, axis=-1).min(axis=1)
        inside = np.minimum(middles, 1.0 - middles).min(axis=1)
        best = np.argsort(-np.minimum(away, inside))[:: max(1, len(middles) // 40)][:SPOTS_FOR_WORDS]
        x, y = self.scales.x, self.scales.y
        return [
            (x.low + across * (x.high - x.low), y.low + up * (y.high - y.low))
            for across, up in middles[best].tolist()
        ]
