"""Every limit as a bar: how far the peaks asked for stay below it, the least headroom on top."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.axes import LONGEST_NAME_SHARE
from planner.desktop.charts.captions import LEFT, RIGHT, Caption, Captions
from planner.desktop.charts.figures import band_text, figure
from planner.desktop.charts.items import Bars
from planner.desktop.charts.keys import Entry
from planner.desktop.charts.notes import Rule, Zone
from planner.desktop.charts.rows import picked_rows
from planner.desktop.charts.scales import LinearScale
from planner.desktop.charts.seat_panel import short_name, signed
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.system_panel import SystemGraph, SystemView, facts
from planner.desktop.charts.table import Column, Table
from planner.desktop.theme import small_font
from planner.headroom.outcome import TIGHT_BELOW_DB, PartLimit, verdict_of
from planner.report.content.answers import quantity_word
from planner.report.words import limit_text, verdict_word

__all__ = ["LimitsGraph"]

STEP_DB = 6.0
MOST_DB, LEAST_DB = 40.0, 6.0
SIDES_PX, LEAST_FIELD_PX, WORDS_PX = 34.0, 120.0, 14.0
MOST_WORDS = 0.7
STRONG = 1.1
"""How much wider strong letters run."""
HALF_BAR = 0.32
LEAST_ROWS = 3
ROUND_ROWS_LINES, ROUND_ROWS_PX = 2.0, 20.0
BEYOND_DB = 300.0


class LimitsGraph(SystemGraph):
    """Level bars from the zero line; those that find no room are left to the table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("LimitsGraph", "What gives out first")
        rows = picked_rows(("",), (0,))
        super().__init__(name, _headroom_side(-STEP_DB, 30.0), rows, parent, reads_along_x=False)
        self._ends: Ends | None = None
        self.zones = {
            verdict: self.add(Zone(self.scales, "", verdict, level=False), -5)
            for verdict in ("short", "tight")
        }
        self.bars = self.add(Bars(self.scales, "", "edge"), 1)
        self.zero = self.add(Rule(self.scales, "", "ink", level=False, width=1.5), 2)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def limits(self) -> tuple[PartLimit, ...]:
        """Every limit at the seat, the least headroom first."""
        return self.sight.seat.limits

    def draw(self, view: SystemView) -> None:
        self.fit()
        rows = np.arange(len(self.limits))
        headroom = np.array([limit.headroom_db for limit in self.limits])
        ends = np.clip(headroom, self.scales.x.low, MOST_DB)
        self.bars.show_bars(
            np.minimum(0.0, ends), np.maximum(0.0, ends), rows - HALF_BAR, rows + HALF_BAR, self._tokens()
        )
        self.zones["short"].show_between(-BEYOND_DB, 0.0)
        self.zones["tight"].show_between(0.0, TIGHT_BELOW_DB)
        self.zero.show_at(0.0)
        self.write()

    def fit(self) -> None:
        """Give the first limits a row each, as many as there is room for."""
        names = self._names()
        line_px = QFontMetricsF(small_font(self.font())).height()
        room_px = self.height() - ROUND_ROWS_LINES * line_px - ROUND_ROWS_PX
        count = max(LEAST_ROWS, min(len(names), int(room_px / line_px)))
        shown = tuple(range(min(count, len(names))))
        low = held(min(0.0, self.limits[0].headroom_db), MOST_DB, STEP_DB, self._ends)[0]
        high = self._room_for([names[row] for row in shown], low)
        self._ends = held(low, high, STEP_DB, self._ends)
        self.set_scales(_headroom_side(*self._ends), picked_rows(names, shown))

    def _room_for(self, names: list[str], low: float) -> float:
        """The right end that leaves room for the words of every bar; reckoned, for the field follows it."""
        small = QFontMetricsF(small_font(self.font()))
        words_px = STRONG * max(small.horizontalAdvance(self._words(one)) for one in self.limits) + WORDS_PX
        beside = min(max(small.horizontalAdvance(name) for name in names), LONGEST_NAME_SHARE * self.width())
        field_px = max(self.width() - beside - SIDES_PX, LEAST_FIELD_PX)
        reach = max(LEAST_DB, min(self.limits[: len(names)][-1].headroom_db, MOST_DB)) - low
        return low + reach / (1.0 - min(words_px / field_px, MOST_WORDS))

    def write(self) -> None:
        self.captions.show_captions(self._captions())

    def table(self) -> Table:
        limits = self.limits
        return Table(
            (
                Column(self.tr("Limit"), "", self._names()),
                Column(
                    self.tr("Headroom"),
                    "dB",
                    np.array([one.headroom_db for one in limits]),
                    1,
                    _headroom_text,
                ),
                Column(self.tr("Hardest band"), "", tuple(band_text(one.band_hz) for one in limits)),
                Column(
                    self.tr("Verdict"), "", tuple(verdict_word(verdict_of(one.headroom_db)) for one in limits)
                ),
            ),
            "\n".join((self.sight.settings, self.headline(), *self._facts())),
        )

    def key_entries(self) -> list[Entry]:
        return facts(self._facts()) if self.has_data else []

    def reading_entries(self, row: int) -> list[Entry]:
        limit = self.limits[row]
        verdict = verdict_word(verdict_of(limit.headroom_db))
        return [(None, f"{self._names()[row]}: {self._words(limit)}, {verdict}")]

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        first = self.limits[0]
        text = (
            self.tr("{limit} gives out first, with {headroom} dB to spare")
            if first.headroom_db >= 0.0
            else self.tr("{limit} gives out first, {headroom} dB short")
        )
        limit = limit_text(replace(first, part=short_name(first.part)))
        return text.format(
            limit=f"{limit[:1].upper()}{limit[1:]}", headroom=figure(abs(first.headroom_db), 1)
        )

    def summary(self) -> str:
        told = "; ".join(f"{limit_text(one)} {signed(one.headroom_db)} dB" for one in self.limits)
        text = self.tr("{headline}. From the first to the last: {limits}. {facts}")
        return text.format(
            headline=self.headline(), limits=told, facts=" ".join(f"{fact}." for fact in self._facts())
        ).strip()

    def _names(self) -> tuple[str, ...]:
        """Quantity before part, so that a long name loses its end and not what it is about."""
        return tuple(
            self.tr("{quantity}, {part}").format(quantity=quantity_word(one.quantity), part=one.part)
            for one in self.limits
        )

    def _facts(self) -> Iterator[str]:
        sections = self.shown.candidate.loudspeaker.sections
        unsaid = ", ".join(one.name for one in sections if one.limits is None)
        if unsaid:
            yield self.tr("No limits in the plan for {names}").format(names=unsaid)
        left_out = len(self.limits) - len(self.scales.y.picked)
        if left_out > 0:
            yield self.tr("{count} more in the table").format(count=left_out)

    def _tokens(self) -> tuple[str, ...]:
        verdicts = [verdict_of(one.headroom_db) for one in self.limits]
        plain = ["accent", *["edge"] * (len(verdicts) - 1)]
        return tuple(
            token if verdict == "clears" else verdict for token, verdict in zip(plain, verdicts, strict=True)
        )

    def _captions(self) -> Iterator[Caption]:
        for row, (limit, token) in enumerate(zip(self.limits, self._tokens(), strict=True)):
            end = float(np.clip(limit.headroom_db, 0.0, MOST_DB))
            ink = "ink" if token == "edge" else token
            yield Caption(self._words(limit), end, row, ink, (RIGHT, LEFT), 4.0, strong=row == 0)

    def _words(self, limit: PartLimit) -> str:
        text = self.tr("{headroom} dB at {band}")
        return text.format(headroom=signed(limit.headroom_db), band=band_text(limit.band_hz))


def _headroom_text(headroom_db: float) -> str:
    return f"{signed(headroom_db)} dB"


def _headroom_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("LimitsGraph", "Headroom")
    return LinearScale(title, "dB", low_db, high_db, steps=(3.0, 6.0, 12.0, 24.0))
