"""Every chart of a report, to be saved one by one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.plan.units import Preference
from planner.report.figures.bands import headroom_chart, room_gain_chart, span_chart
from planner.report.figures.chart import Chart
from planner.report.figures.compare import compare_chart
from planner.report.figures.distance import distance_chart
from planner.report.figures.efficiency import efficiency_chart
from planner.report.figures.ladder import ladder_chart
from planner.report.gather import Case

__all__ = ["charts_of", "file_stem"]


def charts_of(cases: Sequence[Case], preference: Preference) -> Iterator[tuple[str, Chart]]:
    """Each chart with the stem of its file; those of a candidate bear its number and name."""
    if len(cases) > 1:
        chart = compare_chart(cases)
        yield chart.name, chart
    for number, case in enumerate(cases, start=1):
        for chart in _of_case(case, preference):
            yield f"{number}_{file_stem(case.candidate.name)}_{chart.name}", chart


def _of_case(case: Case, preference: Preference) -> Iterator[Chart]:
    """The charts of one candidate at its worst seat."""
    seat = case.worst.outcome
    yield ladder_chart(seat)
    yield efficiency_chart(seat)
    yield distance_chart(case.distance, seat.name, preference)
    yield headroom_chart(seat)
    if case.room_gain is not None:
        yield room_gain_chart(case.room_gain)
    yield span_chart(case.span, seat.name)


def file_stem(name: str) -> str:
    """A name as part of a file's name on any system.

    Examples
    --------
    >>> file_stem("Horn over bass box, 18 W / 2.5 W")
    'horn_over_bass_box_18_w_2_5_w'
    """
    kept = "".join(one if one.isalnum() else " " for one in name.lower())
    return "_".join(kept.split())[:60] or "candidate"
