"""The level ladder on paper: from 1 W at 1 m, step by step, to the loudest peak at the seat."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planner.headroom.outcome import SeatOutcome, Step
from planner.report.content.measures import figure, signed
from planner.report.figures.chart import Axis, Bars, Chart, Curve, Mark, Note, Rule, Side, Tick
from planner.report.language import tr
from planner.report.words import step_name

__all__ = ["LEAST_SHOWN_DB", "ladder_chart"]

LEAST_SHOWN_DB = 0.05
HALF_BAR = 0.31
ROOM_FOR_WORDS = 0.17
STEPS_DB = (2.0, 5.0, 10.0)
MOST_TICKS = 7


def ladder_chart(seat: SeatOutcome) -> Chart:
    """A bar leads from the level before a step to that after it; steps that change nothing are left out."""
    first, *rest = seat.ladder
    steps = [first, *(step for step in rest if abs(step.change_db) >= LEAST_SHOWN_DB)]
    x = _level_axis(steps, seat)
    names = [*(step_name(step.key) for step in steps), tr("asked for")]
    ticks = tuple(Tick(float(row), name) for row, name in enumerate(names))
    headline = tr("From 1 W at 1 m to {peak} dB at {seat}", peak=figure(seat.loudest_peak_db), seat=seat.name)
    rows = Axis("", len(names) - 0.4, -0.6, ticks)
    return Chart("ladder", headline, x, rows, tuple(_marks(steps, seat, x)), rows=True)


def _level_axis(steps: list[Step], seat: SeatOutcome) -> Axis:
    """Room for every level and for the words beside the outermost."""
    levels = [step.level_db for step in steps] + [seat.peak_target_db]
    spare = ROOM_FOR_WORDS * max(max(levels) - min(levels), 6.0)
    low, high = min(levels) - 1.2 * spare, max(levels) + 1.45 * spare
    step = next((one for one in STEPS_DB if (high - low) / one <= MOST_TICKS), 20.0)
    values = np.arange(np.ceil(low / step), np.floor(high / step) + 1.0) * step
    return Axis(tr("dB re 20 µPa"), low, high, tuple(Tick(float(one), f"{one:.0f}") for one in values))


def _marks(steps: list[Step], seat: SeatOutcome, x: Axis) -> Iterator[Mark]:
    rows = np.arange(len(steps) + 1, dtype=float)
    after = np.array([step.level_db for step in steps])
    before = np.array([x.low, *after[:-1]])
    tokens = tuple(
        "edge" if row == 0 else "series 0" if after[row] >= before[row] else "series 1"
        for row in range(len(steps))
    )
    last = len(steps)
    yield Rule("x", seat.peak_target_db, "ink", dash=(2.0, 2.0))
    for row, level in enumerate(after):
        yield Curve(np.array([level, level]), np.array([row, row + 1.0]), "edge", width_pt=0.5)
    yield Bars((before, after), (rows[:-1] - HALF_BAR, rows[:-1] + HALF_BAR), tokens)
    low, high = sorted((seat.peak_target_db, seat.loudest_peak_db))
    box = (np.array([last - HALF_BAR]), np.array([last + HALF_BAR]))
    yield Bars((np.array([low]), np.array([high])), box, (seat.verdict,))
    yield Note(after[0], 0.0, figure(after[0]), "ink", plate=True)
    for row, step in enumerate(steps[1:], start=1):
        up = step.change_db >= 0.0
        yield Note(
            after[row], float(row), signed(step.change_db), tokens[row], "right" if up else "left", plate=True
        )
    side: Side = "right" if seat.headroom_db >= 0.0 else "left"
    yield Note(seat.loudest_peak_db, last, signed(seat.headroom_db), seat.verdict, side, strong=True)
    other: Side = "left" if side == "right" else "right"
    yield Note(seat.peak_target_db, last, figure(seat.peak_target_db), "ink", other)
