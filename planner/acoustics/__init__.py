"""Sound: levels, bands, air, reverberation, modes, directivity and exposure (numpy only)."""

from math import inf

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


def floats(
    name: str,
    value: ArrayLike,
    *,
    above: float = -inf,
    at_least: float = -inf,
    at_most: float = inf,
    below: float = inf,
) -> FloatArray:
    """Give *value* as floats; raise ValueError naming it if any is not finite or outside the bounds."""
    array = np.asarray(value, dtype=float)
    for extreme in (float(array.min(initial=inf)), float(array.max(initial=-inf))):
        inside = above < extreme < below and at_least <= extreme <= at_most
        if array.size and not inside:
            bounds = {"above": above, "at least": at_least, "at most": at_most, "below": below}
            words = [f"{word} {bound:g}" for word, bound in bounds.items() if np.isfinite(bound)]
            raise ValueError(f"{name} must be {' and '.join(words) or 'finite'}, got {extreme:g}")
    return array
