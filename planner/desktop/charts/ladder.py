"""The level ladder: from 1 W at 1 m, step by step, to the loudest peak at the seat, against the target."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.axes import LONGEST_NAME_SHARE
from planner.desktop.charts.captions import LEFT, RIGHT, Caption, Captions
from planner.desktop.charts.figures import figure
from planner.desktop.charts.items import Bars, Curve
from planner.desktop.charts.notes import Rule, Zone
from planner.desktop.charts.rows import picked_rows
from planner.desktop.charts.scales import LinearScale
from planner.desktop.charts.seat_panel import SeatChart, SeatPanel, Sight, level_text, short_name, signed
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.desktop.theme import VERDICTS, small_font
from planner.report.words import step_name

__all__ = ["LadderChart", "LadderGraph"]

FloatArray = NDArray[np.float64]
Need = tuple[float, float, float]
LEAST_SHOWN_DB = 0.05
STEP_DB = 2.0
FIRST_BAR_PX = 24.0
HALF_BAR = 0.32
SIDES_PX, LEAST_FIELD_PX = 34.0, 80.0
MOST_WORDS = 0.7
WIDEST_FIGURE = "−188.8"


class LadderGraph(SeatChart):
    """A waterfall: each bar leads from the level before a step to the level after it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        x, y = _level_side(80.0, 120.0), picked_rows(("",), (0,))
        name = QCoreApplication.translate("LadderGraph", "Level ladder")
        super().__init__(name, x, y, parent, reads_along_x=False)
        self._ends: Ends | None = None
        self.zones = {each: self.add(Zone(self.scales, "", each, level=False), -5) for each in VERDICTS}
        self.target = self.add(Rule(self.scales, "", "ink", level=False, width=1.5), 4)
        self.links = self.add(Curve(self.scales, "", "edge", width=1.0), 1)
        self.first = self.add(Bars(self.scales, "", "edge"), 2)
        self.louder = self.add(Bars(self.scales, self.tr("louder"), "series 0"), 2)
        self.quieter = self.add(Bars(self.scales, self.tr("quieter"), "series 1"), 2)
        self.headroom = self.add(Bars(self.scales, "", "ink"), 3)
        self.figures = self.add(Captions(self.scales), 6)

    def draw(self, view: Sight) -> None:
        self.fit()
        steps, seat = view.seat.ladder, view.seat
        rows = np.array(self._shown_steps())
        before = np.array([0.0, *(step.level_db for step in steps[:-1])])[rows]
        after = np.array([step.level_db for step in steps])[rows]
        before[0] = self.scales.x.low
        rising, falling = (after >= before) & (rows > 0), after < before
        self._show_rows(self.first, rows[:1], before[:1], after[:1])
        self._show_rows(self.louder, rows[rising], before[rising], after[rising])
        self._show_rows(self.quieter, rows[falling], before[falling], after[falling])
        self.links.show_points(*_links(after, [*rows, len(steps) + 1], seat.loudest_peak_db))
        self._show_headroom(seat.peak_target_db, seat.loudest_peak_db, seat.verdict)
        self.write()

    def write(self) -> None:
        self.figures.show_captions(self._captions())

    def table(self) -> Table:
        steps, seat = self.sight.seat.ladder, self.sight.seat
        changes = [np.nan, *(step.change_db for step in steps[1:]), np.nan, seat.headroom_db]
        levels = [*(step.level_db for step in steps), seat.peak_target_db, seat.loudest_peak_db]
        return Table(
            (
                Column(self.tr("Step"), "", self._names()),
                Column(self.tr("Change"), "dB", np.array(changes), 1, _change_text),
                Column(self.tr("Level"), "dB", np.array(levels), 1),
            ),
            self.sight.settings,
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        seat = self.sight.seat
        text = (
            self.tr("{peak} dB at {seat}: {headroom} dB above the {target} dB asked for")
            if seat.headroom_db >= 0.0
            else self.tr("{peak} dB at {seat}: {headroom} dB below the {target} dB asked for")
        )
        return text.format(
            peak=figure(seat.loudest_peak_db, 1),
            seat=short_name(seat.name),
            headroom=figure(abs(seat.headroom_db), 1),
            target=level_text(seat.peak_target_db),
        )

    def summary(self) -> str:
        first, *rest = (self.sight.seat.ladder[row] for row in self._shown_steps())
        parts = [f"{step_name(first.key)} {figure(first.level_db, 1)} dB"]
        parts += [
            f"{step_name(step.key)} {signed(step.change_db)} dB to {figure(step.level_db, 1)} dB"
            for step in rest
        ]
        return f"{self.headline()}. {'; '.join(parts)}."

    def _names(self) -> tuple[str, ...]:
        names = [step_name(step.key) for step in self.sight.seat.ladder]
        return (*names, self.tr("target"), self.tr("headroom"))

    def _shown_steps(self) -> list[int]:
        steps = enumerate(self.sight.seat.ladder)
        return [row for row, step in steps if row == 0 or abs(step.change_db) >= LEAST_SHOWN_DB]

    def fit(self) -> None:
        """Give every shown step a row, and the levels room for the words beside them."""
        names = self._names()
        rows = (*self._shown_steps(), len(names) - 1)
        low, high = _room_for(self._needs(), self._field_px([names[row] for row in rows]))
        self._ends = held(low, high, STEP_DB, self._ends)
        self.set_scales(_level_side(*self._ends), picked_rows(names, rows))

    def _field_px(self, names: list[str]) -> float:
        """About how wide the field is beside these names; reckoned, for its true width follows its sides."""
        metrics = QFontMetricsF(small_font(self.font()))
        widest = max(metrics.horizontalAdvance(name) for name in names)
        return max(self.width() - min(widest, LONGEST_NAME_SHARE * self.width()) - SIDES_PX, LEAST_FIELD_PX)

    def _needs(self) -> list[Need]:
        """What stands left and right of each level that is shown [dB, px, px]."""
        seat, metrics = self.sight.seat, QFontMetricsF(small_font(self.font()))
        column_px = metrics.horizontalAdvance(WIDEST_FIGURE) + 14.0
        change_px = metrics.horizontalAdvance(WIDEST_FIGURE) + 6.0
        word_px = metrics.horizontalAdvance(self._target_text()) + 12.0
        first, *rest = (seat.ladder[row] for row in self._shown_steps())
        needs = [(first.level_db, FIRST_BAR_PX, column_px)]
        needs += [
            (
                step.level_db,
                *((0.0, change_px + column_px) if step.change_db >= 0.0 else (change_px, column_px)),
            )
            for step in rest
        ]
        if seat.headroom_db >= 0.0:
            return [*needs, (seat.peak_target_db, word_px, 0.0), (seat.loudest_peak_db, 0.0, 1.5 * change_px)]
        return [*needs, (seat.peak_target_db, 0.0, word_px), (seat.loudest_peak_db, 1.5 * change_px, 0.0)]

    def _target_text(self) -> str:
        return self.tr("target {target} dB").format(target=level_text(self.sight.seat.peak_target_db))

    def _show_rows(self, bars: Bars, rows: FloatArray, before: FloatArray, after: FloatArray) -> None:
        bars.show_bars(before, after, rows - HALF_BAR, rows + HALF_BAR)

    def _show_headroom(self, target_db: float, loudest_db: float, verdict: str) -> None:
        row = len(self._names()) - 1.0
        self.target.show_at(target_db)
        ends = sorted((target_db, loudest_db))
        for each, zone in self.zones.items():
            zone.show_between(target_db, loudest_db if each == verdict else target_db)
        self.headroom.show_bars(ends[0], ends[1], row - HALF_BAR, row + HALF_BAR, (verdict,))

    def _captions(self) -> Iterator[Caption]:
        """Headroom and loudest peak, the level after each step in a column at the right, then each change."""
        seat, right = self.sight.seat, self.scales.x.high
        yield from self._headroom_captions(len(self._names()) - 1.0)
        last, *others = [(row, seat.ladder[row]) for row in reversed(self._shown_steps())]
        yield Caption(figure(last[1].level_db, 1), right, last[0], "ink", (LEFT,), 2.0, strong=True)
        for row, step in others:
            yield Caption(figure(step.level_db, 1), right, row, "muted", (LEFT,), 2.0, may_go=True)
        for row, step in (last, *others)[:-1]:
            up = step.change_db >= 0.0
            sides, token = ((RIGHT, LEFT), "series 0") if up else ((LEFT, RIGHT), "series 1")
            yield Caption(signed(step.change_db), step.level_db, row, token, sides, 3.0, may_go=True)

    def _headroom_captions(self, row: float) -> Iterator[Caption]:
        seat = self.sight.seat
        sides = (RIGHT, LEFT) if seat.headroom_db >= 0.0 else (LEFT, RIGHT)
        text = self.tr("{headroom} dB").format(headroom=signed(seat.headroom_db))
        yield Caption(text, seat.loudest_peak_db, row, seat.verdict, sides, 3.0, strong=True)
        yield Caption(self._target_text(), seat.peak_target_db, row, "ink", sides[::-1], 3.0, may_go=True)


class LadderChart(SeatPanel):
    """The level ladder of the seat looked at, on its card."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, LadderGraph(), parent)


def _level_side(low_db: float, high_db: float) -> LinearScale:
    return LinearScale(QCoreApplication.translate("LadderGraph", "Level"), "dB", low_db, high_db)


def _room_for(needs: list[Need], field_px: float) -> Ends:
    """The closest ends [dB] between which each level has so many pixels free left and right of it."""
    level, left_px, right_px = np.array(needs).T
    crowded = np.minimum((left_px[:, None] + right_px) / field_px, MOST_WORDS)
    span = float(np.max((level - level[:, None]) / (1.0 - crowded)))
    low = float(np.min(level - left_px / field_px * span))
    return low, max(low + span, float(level.max()))


def _links(levels: FloatArray, rows: list[int], loudest_db: float) -> tuple[FloatArray, FloatArray]:
    """Upright lines from the end of each bar to the row below it."""
    x = np.column_stack([levels, levels, np.full(levels.size, np.nan)])
    y = np.column_stack([rows[:-1], rows[1:], np.full(levels.size, np.nan)])
    return x.ravel(), y.astype(float).ravel()


def _change_text(change_db: float) -> str:
    return f"{signed(change_db)} dB" if np.isfinite(change_db) else figure(change_db, 1)
