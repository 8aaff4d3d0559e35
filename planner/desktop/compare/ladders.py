"""The level ladders of all candidates at once: the level that each has reached after every step."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import LEFT, RIGHT, Caption, Captions
from planner.desktop.charts.figures import figure
from planner.desktop.charts.notes import Rule
from planner.desktop.charts.rows import picked_rows
from planner.desktop.charts.scales import LinearScale
from planner.desktop.charts.seat_panel import level_text
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.compare.overlay import Overlay, OverlayGraph
from planner.report.words import step_name

__all__ = ["LaddersOverlay"]

FloatArray = NDArray[np.float64]
LEAST_SHOWN_DB = 0.05
STEP_DB = 5.0
EQUAL_DB = 0.05


class LaddersOverlay(OverlayGraph):
    """Steps from the top down; a line for each candidate leads from level to level."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("Compare", "Level ladders of the candidates")
        super().__init__(name, _side(80.0, 120.0), picked_rows(("",), (0,)), parent, reads_along_x=False)
        self.curves = []
        self._ends: Ends | None = None
        self.target = self.add(Rule(self.scales, "", "ink", level=False, width=1.5), 1)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def levels(self) -> FloatArray:
        """Level after each step, (candidates, steps) [dB]."""
        return np.array([[step.level_db for step in seat.ladder] for seat in self.shown.seats])

    def draw(self, view: Overlay) -> None:
        self.fit()
        rows = self._rows()
        self.show_curves([(levels[rows], np.array(rows, dtype=float)) for levels in self.levels])
        self.target.show_at(self._target_db())
        self.write()

    def fit(self) -> None:
        levels, target_db = self.levels[:, self._rows()], self._target_db()
        shown = levels if target_db is None else np.append(levels, target_db)
        self._ends = held(float(shown.min()) - 0.5, float(shown.max()) + 0.5, STEP_DB, self._ends)
        self.set_scales(_side(*self._ends), picked_rows(self._names(), tuple(self._rows())))

    def write(self) -> None:
        rows = self._rows()
        lines = [_between(levels[rows], np.array(rows, dtype=float)) for levels in self.levels]
        target_db = self._target_db()
        if target_db is not None:
            lines.append(_between(np.full(len(rows), target_db), np.array(rows, dtype=float)))
        self.captions.show_captions(self._captions(), lines=lines)

    def table(self) -> Table:
        columns = [Column(self.tr("Step"), "", self._names())]
        columns += [
            Column(name, "dB", levels, 1) for name, levels in zip(self.shown.names, self.levels, strict=True)
        ]
        return Table(tuple(columns), self.shown.settings)

    def summary(self) -> str:
        text = self.tr("{name}: from {first} dB to {last} dB.")
        said = [
            text.format(name=name, first=figure(levels[0], 1), last=figure(levels[-1], 1))
            for name, levels in zip(self.shown.names, self.levels.tolist(), strict=True)
        ]
        return f"{self.headline()}. {' '.join(said)}"

    def _names(self) -> tuple[str, ...]:
        return tuple(step_name(step.key) for step in self.shown.seats[0].ladder)

    def _rows(self) -> list[int]:
        """The first step, the last, and those between that change something for one candidate at least."""
        changes = np.array([[step.change_db for step in seat.ladder] for seat in self.shown.seats])
        some = np.any(np.abs(changes) >= LEAST_SHOWN_DB, axis=0)
        some[[0, -1]] = True
        return [int(row) for row in np.flatnonzero(some)]

    def _target_db(self) -> float | None:
        """The target, if it is the same peak for all."""
        targets = np.array([seat.peak_target_db for seat in self.shown.seats])
        return float(targets[0]) if np.ptp(targets) < EQUAL_DB else None

    def _captions(self) -> Iterator[Caption]:
        rows, target_db = self._rows(), self._target_db()
        if target_db is not None:
            text = self.tr("target {target} dB").format(target=level_text(target_db))
            yield Caption(text, target_db, float(rows[-1]), "ink", (LEFT, RIGHT), 3.0)
        order = sorted(range(len(self.levels)), key=lambda number: number != self.shown.chosen)
        for number in order:
            points = [(float(self.levels[number, row]), float(row)) for row in reversed(rows)]
            yield self.label(number, points, sides=(RIGHT, LEFT))


def _between(levels: FloatArray, rows: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A line with points between those that it has, so that words can keep clear of it.

    Rows left out of the picture have no place: a point belongs to the nearer of the two shown.
    """
    places = np.linspace(0.0, rows.size - 1.0, 12 * rows.size)
    nearer = np.rint(places)
    return np.interp(places, np.arange(rows.size), levels), rows[nearer.astype(int)] + places - nearer


def _side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("Compare", "Level after each step")
    return LinearScale(title, "dB", low_db, high_db)
