"""Round steps of a colour scale, which hold still while the figures move within them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planner.desktop.charts.steady import held

__all__ = ["Steps", "steps_for"]

ROUND_DB = (0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 20.0)
FEWEST, MOST = 4, 10
SHARES = (1.0, 95.0)
"""Percentiles of the floor between which the steps lie: the few loud places at a stand would use them up."""


@dataclass(frozen=True, slots=True)
class Steps:
    """`count` steps of one size from `low` up; what lies beyond either end has the colour of that end."""

    low: float
    size: float
    count: int

    @property
    def high(self) -> float:
        """The upper end."""
        return self.low + self.count * self.size

    @property
    def edges(self) -> NDArray[np.float64]:
        """Every edge, ascending."""
        return np.asarray(self.low + self.size * np.arange(self.count + 1), dtype=float)

    @property
    def decimals(self) -> int:
        """Decimals that the edges need."""
        return 0 if float(self.size).is_integer() else 1

    def numbers(self, values: ArrayLike) -> NDArray[np.intp]:
        """The step that each value lies in, counted from 0."""
        places = (np.asarray(values) - self.low) * (1.0 / self.size)
        return np.clip(places, 0, self.count - 1).astype(np.intp)


def steps_for(values: NDArray[np.float64], now: Steps | None = None) -> Steps:
    """Steps for the values of a map, those of now for as long as they serve.

    Parameters
    ----------
    values : array
        Any shape, nan where there is nothing; one number at least [dB].
    now : Steps, optional
        What is shown now.

    Examples
    --------
    From 3.6 to 8.9 dB: steps of half a decibel would be eleven, one too many; whole ones go from 3 to 9.

    >>> steps_for(np.linspace(3.6, 9.1, 101))
    Steps(low=3.0, size=1.0, count=6)
    """
    low, high = np.percentile(values[np.isfinite(values)], SHARES).tolist()
    if now is not None and FEWEST <= _count(low, high, now.size) <= MOST:
        bottom, top = held(low, high, now.size, (now.low, now.high))
        return Steps(bottom, now.size, round((top - bottom) / now.size))
    size = next((one for one in ROUND_DB if _count(low, high, one) <= MOST), ROUND_DB[-1])
    bottom, top = held(low, high, size)
    return Steps(bottom, size, round((top - bottom) / size))


def _count(low: float, high: float, size: float) -> int:
    """How many steps of a size hold both ends."""
    return math.ceil(high / size) - math.floor(low / size)
