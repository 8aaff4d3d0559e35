"""A quantity by third octave for all candidates at once."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import band_text
from planner.desktop.charts.notes import Rule
from planner.desktop.charts.scales import LinearScale, frequency_scale
from planner.desktop.charts.seat_panel import band_column, signed
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.compare.overlay import Kind, Overlay, OverlayGraph, widest_gaps
from planner.headroom.outcome import SeatOutcome

__all__ = ["BandsOverlay"]

FloatArray = NDArray[np.float64]
STEP_DB = 6.0
MOST_DB, DEEPEST_DB = 48.0, 48.0


class BandsOverlay(OverlayGraph):
    """Headroom, level or room gain by third octave, a curve for each candidate."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("Compare", "Candidates by band")
        x = frequency_scale(QCoreApplication.translate("Compare", "Frequency"), 17.5, 22500.0)
        super().__init__(name, x, _side(Kind.HEADROOM, -6.0, 30.0), parent)
        self.curves = []
        self._ends: Ends | None = None
        self._kind = Kind.HEADROOM
        self.zero = self.add(Rule(self.scales, "", "ink", level=True), 1)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def values(self) -> FloatArray:
        """The quantity shown, (candidates, bands) [dB]."""
        return np.array([_quantity(self.shown.kind, seat) for seat in self.shown.seats])

    @property
    def centre_hz(self) -> FloatArray:
        """Mid frequencies of the bands (bands,) [Hz]."""
        return self.shown.seats[0].bands.centre_hz

    def draw(self, view: Overlay) -> None:
        self.fit()
        self.show_curves([(self.centre_hz, values) for values in self.values])
        self.zero.show_at(None if view.kind is Kind.LEVEL else 0.0)
        self.write()

    def fit(self) -> None:
        """Leave out what nobody asks about: bands far from any limit, and levels far below the loudest."""
        values = self.values
        if self.shown.kind is Kind.LEVEL:
            high = float(values.max()) + 1.0
            low = max(float(values.min()), high - DEEPEST_DB)
        else:
            low, high = min(0.0, float(values.min())) - 1.0, min(float(values.max()), MOST_DB) + 1.0
        now = self._ends if self._kind is self.shown.kind else None
        self._ends, self._kind = held(low, high, STEP_DB, now), self.shown.kind
        self.set_scales(self.scales.x, _side(self._kind, *self._ends))

    def write(self) -> None:
        lines = [_between(self.centre_hz, values) for values in self.values]
        self.captions.show_captions(self._captions(), lines=lines)

    def table(self) -> Table:
        columns = [band_column(self.tr("Band"), self.centre_hz)]
        columns += [
            Column(name, "dB", values, 1) for name, values in zip(self.shown.names, self.values, strict=True)
        ]
        return Table(tuple(columns), self.shown.settings)

    def summary(self) -> str:
        said = [self._said(name, values) for name, values in zip(self.shown.names, self.values, strict=True)]
        return f"{self.headline()}. {' '.join(said)}"

    def _said(self, name: str, values: FloatArray) -> str:
        least, most = int(np.argmin(values)), int(np.argmax(values))
        text = self.tr("{name}: from {least} dB at {low} to {most} dB at {high}.")
        return text.format(
            name=name,
            least=signed(float(values[least])),
            low=band_text(float(self.centre_hz[least])),
            most=signed(float(values[most])),
            high=band_text(float(self.centre_hz[most])),
        )

    def _captions(self) -> Iterator[Caption]:
        """Names where the curves lie apart; that of the candidate looked at is placed first."""
        seen = np.clip(self.values, *self._ends) if self._ends is not None else self.values
        order = sorted(range(len(seen)), key=lambda number: number != self.shown.chosen)
        for number in order:
            places = widest_gaps(seen, number)
            yield self.label(number, [(float(self.centre_hz[at]), float(seen[number, at])) for at in places])


def _quantity(kind: Kind, seat: SeatOutcome) -> FloatArray:
    bands = seat.bands
    return {Kind.HEADROOM: bands.headroom_db, Kind.LEVEL: bands.level_db}.get(kind, bands.room_gain_db)


def _between(centre_hz: FloatArray, values: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A curve with points between those that it has, so that words can keep clear of it."""
    places = np.linspace(0.0, values.size - 1.0, 8 * values.size)
    numbers = np.arange(values.size)
    return (
        np.exp(np.interp(places, numbers, np.log(centre_hz))),
        np.interp(places, numbers, values),
    )


def _side(kind: Kind, low_db: float, high_db: float) -> LinearScale:
    title = {
        Kind.HEADROOM: QCoreApplication.translate("Compare", "Headroom of each band alone"),
        Kind.LEVEL: QCoreApplication.translate("Compare", "Level at the seat, rms"),
    }.get(kind, QCoreApplication.translate("Compare", "Room gain"))
    return LinearScale(title, "dB", low_db, high_db, steps=(6.0, 12.0, 24.0))
