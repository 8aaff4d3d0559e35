"""What efficiency buys, on paper: the watts that the target needs against the loudspeaker's sensitivity."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planner.headroom.curves import EfficiencyCurve, watts_against_sensitivity
from planner.headroom.outcome import SeatOutcome
from planner.report.figures.chart import Axis, Chart, Curve, Dot, Mark, Note, Rule, Side, Tick, rounded_axis
from planner.report.language import tr
from planner.report.words import watts_text

__all__ = ["COMMON_DB", "efficiency_chart", "watts_at"]

COMMON_DB = 87.0
"""One-watt sensitivity of a common loudspeaker: common practice, no published source [dB]."""
EXAMPLES_DB = (84.0, 90.0, 96.0, 102.0, 108.0)
NEAR_DB = 3.5
ROOM_ON_THE_LEFT = 0.25
WORD_DECADES = 0.5


def watts_at(curve: EfficiencyCurve, sensitivity_db: float) -> float:
    """Watts that the target would need of a loudspeaker of another sensitivity."""
    return float(curve.here_watts * 10.0 ** ((curve.here_db - sensitivity_db) / 10.0))


def efficiency_chart(seat: SeatOutcome) -> Chart:
    """A falling line on a log axis of watts, with this loudspeaker and this amplifier on it."""
    curve = watts_against_sensitivity(seat)
    x = rounded_axis(
        tr("1 W sensitivity at 1 m, dB"), min(82.0, curve.here_db - 1.0), max(112.0, curve.here_db + 1.0)
    )
    ends = (watts_at(curve, x.high), watts_at(curve, x.low), curve.rated_watts, curve.here_watts)
    y = _watts_axis(min(ends), max(ends))
    headline = tr("Each 3 dB of sensitivity halves the watts")
    return Chart("efficiency", headline, x, y, tuple(_marks(curve, x)))


def _watts_axis(low: float, high: float) -> Axis:
    first, last = int(np.floor(np.log10(low) + 1e-9)), int(np.ceil(np.log10(high) - 1e-9))
    ticks = tuple(Tick(10.0**power, f"{10.0**power:.10g}") for power in range(first, last + 1))
    return Axis(tr("W needed"), 10.0**first, 10.0**last, ticks, log=True)


def _marks(curve: EfficiencyCurve, x: Axis) -> Iterator[Mark]:
    ends = np.array([x.low, x.high])
    watts = np.array([watts_at(curve, x.low), watts_at(curve, x.high)])
    rated = tr("this amplifier, {watts}", watts=watts_text(curve.rated_watts))
    # The words stand where the falling line does not run: above the rule behind it, or below it before.
    enough = curve.here_watts <= curve.rated_watts
    yield Rule("y", curve.rated_watts, "series 1", rated, (4.0, 2.0), at_end=enough, below=not enough)
    yield Curve(ends, watts, "series 0")
    for level in EXAMPLES_DB:
        if x.low < level < x.high and abs(level - curve.here_db) > NEAR_DB:
            yield Dot(level, watts_at(curve, level), "series 0")
            if not _struck_through(watts_at(curve, level), curve.rated_watts):
                text = watts_text(watts_at(curve, level))
                yield Note(level, watts_at(curve, level), text, "muted", "upper right")
    yield Dot(curve.here_db, curve.here_watts, "accent")
    left = enough and float(x.share(curve.here_db)) > ROOM_ON_THE_LEFT
    side: Side = "lower left" if left else "upper right"
    here = watts_text(curve.here_watts)
    yield Note(curve.here_db, curve.here_watts, here, "accent", side, strong=True)


def _struck_through(watts: float, rated_watts: float) -> bool:
    """Whether the line of the amplifier would run through a word above this point."""
    return bool(0.0 <= np.log10(rated_watts / watts) < WORD_DECADES)
