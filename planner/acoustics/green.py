"""Green's function of a rigid-walled shoebox with even losses, for every position: what `modes` is built on.

(laplacian + k^2) G = -delta with complex k. G is the integral over t of exp(k^2 t) H(t), where H is the heat
kernel of the box, a product of one short sum per axis. The integral is cut at an instant (Ewald's method):
before it H is summed over images, of which few then count; after it over modes, which then fall off like a
Gaussian. Nothing is lost in either part but what `GROWTH` and `DECAY` say. All lengths are in metres.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.acoustics import FloatArray

__all__: list[str] = []  # the public face is planner.acoustics.modes

ComplexArray = NDArray[np.complex128]
IntArray = NDArray[np.int64]

# The cut is made as late as |k^2 t| = GROWTH: the later, the fewer modes, but every unit costs 0.43 of the
# sixteen digits to cancellation. Terms below exp(-DECAY) of the largest are left out of both parts.
GROWTH = 12.0
DECAY = 16.0
# Nor is it later than this share of the squared mean side, where images would outnumber the modes saved.
LATEST_SHARE = 0.06
# Lines this near in frequency share one cut: low ones need far fewer modes than the highest. Found by timing.
OCTAVES_TOGETHER = 1.5
PAIRS_AT_ONCE = 1024
ELEMENTS_AT_ONCE = 500_000
NEAREST_ON_LEVEL_M = 0.01


class Cut(NamedTuple):
    """Where the heat integral is cut [m^2], and the squared wavenumber up to which modes count after it."""

    instant: float
    highest_k2: float


def pair_field(size: FloatArray, source: FloatArray, receiver: FloatArray, k2: ComplexArray) -> ComplexArray:
    """4 pi G for pairs of source and receiver, each (P, 3), and squared wavenumbers (F,): (P, F)."""
    field = np.empty((len(source), k2.size), dtype=complex)
    for start in range(0, len(source), PAIRS_AT_ONCE):
        rows = slice(start, start + PAIRS_AT_ONCE)
        for lines in _neighbours(k2):
            field[rows, lines] = _pairs(size, source[rows], receiver[rows], k2[lines])
    return field


def level_field(
    size: FloatArray, source: FloatArray, grid: list[FloatArray], k2: ComplexArray
) -> ComplexArray:
    """4 pi G for sources (N, 3) over a grid [x (X,), y (Y,), z (1,)] and lines (F,): (N, F, X, Y).

    A source is blurred to `NEAREST_ON_LEVEL_M`, so that the field is finite even where it stands.
    """
    field = np.empty((len(source), k2.size, grid[0].size, grid[1].size), dtype=complex)
    for lines in _neighbours(k2):
        field[:, lines] = _level(size, source, grid, k2[lines])
    return field


def box_modes(size: FloatArray, highest_k2: float, step: int) -> Iterator[tuple[IntArray, FloatArray]]:
    """Orders (n, 3), lexicographic, and squared wavenumbers (n,), from *step* candidates at a time."""
    counts = [_count(side, highest_k2) for side in size]
    total = int(np.prod(counts))
    for start in range(0, total, step):
        orders = np.stack(np.unravel_index(np.arange(start, min(start + step, total)), counts), axis=-1)
        mode_k2 = ((orders * np.pi / size) ** 2).sum(axis=-1)
        counted = mode_k2 <= highest_k2
        yield orders[counted], mode_k2[counted]


def _neighbours(k2: ComplexArray) -> Iterator[IntArray]:
    """Indices of the lines that share one cut."""
    below = 0.5 * np.log2(np.abs(k2).max(initial=0.0) / np.abs(k2))
    group = np.floor(below / OCTAVES_TOGETHER)
    for one in np.unique(group):
        yield np.flatnonzero(group == one)


def _cut(size: FloatArray, k2: ComplexArray) -> Cut:
    instant = min(GROWTH / np.abs(k2).max(), LATEST_SHARE * np.prod(size) ** (2.0 / 3.0))
    return Cut(float(instant), float(max(k2.real.max(), 0.0) + DECAY / instant))


def _pairs(size: FloatArray, source: FloatArray, receiver: FloatArray, k2: ComplexArray) -> ComplexArray:
    cut = _cut(size, k2)
    nearest = np.sqrt(((receiver - source) ** 2).sum(axis=-1).min())
    times, early = _early_lines(k2, cut, nearest)
    heat = np.ones((len(source), times.size))
    for axis, side in enumerate(size):
        heat *= _heat(receiver[:, axis], source[:, axis], side, times)
    return _late_pairs(size, source, receiver, k2, cut) + heat @ early.T


def _late_pairs(
    size: FloatArray, source: FloatArray, receiver: FloatArray, k2: ComplexArray, cut: Cut
) -> ComplexArray:
    """What the modes add after the cut, (P, F)."""
    fed, seen = ([_waves(at[:, a], size[a], cut) for a in range(3)] for at in (source, receiver))
    along, across, up = (one * other for one, other in zip(fed, seen, strict=True))
    plain = np.zeros((len(source), k2.size))
    weighted = np.zeros_like(plain)
    for orders, mode_k2 in box_modes(size, cut.highest_k2, ELEMENTS_AT_ONCE // max(plain.shape) + 1):
        shape = along[:, orders[:, 0]] * across[:, orders[:, 1]] * up[:, orders[:, 2]]
        shape *= np.exp(-mode_k2 * cut.instant)
        response = 1.0 / ((mode_k2[:, None] - k2.real) ** 2 + k2.imag**2)
        plain += shape @ response
        weighted += (shape * mode_k2) @ response
    # 1/(a - k2) = (a - conj(k2))/|a - k2|^2: two real matrix products do the work of a complex one.
    return _late_scale(size, k2, cut) * (weighted - k2.conj() * plain)


def _level(size: FloatArray, source: FloatArray, grid: list[FloatArray], k2: ComplexArray) -> ComplexArray:
    cut = _cut(size, k2)
    squared = [((points - source[:, a, None]) ** 2).min(axis=1) for a, points in enumerate(grid)]
    nearest = np.sqrt(np.sum(squared, axis=0).min(initial=np.inf))
    times, early = _early_lines(k2, cut, max(nearest, NEAREST_ON_LEVEL_M))
    along, across, up = (_heat(points, source[:, a, None], size[a], times) for a, points in enumerate(grid))
    parts = [early[:, :, None] * (up * across).swapaxes(1, 2)[:, None]]
    seen = _waves(grid[0], size[0], cut)
    slab = int(ELEMENTS_AT_ONCE * np.pi**2 / (cut.highest_k2 * size[1] * size[2] * k2.size)) + 1
    for start in range(0, seen.shape[1], slab):
        parts.append(_late_slab(size, source, grid, k2, cut, slice(start, start + slab)))
    # The length comes last, for images and modes alike; seen as pairs of reals it takes half the work.
    lengthwise = np.concatenate([along, np.broadcast_to(seen, (len(source), *seen.shape))], axis=-1)
    rest = np.ascontiguousarray(np.concatenate(parts, axis=2)).view(float)
    field: ComplexArray = (lengthwise[:, None] @ rest).view(complex)
    return field


def _late_slab(
    size: FloatArray, source: FloatArray, grid: list[FloatArray], k2: ComplexArray, cut: Cut, orders: slice
) -> ComplexArray:
    """What modes of some *orders* along the length add after the cut, the other axes summed: (N, F, l, Y)."""
    squares = [(np.arange(_count(side, cut.highest_k2)) * np.pi / side) ** 2 for side in size]
    fed = [_waves(source[:, a], size[a], cut) * np.exp(-squares[a] * cut.instant) for a in range(3)]
    mode_k2 = squares[0][orders, None, None] + squares[1][:, None] + squares[2]
    line = k2[:, None, None, None]
    response = 1.0 / ((mode_k2 - line.real) ** 2 + line.imag**2)
    upward = (fed[2] * _waves(grid[2], size[2], cut)).T
    summed = (response * mode_k2) @ upward - line.conj() * (response @ upward)
    summed *= _late_scale(size, line, cut)
    spread = np.einsum("flmn,nl,nm->nflm", summed, fed[0][:, orders], fed[1])
    late: ComplexArray = spread @ _waves(grid[1], size[1], cut).T.astype(complex)
    return late


def _late_scale(size: FloatArray, k2: ComplexArray, cut: Cut) -> ComplexArray:
    scale: ComplexArray = 4.0 * np.pi / np.prod(size) * np.exp(k2 * cut.instant)
    return scale


def _count(side: float, highest_k2: float) -> int:
    """Number of orders of one axis, 0 included."""
    return int(np.sqrt(highest_k2) * side / np.pi) + 1


def _waves(position: FloatArray, side: float, cut: Cut) -> FloatArray:
    """Standing waves of one axis, (places, orders), of mean square 1 over the side."""
    orders = np.arange(_count(side, cut.highest_k2))
    waves: FloatArray = np.cos(np.multiply.outer(position, orders * np.pi / side))
    waves[:, 1:] *= np.sqrt(2.0)
    return waves


def _early_lines(k2: ComplexArray, cut: Cut, nearest: float) -> tuple[FloatArray, ComplexArray]:
    """Instants before the cut, (Q,), and what heat at each adds to each line, 4 pi exp(k^2 t) dt, (F, Q).

    They are spread over log t, from where heat has just reached the nearest receiver.
    """
    span = max(0.0, 0.5 * np.log(4.0 * (GROWTH + DECAY) * cut.instant / nearest**2))
    node, weight = _legendre(16 + int(np.ceil(4.0 * span)))
    times = cut.instant * np.exp(-span * (node + 1.0))
    return times, np.exp(np.multiply.outer(k2, times)) * (0.5 * span * weight / np.sqrt(np.pi * times))


def _heat(position: FloatArray, source: FloatArray, side: float, times: FloatArray) -> FloatArray:
    """Heat kernel of one axis times sqrt(4 pi t), (..., Q): Gaussians about the source and all its images."""
    periods = int(np.sqrt(4.0 * times.max() * (GROWTH + DECAY)) / (2.0 * side)) + 1
    away = np.stack([position - source, position + source], axis=-1)[..., None]
    away = away + 2.0 * side * np.arange(-periods, periods + 1)
    squared = away.reshape(*away.shape[:-2], -1, 1) ** 2
    heat: FloatArray = np.exp(squared * (-0.25 / times)).sum(axis=-2)
    return heat


@lru_cache(maxsize=128)
def _legendre(count: int) -> tuple[FloatArray, FloatArray]:
    node, weight = np.polynomial.legendre.leggauss(count)
    return node, weight
