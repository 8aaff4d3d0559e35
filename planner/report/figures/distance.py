"""Level against distance on paper: the loudest peak as one walks toward or away from the loudspeakers."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planner.headroom.curves import DistanceCurve
from planner.plan.units import Preference, display_unit, show, to_display
from planner.report.content.measures import figure
from planner.report.figures.chart import Axis, Chart, Curve, Dot, Mark, Note, Rule, Side, Tick, rounded_axis
from planner.report.language import tr

__all__ = ["distance_chart"]

ABOVE_DB = 2.0
ROUND = (0.5, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 20.0, 30.0, 50.0, 70.0, 100.0, 200.0, 300.0)


def distance_chart(curve: DistanceCurve, seat: str, preference: Preference) -> Chart:
    """Direct, reverberant and both together, with the seat and the target."""
    x = _distance_axis(to_display(curve.distance_m, "m", preference), preference)
    known = [curve.direct_db, curve.together_db, np.array([curve.target_db, curve.seat_db])]
    low, high = (float(end(np.concatenate(known))) for end in (np.min, np.max))
    y = rounded_axis(tr("Peak, dB re 20 µPa"), low, high + ABOVE_DB)
    headline = tr(
        "At {distance} its loudest peak is {peak} dB",
        distance=show(curve.seat_m, "m", preference),
        peak=figure(curve.seat_db),
    )
    return Chart("distance", headline, x, y, tuple(_marks(curve, seat, x, y, preference)))


def _distance_axis(values: np.ndarray, preference: Preference) -> Axis:
    low, high = float(values[0]), float(values[-1])
    ticks = tuple(Tick(one, f"{one:g}") for one in ROUND if low <= one * (1.0 + 1e-9) and one <= high)
    title = tr("Distance, {unit}; room modes left out", unit=display_unit("m", preference))
    return Axis(title, low, high, ticks, log=True)


def _marks(curve: DistanceCurve, seat: str, x: Axis, y: Axis, preference: Preference) -> Iterator[Mark]:
    away = to_display(curve.distance_m, "m", preference)
    yield Rule(
        "y", curve.target_db, "ink", tr("asked for, {level} dB", level=figure(curve.target_db)), (2.0, 2.0)
    )
    if curve.critical_m is not None:
        critical = float(to_display(curve.critical_m, "m", preference))
        yield Rule("x", critical, "muted", tr("direct = reverberant"), (1.5, 2.0))
    if curve.reverberant_db is not None:
        seen = np.where(curve.reverberant_db >= y.low, curve.reverberant_db, np.nan)
        yield Curve(away, curve.direct_db, "series 4", tr("direct"), 1.0, (4.0, 1.5))
        yield Curve(away, seen, "series 2", tr("reverberant"), 1.0, (1.5, 1.5))
    name = tr("together") if curve.reverberant_db is not None else tr("direct")
    yield Curve(away, curve.together_db, "series 0", name, 1.6)
    here = float(to_display(curve.seat_m, "m", preference))
    yield Dot(here, curve.seat_db, "accent")
    side: Side = "above" if curve.seat_db >= curve.target_db else "below"
    yield Note(here, curve.seat_db, seat, "accent", side, strong=True)
