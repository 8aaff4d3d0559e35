"""Scales of a chart's sides: where a value stands, and which of its figures fit without touching."""

import math
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planner.desktop.charts.figures import figure, short_frequency_text, watts_text

__all__ = [
    "LinearScale",
    "LogScale",
    "NameScale",
    "Places",
    "Scale",
    "Scales",
    "Tick",
    "fitting",
    "frequency_scale",
    "names_scale",
    "watts_scale",
]

Places = NDArray[np.float64]
OCTAVES_HZ = (31.5, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0, 16000.0)
MOST_STEPS = 200
"""More figures than this fit along no side of any screen."""


class Tick(NamedTuple):
    """A figure on an axis: where it stands in the view, and what it says."""

    place: float
    text: str


@dataclass(frozen=True)
class Scale(ABC):
    """One side of a chart: its title and unit, its two ends, and how values become places in the view."""

    title: str
    unit: str
    low: float
    high: float

    def __post_init__(self) -> None:
        if not self.low < self.high:
            raise ValueError(
                f"{self.title}: the low end {self.low:g} must lie below the high end {self.high:g}"
            )

    @property
    def label(self) -> str:
        """The title with its unit, as it stands beside the axis."""
        return f"{self.title} ({self.unit})" if self.title and self.unit else self.title or self.unit

    @property
    def ends(self) -> tuple[float, float]:
        """The places of the two ends, the lesser first."""
        first, last = self.place([self.low, self.high])
        return (float(min(first, last)), float(max(first, last)))

    def share(self, value: float) -> float:
        """How far along the side a value stands: 0 at the left or the bottom, 1 at the other end."""
        low, high = self.ends
        return (float(self.place(value)) - low) / (high - low)

    @abstractmethod
    def place(self, values: ArrayLike) -> Places:
        """Places of values in the view, not a number where a value has none."""

    @abstractmethod
    def choices(self) -> Iterator[list[Tick]]:
        """Sets of ticks to choose from, the densest first."""


@dataclass(frozen=True)
class LinearScale(Scale):
    """Even steps. `steps` lists the ones allowed, from fine to coarse; ticks count from `origin`."""

    steps: tuple[float, ...] = ()
    origin: float = 0.0

    def place(self, values: ArrayLike) -> Places:
        return np.asarray(values, dtype=float)

    def choices(self) -> Iterator[list[Tick]]:
        for step in self.steps or _round_steps(self.high - self.low):
            decimals = max(0, -math.floor(math.log10(step) + 1e-9), _decimals(step))
            first = math.ceil((self.low - self.origin) / step - 1e-9)
            last = math.floor((self.high - self.origin) / step + 1e-9)
            values = (self.origin + number * step for number in range(first, last + 1))
            yield [Tick(value, figure(value, decimals)) for value in values]


@dataclass(frozen=True)
class LogScale(Scale):
    """Even ratios. `sets` lists the values that may bear a figure, from the densest set to the sparsest."""

    sets: tuple[tuple[float, ...], ...] = ()
    text: Callable[[float], str] = watts_text
    snap: Callable[[float], float] = float

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.low > 0.0:
            raise ValueError(f"{self.title}: a log side must begin above 0, not at {self.low:g}")

    def place(self, values: ArrayLike) -> Places:
        floats = np.asarray(values, dtype=float)
        return np.log10(np.where(floats > 0.0, floats, np.nan))

    def choices(self) -> Iterator[list[Tick]]:
        for values in self.sets:
            inside = (value for value in values if self.low <= value <= self.high)
            yield [Tick(float(self.place(self.snap(value))), self.text(value)) for value in inside]


@dataclass(frozen=True)
class NameScale(Scale):
    """Names in place of figures, at 0, 1, 2 …; counted downward when they stand in a column."""

    names: tuple[str, ...] = ()
    downward: bool = True

    def place(self, values: ArrayLike) -> Places:
        floats = np.asarray(values, dtype=float)
        return -floats if self.downward else floats

    def choices(self) -> Iterator[list[Tick]]:
        ticks = [Tick(float(self.place(number)), name) for number, name in enumerate(self.names)]
        for stride in range(1, len(ticks) + 1):
            yield ticks[::stride]


@dataclass(slots=True)
class Scales:
    """The two sides of one chart and the size of its field, shared by its items."""

    x: Scale
    y: Scale
    width_px: float = 400.0
    height_px: float = 200.0


def names_scale(names: Sequence[str], title: str = "", downward: bool = True) -> NameScale:
    """Give every name a row (or, not `downward`, a column) of the same width."""
    return NameScale(title, "", -0.5, max(len(names), 1) - 0.5, tuple(names), downward)


def frequency_scale(title: str, low_hz: float = 20.0, high_hz: float = 20000.0) -> LogScale:
    """Make a frequency axis by octaves, thinned about 1 kHz: all, every second, every third …"""
    middle = OCTAVES_HZ.index(1000.0)
    sets = tuple(
        tuple(hz for number, hz in enumerate(OCTAVES_HZ) if (number - middle) % stride == 0)
        for stride in range(1, 6)
    )
    sets += ((1000.0,),)
    return LogScale(title, "Hz", low_hz, high_hz, sets, short_frequency_text, _exact_octave)


def watts_scale(title: str, low_w: float = 0.01, high_w: float = 1000.0) -> LogScale:
    """Make an axis of watts by 1, 2, 5, thinned to decades and then to every second or third of them."""
    decades = range(math.floor(math.log10(low_w)), math.ceil(math.log10(high_w)) + 1)
    dense = tuple(round(lead * 10.0**decade, 12) for decade in decades for lead in (1.0, 2.0, 5.0))
    sparse = tuple(tuple(10.0**decade for decade in decades if decade % stride == 0) for stride in (1, 2, 3))
    return LogScale(title, "", low_w, high_w, (dense, *sparse), watts_text)


def fitting(scale: Scale, length_px: float, extent: Callable[[str], float], gap_px: float) -> list[Tick]:
    """Choose the densest set of ticks whose figures keep a gap between them; none, if none does.

    Parameters
    ----------
    scale : Scale
        The side to be marked.
    length_px : float
        Its length on the screen [px].
    extent : callable
        Gives the length of a text along this side [px].
    gap_px : float
        Least free space between neighbours [px].
    """
    low, high = scale.ends
    for ticks in scale.choices():
        centres = (np.array([tick.place for tick in ticks]) - low) / (high - low) * length_px
        halves = np.array([extent(tick.text) for tick in ticks]) / 2.0
        order = np.argsort(centres)
        centres, halves = centres[order], halves[order]
        if np.all(np.diff(centres) >= halves[1:] + halves[:-1] + gap_px):
            return ticks
    return []


def _exact_octave(nominal_hz: float) -> float:
    return float(10.0 ** (round(10.0 * math.log10(nominal_hz)) / 10.0))


def _round_steps(span: float) -> Iterator[float]:
    """Steps of 1, 2, 5 that any screen has room for, the finest first."""
    smallest = math.floor(math.log10(span)) - 2
    for decade in range(smallest, smallest + 4):
        for lead in (1.0, 2.0, 5.0):
            if span <= MOST_STEPS * (step := lead * 10.0**decade):
                yield step


def _decimals(step: float) -> int:
    return len(f"{step:.6f}".rstrip("0").partition(".")[2])
