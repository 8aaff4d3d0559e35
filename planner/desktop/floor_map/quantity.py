"""What a map of the floor can show: loudest peak, headroom, or the room gain of one band."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.figures import band_text, figure
from planner.desktop.charts.seat_panel import signed
from planner.headroom.floor_map import FloorMap
from planner.headroom.outcome import SeatOutcome

__all__ = ["Choice", "Quantity"]

FloatArray = NDArray[np.float64]
translate = QCoreApplication.translate


class Quantity(Enum):
    """One of the three figures of a place."""

    PEAK = "peak"
    HEADROOM = "headroom"
    GAIN = "gain"

    @property
    def title(self) -> str:
        """What it is called."""
        return {
            Quantity.PEAK: translate("FloorMap", "Loudest peak"),
            Quantity.HEADROOM: translate("FloorMap", "Headroom"),
            Quantity.GAIN: translate("FloorMap", "Room gain"),
        }[self]


@dataclass(frozen=True, slots=True)
class Choice:
    """A quantity, and the third octave by its number where the quantity is one of a band."""

    quantity: Quantity
    band: int

    def title(self, band_hz: FloatArray) -> str:
        """What is shown, with its band."""
        if self.quantity is not Quantity.GAIN:
            return self.quantity.title
        text = translate("FloorMap", "Room gain at {band}")
        return text.format(band=band_text(float(band_hz[self.band])))

    def over(self, floor: FloorMap) -> FloatArray:
        """The figures of a map, (X, Y) [dB]."""
        if self.quantity is Quantity.PEAK:
            return floor.loudest_peak_db
        if self.quantity is Quantity.HEADROOM:
            return floor.headroom_db
        return np.asarray(floor.room_gain_db[self.band], dtype=float)

    def contoured(self, floor: FloorMap) -> FloatArray:
        """What is 0 dB along the line on the map: the headroom, or the room gain (X, Y)."""
        return self.over(floor) if self.quantity is Quantity.GAIN else floor.headroom_db

    def at(self, seat: SeatOutcome) -> float:
        """The exact figure of a place [dB]."""
        if self.quantity is Quantity.PEAK:
            return seat.loudest_peak_db
        if self.quantity is Quantity.HEADROOM:
            return seat.headroom_db
        return float(seat.bands.room_gain_db[self.band])

    def text(self, value_db: float) -> str:
        """A figure with its unit: a level as it is, a change with its sign."""
        return f"{figure(value_db, 1) if self.quantity is Quantity.PEAK else signed(value_db)} dB"
