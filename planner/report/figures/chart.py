"""A chart as plain data: two axes, and marks in the units of its axes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "Axis",
    "Bars",
    "Chart",
    "Curve",
    "Dot",
    "Mark",
    "Note",
    "Rule",
    "Tick",
    "Zone",
    "octave_axis",
    "rounded_axis",
]

FloatArray = NDArray[np.float64]
Side = Literal["left", "right", "above", "below", "upper right", "lower left"]
OCTAVES_HZ = (31.5, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0, 16000.0)
ROUND_STEPS = (1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class Tick:
    """A figure beside an axis, and the value at which it stands."""

    value: float
    text: str


@dataclass(frozen=True, slots=True)
class Axis:
    """One side of a chart; `low` stands at the left or the bottom and may be the greater value."""

    title: str
    low: float
    high: float
    ticks: tuple[Tick, ...]
    log: bool = False

    def share(self, values: ArrayLike) -> FloatArray:
        """How far along the axis values stand: 0 at its low end, 1 at its high end.

        Examples
        --------
        >>> float(Axis("", 1.0, 100.0, (), log=True).share(10.0))
        0.5
        """
        low, high = self._even(self.low), self._even(self.high)
        return np.asarray((self._even(values) - low) / (high - low))

    def _even(self, values: ArrayLike) -> FloatArray:
        array = np.asarray(values, dtype=float)
        return np.log10(array) if self.log else array


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """A line through points, with its name at the right end."""

    x: FloatArray
    y: FloatArray
    token: str
    name: str = ""
    width_pt: float = 1.4
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Bars:
    """Boxes between values of x and values of y, each in a colour of its own or all in one."""

    x: tuple[FloatArray, FloatArray]
    y: tuple[FloatArray, FloatArray]
    tokens: tuple[str, ...]
    alpha: float = 1.0


@dataclass(frozen=True, slots=True)
class Zone:
    """A tinted strip across the chart between two values of one axis."""

    axis: Literal["x", "y"]
    low: float
    high: float
    token: str
    text: str = ""
    alpha: float = 0.10


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line across the chart at a value of one axis.

    Its word stands at its beginning or its end, and of a level one above or below it.
    """

    axis: Literal["x", "y"]
    at: float
    token: str
    text: str = ""
    dash: tuple[float, ...] = ()
    at_end: bool = False
    below: bool = False


@dataclass(frozen=True, slots=True)
class Dot:
    """A marked point."""

    x: float
    y: float
    token: str


@dataclass(frozen=True, slots=True)
class Note:
    """A word beside a point, on a plate of the paper where lines would else run through it."""

    x: float
    y: float
    text: str
    token: str
    side: Side = "right"
    strong: bool = False
    plate: bool = False


Mark = Curve | Bars | Zone | Rule | Dot | Note


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """A chart: a name for its file, the sentence above it, two axes, and marks from the ground up."""

    name: str
    headline: str
    x: Axis
    y: Axis
    marks: tuple[Mark, ...]
    rows: bool = False
    """Whether the y axis lists names instead of values, and so bears no lines of a grid."""


def rounded_axis(title: str, low: float, high: float, most: int = 6) -> Axis:
    """An even axis from a round figure at or below *low* to one at or above *high*.

    Examples
    --------
    >>> axis = rounded_axis("", 83.0, 107.0)
    >>> axis.low, axis.high, [tick.text for tick in axis.ticks]
    (80.0, 110.0, ['80', '85', '90', '95', '100', '105', '110'])
    """
    step = _step((high - low) / most)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    last = max(last, first + 1)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    values = [number * step for number in range(first, last + 1)]
    ticks = tuple(Tick(value, f"{value + 0.0:.{decimals}f}") for value in values)
    return Axis(title, values[0], values[-1], ticks)


def _step(least: float) -> float:
    decade = 10.0 ** math.floor(math.log10(max(least, 1e-9)))
    return next(step for step in (*(one * decade for one in ROUND_STEPS), 10.0 * decade) if step >= least)


def octave_axis(title: str, low_hz: float, high_hz: float, octaves_hz: Iterable[float] = OCTAVES_HZ) -> Axis:
    """A log axis of frequency with the nominal octaves that lie within."""
    ticks = tuple(Tick(hertz, _short(hertz)) for hertz in octaves_hz if low_hz <= hertz <= high_hz)
    return Axis(title, low_hz, high_hz, ticks, log=True)


def _short(hertz: float) -> str:
    return f"{hertz / 1000.0:g}k" if hertz >= 1000.0 else f"{hertz:g}"
