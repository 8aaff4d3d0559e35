"""The line along which a map has one value, by marching squares."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["contour"]

FloatArray = NDArray[np.float64]

# Edges of a cell: 0 below, 1 right, 2 above, 3 left. Corners count 1, 2, 4, 8 from the lower left round.
# Each case joins up to two pairs of edges; 16 and 17 are the saddles whose middle is high.
_NONE = (-1, -1)
_PAIRS = np.array(
    [
        (_NONE, _NONE),
        ((3, 0), _NONE),
        ((0, 1), _NONE),
        ((3, 1), _NONE),
        ((1, 2), _NONE),
        ((3, 0), (1, 2)),
        ((0, 2), _NONE),
        ((3, 2), _NONE),
        ((2, 3), _NONE),
        ((2, 0), _NONE),
        ((0, 1), (2, 3)),
        ((2, 1), _NONE),
        ((1, 3), _NONE),
        ((1, 0), _NONE),
        ((0, 3), _NONE),
        (_NONE, _NONE),
        ((0, 1), (2, 3)),
        ((3, 0), (1, 2)),
    ]
)


def contour(values: FloatArray, level: float) -> FloatArray:
    """Pieces of the line at a level, in shares of the whole floor.

    Parameters
    ----------
    values : array
        (X, Y) at the middles of even cells, without gaps [dB].
    level : float
        What the line has [dB].

    Returns
    -------
    array
        (n, 2, 2): pieces, their two ends, x and y from 0 to 1; no pieces where all is above or below.

    References
    ----------
    Lorensen and Cline, Marching cubes: a high resolution 3D surface construction algorithm, SIGGRAPH 1987,
    in its two-dimensional form; saddles by the mean of their corners.

    Examples
    --------
    From 0 to 4 in the middles of two cells, at 0.25 and 0.75, the level 1 is met a quarter of the way.

    >>> contour(np.array([[0.0, 0.0], [4.0, 4.0]]), 1.0)[:, :, 0].tolist()
    [[0.375, 0.375], [0.375, 0.375], [0.375, 0.375]]
    """
    x, y = (_nodes(count) for count in values.shape)
    above = np.pad(values, 1, mode="edge") - level
    corners = np.stack([above[:-1, :-1], above[1:, :-1], above[1:, 1:], above[:-1, 1:]])
    case = np.tensordot((1, 2, 4, 8), corners >= 0.0, axes=1)
    high_saddle = ((case == 5) | (case == 10)) & (corners.sum(axis=0) >= 0.0)
    case = np.where(high_saddle, np.where(case == 5, 16, 17), case)
    column, row = np.nonzero((case != 0) & (case != 15))
    crossings = _crossings(corners[:, column, row], x, y, column, row)
    pairs = _PAIRS[case[column, row]]
    cell, which = np.nonzero(pairs[..., 0] >= 0)
    return np.asarray(crossings[pairs[cell, which], cell[:, None]])


def _crossings(
    corners: FloatArray,
    x: FloatArray,
    y: FloatArray,
    column: NDArray[np.intp],
    row: NDArray[np.intp],
) -> FloatArray:
    """Where the level is met on each of the four edges of some cells, (4, n, 2); nonsense where it is not."""
    following = np.roll(corners, -1, axis=0)
    met = (corners >= 0.0) != (following >= 0.0)
    way = corners / np.where(met, corners - following, 1.0)
    left, right, low, high = x[column], x[column + 1], y[row], y[row + 1]
    start = np.array([[left, low], [right, low], [right, high], [left, high]])
    end = np.roll(start, -1, axis=0)
    return np.asarray((start + way[:, None, :] * (end - start)).swapaxes(1, 2))


def _nodes(cells: int) -> FloatArray:
    """Middles of even cells as shares of the side, and its two ends."""
    return np.concatenate([[0.0], (np.arange(cells) + 0.5) / cells, [1.0]])
