"""What a table would be in the plan: drawn small, and told in a sentence."""

from __future__ import annotations

from math import ceil, floor

import numpy as np

from planner.desktop.editors.impedance import MARKS_HZ
from planner.desktop.fields import CurveSketch, Scale, Trace
from planner.desktop.measured.putting import Use, held_words
from planner.measurements.curves import Curve
from planner.measurements.room_noise import RoomNoise
from planner.plan import Plan, get
from planner.report.language import tr

__all__ = ["MARKS_HZ", "sketch_curve", "told"]

PHASE = Scale(-90.0, 90.0, (-90.0, 0.0, 90.0), "°")


def sketch_curve(sketch: CurveSketch, use: Use, plan: Plan, noise: RoomNoise | None) -> None:
    """Draw what *plan* holds where the table went."""
    if noise is not None:
        _draw(sketch, np.array(noise.centre_hz), np.array(noise.level_db), "dB", dots=True)
        return
    found = get(plan, use.path)
    if use.kind == "response":
        hertz, values = np.array(found).T
        _draw(sketch, hertz, values, "dB")
        return
    hertz, ohm, degrees = np.array(found.table).T
    traces = [Trace(hertz, degrees, right=True), Trace(hertz, ohm)]
    sketch.draw(traces, _span(np.append(ohm, 0.0), "Ω"), PHASE, _words(ohm, "Ω"))


def told(use: Use, curve: Curve | None, noise: RoomNoise | None) -> str:
    """What must be known of it before it is taken."""
    if noise is not None:
        text = tr(
            "NC {nc} by the tangency method, {dba} dB(A). Octaves that are missing count as silent.",
            nc=f"{noise.nc:.1f}",
            dba=f"{noise.dba:.1f}",
        )
        return text
    assert curve is not None
    parts = [held_words(curve)]
    if use.kind == "impedance" and curve.phase_deg is None:
        parts.append(tr("Without phases it counts as a resistance at each frequency."))
    if use.kind == "response":
        parts.append(tr("It adds to the sensitivity that the plan states."))
    return " ".join(part for part in parts if part)


def _draw(
    sketch: CurveSketch, hertz: np.ndarray, values: np.ndarray, unit: str, *, dots: bool = False
) -> None:
    sketch.draw([Trace(hertz, values, dots=dots)], _span(values, unit), words=_words(values, unit))


def _words(values: np.ndarray, unit: str) -> str:
    return tr("From {low} to {high} {unit}", low=f"{values.min():.1f}", high=f"{values.max():.1f}", unit=unit)


def _span(values: np.ndarray, unit: str) -> Scale:
    """Round ends about the values with a mark at each step."""
    low, high = float(values.min()), float(values.max())
    rough = max(high - low, 1.0) / 3.0
    decade = 10.0 ** floor(np.log10(rough))
    step = next(float(one * decade) for one in (1.0, 2.0, 5.0, 10.0) if one * decade >= rough)
    bottom, top = floor(low / step), max(ceil(high / step), floor(low / step) + 1)
    marks = tuple(step * number for number in range(bottom, top + 1))
    return Scale(marks[0], marks[-1], marks, unit)
