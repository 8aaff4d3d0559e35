"""Named rows of which some are left out of the picture, though not out of the table."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from planner.desktop.charts.scales import NameScale, Places, Tick

__all__ = ["PickedRows", "picked_rows"]


@dataclass(frozen=True)
class PickedRows(NameScale):
    """Rows counted as in the table, of which only the `picked` ones have a place."""

    picked: tuple[int, ...] = ()

    @property
    def ends(self) -> tuple[float, float]:
        return (0.5 - len(self.picked), 0.5)

    def place(self, values: ArrayLike) -> Places:
        floats = np.asarray(values, dtype=float)
        stands = np.full(len(self.names) + 1, np.nan)
        stands[list(self.picked)] = np.arange(len(self.picked))
        known = np.isfinite(floats) & (floats > -0.5) & (floats < len(self.names) - 0.5)
        row = np.where(known, np.rint(floats), -1.0).astype(int)
        return -(stands[row] + floats - row)

    def choices(self) -> Iterator[list[Tick]]:
        ticks = [Tick(float(self.place(row)), self.names[row]) for row in self.picked]
        for stride in range(1, len(ticks) + 1):
            yield ticks[::stride]


def picked_rows(names: tuple[str, ...], picked: tuple[int, ...]) -> PickedRows:
    """Give the picked ones among the names a row each, from the top down."""
    return PickedRows("", "", -0.5, len(names) - 0.5, names, True, picked)
