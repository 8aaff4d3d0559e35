"""What a map shows at one moment, and what can be said of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.desktop.charts.seat_panel import Sight
from planner.desktop.floor_map.grid import closed, read_at
from planner.desktop.floor_map.quantity import Choice, Quantity
from planner.headroom.floor_map import FloorMap, figure_at, floor_map
from planner.headroom.outcome import SeatOutcome
from planner.plan import PlanError
from planner.plan.units import Preference, show, to_display

__all__ = ["MapView", "Spot"]

FloatArray = NDArray[np.float64]
Spot = tuple[float, float]
"""A place on the floor, x and y [m]."""


@dataclass(frozen=True, eq=False)
class MapView:
    """A sight, what of it is shown and in which units; the map is computed once somebody looks."""

    sight: Sight
    choice: Choice
    preference: Preference

    @cached_property
    def map(self) -> FloorMap:
        """The map of the candidate looked at."""
        return floor_map(self.sight.plan, self.sight.candidate)

    @cached_property
    def values(self) -> FloatArray:
        """What is shown, nan where nobody may sit (X, Y) [dB]."""
        return self.choice.over(self.map)

    @cached_property
    def closed(self) -> FloatArray:
        """What is shown, without gaps (X, Y) [dB]."""
        return closed(self.values)

    @cached_property
    def contoured(self) -> FloatArray:
        """What is 0 dB along the line on the map, without gaps (X, Y) [dB]."""
        return closed(self.choice.contoured(self.map))

    @property
    def title(self) -> str:
        """The quantity, with its band."""
        return self.choice.title(self.sight.seat.bands.centre_hz)

    @property
    def mark(self) -> float:
        """Where on the colour scale the line on the map lies [dB]."""
        return self.sight.seat.peak_target_db if self.choice.quantity is Quantity.PEAK else 0.0

    @cached_property
    def share_met(self) -> float:
        """Share of the places where someone may sit at which the target is met, 0 to 1."""
        headroom = self.map.headroom_db
        return float(np.mean(headroom[np.isfinite(headroom)] >= 0.0))

    @property
    def span_db(self) -> tuple[float, float]:
        """Least and greatest value on the floor."""
        return float(np.nanmin(self.values)), float(np.nanmax(self.values))

    def figures(self, spot: Spot) -> tuple[float, float, float]:
        """Loudest peak, headroom and room gain at a place, between those of the map; nan by a stand [dB]."""
        floor, found = self.map.floor, self.map
        shares = (spot[0] - floor.x_m) / floor.length_m, (spot[1] - floor.y_m) / floor.width_m
        fields = (found.loudest_peak_db, found.headroom_db, found.room_gain_db[self.choice.band])
        peak, headroom, gain = (read_at(np.asarray(field, dtype=float), *shares) for field in fields)
        return peak, headroom, gain

    def exactly(self, spot: Spot) -> SeatOutcome | None:
        """The full answer at a place; None where nobody may sit."""
        try:
            return figure_at(self.sight.plan, self.sight.candidate, *spot)
        except PlanError:
            return None

    def length_text(self, length_m: float) -> str:
        """A length as people say it: to the centimetre, or to the inch."""
        return show(length_m, "m", self.preference, 0 if self.preference is Preference.US else 2)

    def place(self, length_m: float) -> float:
        """A length in the units shown."""
        return to_display(length_m, "m", self.preference)
