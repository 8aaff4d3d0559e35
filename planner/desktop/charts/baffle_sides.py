"""The sides of the chart of baffles: width below, level at the left, watts at the right."""

import math

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.figures import significant
from planner.desktop.charts.scales import LinearScale, LogScale
from planner.desktop.charts.seat_panel import signed
from planner.desktop.charts.steady import Ends
from planner.plan.units import Preference, display_unit, to_display

__all__ = ["change_text", "level_side", "round_about", "watts_side", "width_side"]

FIGURES = {
    Preference.METRIC: ((0.2, 0.3, 0.4, 0.5, 0.7, 1.0, 1.5, 2.0), (0.2, 0.5, 1.0, 2.0), (0.5, 1.0, 2.0)),
    Preference.US: ((0.7, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0), (1.0, 2.0, 4.0, 8.0), (1.0, 4.0)),
}
LEAST_SPAN = 0.05
STEPS = 4.0


def width_side(low_m: float, high_m: float, preference: Preference) -> LogScale:
    """Widths in the units preferred."""
    low, high = (float(to_display(end, "m", preference)) for end in (low_m, high_m))
    title, unit = translate("Baffle width"), display_unit("m", preference)
    return LogScale(title, unit, low, high, FIGURES[preference], significant)


def level_side(low_db: float, high_db: float) -> LinearScale:
    """Levels at 100 Hz re what they are now."""
    return LinearScale(translate("Level at 100 Hz re now"), "dB", low_db, high_db, steps=(0.5, 1.0, 2.0, 5.0))


def watts_side(low_w: float, high_w: float) -> LinearScale:
    """Watts that the target needs."""
    return LinearScale(translate("Watts needed"), "W", low_w, high_w)


def round_about(values: NDArray[np.float64]) -> Ends:
    """Round ends about some values above 0, a twentieth of the greatest apart at least.

    Examples
    --------
    >>> [round(end, 6) for end in round_about(np.array([0.58, 0.684]))]
    [0.55, 0.7]
    """
    low, high = float(values.min()), float(values.max())
    span = max(high - low, LEAST_SPAN * high) / STEPS
    decade = 10.0 ** math.floor(math.log10(span))
    step = next(lead * decade for lead in (1.0, 2.0, 5.0, 10.0) if lead * decade >= span * (1.0 - 1e-9))
    return (math.floor(low / step - 1e-9) * step, math.ceil(high / step + 1e-9) * step)


def change_text(level_db: float) -> str:
    """A change of level with its sign and unit."""
    return f"{signed(level_db)} dB"


def translate(text: str) -> str:
    """The text in the language of the window."""
    return QCoreApplication.translate("BaffleGraph", text)
