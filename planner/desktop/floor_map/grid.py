"""Values on the even grid of a map: gaps closed, drawn finer, read at a point."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["closed", "finer", "read_at"]

FloatArray = NDArray[np.float64]


def closed(values: FloatArray) -> FloatArray:
    """The values with every gap (nan) filled from its edges inward by the mean of its neighbours.

    Parameters
    ----------
    values : array
        (X, Y), one number at least [dB].

    Examples
    --------
    >>> closed(np.array([[1.0, np.nan, 3.0]]))
    array([[1., 2., 3.]])
    """
    gaps = np.isnan(values)
    filled = np.where(gaps, 0.0, values)
    known = ~gaps
    while not known.all():
        around = np.pad(filled, 1), np.pad(known.astype(float), 1)
        total, count = (
            side[:-2, 1:-1] + side[2:, 1:-1] + side[1:-1, :-2] + side[1:-1, 2:] for side in around
        )
        reached = ~known & (count > 0.0)
        filled[reached] = total[reached] / count[reached]
        known = known | reached
    return filled


def finer(values: FloatArray, columns: int, rows: int) -> NDArray[np.float32]:
    """The values (X, Y) of cells' middles at those of so many other cells, linear between, flat beyond.

    Examples
    --------
    >>> finer(np.array([[0.0], [4.0]]), 4, 1).ravel().tolist()
    [0.0, 1.0, 3.0, 4.0]
    """
    # Not as a product of matrices: these are small, and several threads would wait for one another.
    along, part = _between(columns, values.shape[0])
    ends = np.pad(values.astype(np.float32), ((0, 1), (0, 1)), mode="edge")
    ends = ends[along] + (ends[along + 1] - ends[along]) * part[:, None]
    across, part = _between(rows, values.shape[1])
    return np.asarray(ends[:, across] + (ends[:, across + 1] - ends[:, across]) * part)


def read_at(values: FloatArray, x_share: float, y_share: float) -> float:
    """The value at a point of the floor, given by its shares of both sides; nan beside a gap.

    Examples
    --------
    >>> read_at(np.array([[0.0, 2.0], [4.0, 6.0]]), 0.5, 0.5)
    3.0
    """
    columns, across = _neighbours(x_share, values.shape[0])
    rows, up = _neighbours(y_share, values.shape[1])
    return float(across @ values[np.ix_(columns, rows)] @ up)


def _neighbours(share: float, cells: int) -> tuple[list[int], FloatArray]:
    """The cells whose middles lie about a share of the side, with their weights; none that has no weight."""
    cell, part = (float(one) for one in _cells(share, cells))
    first = int(cell)
    return ([first, first + 1], np.array([1.0 - part, part])) if part else ([first], np.ones(1))


@lru_cache(maxsize=16)
def _between(places: int, cells: int) -> tuple[NDArray[np.intp], NDArray[np.float32]]:
    """For the middles of so many places: the cell before each, and how far on toward the next it lies."""
    before, part = _cells((np.arange(places) + 0.5) / places, cells)
    return before, part.astype(np.float32)


def _cells(shares: ArrayLike, cells: int) -> tuple[NDArray[np.intp], FloatArray]:
    """The cell whose middle lies before some shares of the side, and the part of the way to the next."""
    at = np.clip(np.asarray(shares) * cells - 0.5, 0.0, cells - 1.0)
    before = np.floor(at).astype(np.intp)
    return before, at - before
