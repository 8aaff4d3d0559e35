"""Charts that follow the document: they show the seat and the candidate that are looked at."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication, QEvent, QLocale
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.base import Chart
from planner.desktop.charts.figures import figure, frequency_text, nominal_hz
from planner.desktop.charts.panel import ChartPanel
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.headroom.outcome import Outcome, SeatOutcome
from planner.headroom.placed import in_its_places
from planner.plan import Plan
from planner.report import words

__all__ = [
    "SeatChart",
    "SeatPanel",
    "Sight",
    "band_column",
    "level_text",
    "short_name",
    "signed",
    "watts_text",
]

LONGEST_NAME = 32


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """What is looked at: a plan that could be computed, its outcome for one candidate, and a seat of it."""

    plan: Plan
    candidate: int
    outcome: Outcome
    place: int

    @property
    def seat(self) -> SeatOutcome:
        """The answer at the seat."""
        return self.outcome.seats[self.place]

    @property
    def settings(self) -> str:
        """For what the figures hold, as it stands at the head of saved tables."""
        line = QCoreApplication.translate("SeatChart", "{candidate} at {seat}, target {target} dB peak")
        told = line.format(
            candidate=self.outcome.candidate,
            seat=self.seat.name,
            target=level_text(self.seat.peak_target_db),
        )
        return "\n".join(text for text in (self.plan.title, told) if text)


class SeatChart(Chart):
    """A chart of the answer at one seat; without an answer it shows its sides and nothing else."""

    @property
    def sight(self) -> Sight:
        """What is looked at."""
        found: Sight = self.view
        return found

    def fit(self) -> None:
        """Choose the sides for the data, the size and the font there are."""

    def write(self) -> None:
        """Put the words where they belong on the sides there are."""

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        # pyqtgraph calls this while it is being made, with nothing.
        super().resizeEvent(event)
        self._fit_again()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit_again()

    def _describe(self) -> None:
        # Words cost as much as the curves they tell of; those of a chart that nobody sees can wait.
        if not self._stale:
            super()._describe()

    def _fit_again(self) -> None:
        if self._ready and self.has_data and not self._stale:
            self.fit()
            self.write()

    def show_data(self, view: Any) -> None:
        """Show *view* now or when seen; None empties the chart."""
        self.plotItem.vb.childGroup.setVisible(view is not None)
        super().show_data(view)
        if view is None:
            self._reader.refresh()
            self.setAccessibleDescription(QCoreApplication.translate("SeatChart", "No answer yet."))


class SeatPanel(ChartPanel):
    """A panel that keeps its chart in step with a document.

    While the plan cannot be computed the chart goes on showing the last one that could, dimmed.
    """

    def __init__(self, document: PlanDocument, chart: SeatChart, parent: QWidget | None = None) -> None:
        super().__init__(chart, parent)
        self._document = document
        self._plan = None if document.stale else document.shown
        document.solved.connect(self._take_solved)
        document.chosen.connect(self._follow)
        self._follow()

    def _take_solved(self) -> None:
        # Outcomes lag behind the plan by a turn of the event loop; just now they belong together.
        if not self._document.stale:
            self._plan = self._document.shown
        self._follow()

    def _follow(self) -> None:
        view = self._view()
        self.chart.show_data(view)
        if view is None:
            self._model.show_table(Table(()))
        if self.chart.stale_look != self._document.stale:
            self.set_stale_look(self._document.stale)

    def _view(self) -> object:
        """What the chart is to show, None for nothing."""
        return self._sight()

    def _sight(self) -> Sight | None:
        document, outcome = self._document, self._document.outcome
        if outcome is None or self._plan is None:
            return None
        candidate = min(document.candidate, len(document.outcomes) - 1)
        return Sight(
            plan=in_its_places(self._plan, candidate),
            candidate=candidate,
            outcome=outcome,
            place=min(document.seat, len(outcome.seats) - 1),
        )


def band_column(title: str, centre_hz: NDArray[np.float64]) -> Column:
    """Third octaves by the nominal frequencies that people know them by."""
    return Column(title, "Hz", np.array([nominal_hz(hz) for hz in centre_hz.tolist()]), None, frequency_text)


def level_text(level_db: float) -> str:
    """A level as one says it: without decimals where it has none."""
    return figure(level_db, 0 if abs(level_db - round(level_db)) < 0.05 else 1)


def short_name(name: str) -> str:
    """A name that other people gave, cut where it would crowd out the figures beside it."""
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1].rstrip()}…"


def signed(change_db: float) -> str:
    """A change with its sign, and nothing said where there is none."""
    text = figure(change_db, 1)
    return f"+{text}" if change_db > 0.0 and text != figure(0.0, 1) else text


def watts_text(watts: float) -> str:
    """Watts as all faces of the program write them, with the reader's decimal mark."""
    return words.watts_text(watts).replace(".", QLocale().decimalPoint())
