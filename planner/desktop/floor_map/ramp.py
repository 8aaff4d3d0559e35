"""The colours of a map: evenly lighter from end to end, for every kind of colour vision and on grey paper."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray

__all__ = ["ramp"]

RAMP = "cividis"
FINE = 256
ALPHA = np.uint32(0xFF000000)


@lru_cache(maxsize=32)
def ramp(count: int) -> NDArray[np.uint32]:
    """So many colours from dark to light, each as 0xAARRGGBB (count,).

    References
    ----------
    Nuñez, Anderton and Renslow, Optimizing colormaps with consideration for color vision deficiency to
    enable accurate interpretation of scientific data, PLOS ONE 13(7), 2018.

    Examples
    --------
    >>> [f"{colour:08x}" for colour in ramp(1).tolist()]
    ['ff7d7c78']
    """
    table = pg.colormap.get(RAMP).getLookupTable(nPts=FINE, alpha=False).astype(np.uint32)
    middles = ((np.arange(count) + 0.5) / count * FINE).astype(int)
    red, green, blue = table[middles].T
    return np.asarray(ALPHA | red << np.uint32(16) | green << np.uint32(8) | blue)
