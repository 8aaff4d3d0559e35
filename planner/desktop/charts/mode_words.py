"""The modes of a room by their orders, as a table tells of them."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.desktop.charts.figures import NOTHING, frequency_text
from planner.headroom.room_gain import RoomGain

__all__ = ["MODES_TOLD", "modes_in_band", "modes_told", "order_text"]

HALF_BAND = 10.0**0.05
MODES_TOLD = 4


def order_text(orders: Sequence[int]) -> str:
    """A mode by its orders along length, width and height.

    Examples
    --------
    >>> order_text([1, 0, 2])
    '1,0,2'
    """
    return ",".join(str(order) for order in orders)


def modes_told(room: RoomGain, modes: NDArray[np.intp]) -> str:
    """Some modes of a room by orders and frequencies."""
    named = zip(room.mode_orders[modes].tolist(), room.mode_hz[modes].tolist(), strict=True)
    return "; ".join(f"{order_text(orders)}: {frequency_text(hz)}" for orders, hz in named)


def modes_in_band(room: RoomGain, band_hz: float) -> str:
    """The modes within a third octave by name, or, where they are many, how many there are."""
    low, high = band_hz / HALF_BAND, band_hz * HALF_BAND
    if low >= room.crossover_hz:
        return NOTHING
    here = np.flatnonzero((room.mode_hz >= low) & (room.mode_hz < high))
    return modes_told(room, here) if 0 < len(here) <= MODES_TOLD else str(len(here))
