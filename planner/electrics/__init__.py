"""Current: amplifier, cable and impedance (numpy only)."""

from math import inf

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


def positive(name: str, value: ArrayLike, *, or_zero: bool = False) -> FloatArray:
    """Give *value* as floats; raise ValueError naming it if any is not finite and above (or at) zero."""
    array = np.asarray(value, dtype=float)
    wrong = ~((array < inf) & (array >= 0.0 if or_zero else array > 0.0))
    if wrong.any():
        limit = "at least 0" if or_zero else "above 0"
        raise ValueError(f"{name} must be {limit}, got {array[wrong][0]:g}")
    return array
