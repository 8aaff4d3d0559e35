"""Headroom by third octave: what each band alone would leave, and where the first limit lies."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import band_text, figure
from planner.desktop.charts.items import Bars
from planner.desktop.charts.notes import Rule, Zone
from planner.desktop.charts.scales import LinearScale, frequency_scale
from planner.desktop.charts.seat_panel import SeatChart, SeatPanel, Sight, band_column, short_name, signed
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.headroom.outcome import verdict_of
from planner.report.words import limit_text, verdict_word

__all__ = ["BandsChart", "BandsGraph"]

HALF_BAR = 10.0**0.042
STEP_DB = 6.0
MOST_DB = 48.0
WORDS_DB = 2.0


class BandsGraph(SeatChart):
    """Bars from the zero line: above it there is headroom, below it none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("BandsGraph", "Headroom by band")
        x = frequency_scale(QCoreApplication.translate("BandsGraph", "Frequency"), 17.5, 22500.0)
        super().__init__(name, x, _headroom_side(-STEP_DB, 30.0), parent)
        self._ends: Ends | None = None
        self.hardest = self.add(Zone(self.scales, "", "accent", level=False), -5)
        self.bars = self.add(Bars(self.scales, "", "edge"), 1)
        self.zero = self.add(Rule(self.scales, "", "ink", level=True), 2)
        together = self.tr("all bands together")
        self.together = self.add(Rule(self.scales, together, "ink", level=True, dash=(5.0, 3.0)), 3)
        self.captions = self.add(Captions(self.scales), 6)

    def draw(self, view: Sight) -> None:
        self.fit()
        seat, bands = view.seat, view.seat.bands
        headroom, band_hz = bands.headroom_db, seat.first_limit.band_hz
        left, right = bands.centre_hz / HALF_BAR, bands.centre_hz * HALF_BAR
        self.bars.show_bars(left, right, 0.0, headroom, self._tokens())
        self.hardest.show_between(band_hz / HALF_BAR, band_hz * HALF_BAR)
        self.zero.show_at(0.0)
        self.together.show_at(seat.headroom_db)
        self.write()

    def fit(self) -> None:
        seat = self.sight.seat
        least, most = (float(end) for end in (seat.bands.headroom_db.min(), seat.bands.headroom_db.max()))
        low, high = min(0.0, least, seat.headroom_db), min(most, MOST_DB) + WORDS_DB
        self._ends = held(low, high, STEP_DB, self._ends)
        self.set_scales(self.scales.x, _headroom_side(*self._ends))

    def write(self) -> None:
        self.captions.show_captions(self._captions())

    def table(self) -> Table:
        bands = self.sight.seat.bands
        words = tuple(verdict_word(verdict_of(value)) for value in bands.headroom_db)
        return Table(
            (
                band_column(self.tr("Band"), bands.centre_hz),
                Column(self.tr("Headroom alone"), "dB", bands.headroom_db, 1),
                Column(self.tr("Verdict"), "", words),
                Column(self.tr("Level, rms"), "dB", bands.level_db, 1),
            ),
            "\n".join((self.sight.settings, self.headline())),
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        seat = self.sight.seat
        text = (
            self.tr("First limit: {limit}, {headroom} dB to spare")
            if seat.headroom_db >= 0.0
            else self.tr("First limit: {limit}, {headroom} dB short")
        )
        limit = replace(seat.first_limit, part=short_name(seat.first_limit.part))
        return text.format(limit=limit_text(limit), headroom=figure(abs(seat.headroom_db), 1))

    def summary(self) -> str:
        bands = self.sight.seat.bands
        least = int(np.argmin(bands.headroom_db))
        text = self.tr(
            "{headline}. All bands together leave {together} dB. Each third octave alone would leave from "
            "{least} dB at {band} to {most} dB."
        )
        return text.format(
            headline=self.headline(),
            together=signed(self.sight.seat.headroom_db),
            least=signed(float(bands.headroom_db[least])),
            band=band_text(float(bands.centre_hz[least])),
            most=signed(float(bands.headroom_db.max())),
        )

    def _tokens(self) -> tuple[str, ...]:
        """A verdict's colour where a band alone does not clear, the accent on the band of the first limit."""
        seat = self.sight.seat
        verdicts = [verdict_of(value) for value in seat.bands.headroom_db]
        first = np.isclose(seat.bands.centre_hz, seat.first_limit.band_hz)
        plain = np.where(first, "accent", "edge").tolist()
        return tuple(
            token if verdict == "clears" else verdict for token, verdict in zip(plain, verdicts, strict=True)
        )

    def _captions(self) -> Iterator[Caption]:
        band_hz = self.sight.seat.first_limit.band_hz
        text = self.tr("first limit: {band}").format(band=band_text(band_hz))
        sides = ((1.0, -1.0), (-1.0, -1.0))
        yield Caption(text, band_hz * HALF_BAR, self.scales.y.high, "accent", sides, 3.0, strong=True)


class BandsChart(SeatPanel):
    """Headroom by band at the seat looked at, on its card."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, BandsGraph(), parent)


def _headroom_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("BandsGraph", "Headroom of each band alone")
    return LinearScale(title, "dB", low_db, high_db, steps=(6.0, 12.0, 24.0))
