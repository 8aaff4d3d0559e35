"""Candidates side by side, on paper: headroom of each with the range it lies in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from planner.report.content.measures import signed
from planner.report.figures.chart import Axis, Bars, Chart, Dot, Mark, Note, Rule, Tick, Zone, rounded_axis
from planner.report.gather import Case
from planner.report.language import tr

__all__ = ["compare_chart"]

HALF_BAR = 0.12


def compare_chart(cases: Sequence[Case]) -> Chart:
    """A row for each candidate: its headroom at its worst seat, and the range for eight cases of ten."""
    ranges = [case.worst.certainty.range_db for case in cases]
    low, high = min(pair[0] for pair in ranges), max(pair[1] for pair in ranges)
    x = rounded_axis(tr("Headroom at the worst seat, dB"), min(low, -1.0), max(high, 4.0))
    ticks = tuple(Tick(float(row), case.candidate.name) for row, case in enumerate(cases))
    y = Axis("", len(cases) - 0.4, -0.6, ticks)
    headline = tr("Headroom, and where it lies in eight cases of ten")
    return Chart("candidates", headline, x, y, tuple(_marks(cases, x)), rows=True)


def _marks(cases: Sequence[Case], x: Axis) -> Iterator[Mark]:
    if x.low < 0.0:
        yield Zone("x", x.low, 0.0, "short", alpha=0.07)
    yield Zone("x", 0.0, 3.0, "tight", alpha=0.12)
    yield Rule("x", 0.0, "ink")
    for row, case in enumerate(cases):
        outcome, (low, high) = case.worst.outcome, case.worst.certainty.range_db
        box = (np.array([row - HALF_BAR]), np.array([row + HALF_BAR]))
        yield Bars((np.array([low]), np.array([high])), box, (outcome.verdict,), alpha=0.35)
        yield Dot(outcome.headroom_db, float(row), outcome.verdict)
        yield Note(outcome.headroom_db, float(row), signed(outcome.headroom_db), outcome.verdict, "above")
