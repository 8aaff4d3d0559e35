"""What the overlaid charts of the candidates show, and what they have in common."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.captions import Caption
from planner.desktop.charts.items import Curve
from planner.desktop.charts.keys import DASHES
from planner.desktop.charts.seat_panel import SeatChart, short_name
from planner.headroom.outcome import SeatOutcome

__all__ = ["Kind", "Overlay", "OverlayGraph", "widest_gaps"]

FloatArray = NDArray[np.float64]
translate = QCoreApplication.translate
PLACES = 6


class Kind(Enum):
    """What the curves are of."""

    HEADROOM = "headroom"
    LEVEL = "level"
    GAIN = "gain"
    LADDER = "ladder"

    @property
    def title(self) -> str:
        """What it is called."""
        return {
            Kind.HEADROOM: translate("Compare", "Headroom by band"),
            Kind.LEVEL: translate("Compare", "Level by band"),
            Kind.GAIN: translate("Compare", "Room gain by band"),
            Kind.LADDER: translate("Compare", "Level ladder"),
        }[self]


@dataclass(frozen=True, eq=False)
class Overlay:
    """All candidates, each at the seat compared, and which of them is looked at."""

    title: str
    where: str
    names: tuple[str, ...]
    seats: tuple[SeatOutcome, ...]
    chosen: int
    kind: Kind

    @property
    def settings(self) -> str:
        """For what the figures hold, as it stands at the head of saved tables."""
        return "\n".join(line for line in (self.title, f"{self.kind.title}, {self.where}") if line)


class OverlayGraph(SeatChart):
    """A chart with a curve for each candidate; no two of twelve share both colour and dashes."""

    curves: list[Curve]

    @property
    def shown(self) -> Overlay:
        """What is compared."""
        view: Overlay = self.view
        return view

    def headline(self) -> str:
        return self.shown.settings.splitlines()[-1] if self.has_data else super().headline()

    def show_curves(self, points: list[tuple[Any, Any]]) -> None:
        """Show a curve for each candidate, made when there is first need of it."""
        while len(self.curves) < len(points):
            number = len(self.curves)
            dash = DASHES[number % len(DASHES)]
            self.curves.append(self.add(Curve(self.scales, " ", f"series {number}", dash=dash), 2))
        for number, curve in enumerate(self.curves):
            used = number < len(points)
            curve.setVisible(used)
            if used:
                curve.show_points(*points[number])
                assert curve.key is not None
                curve.key = replace(curve.key, name=self.shown.names[number])
            else:
                curve.show_points((), ())

    def label(self, number: int, points: list[tuple[float, float]], **how: Any) -> Caption:
        """The name of a candidate at the first of some points of its curve that has room for it.

        Where there is none, the key below the chart says enough.
        """
        first, *others = points
        return Caption(
            short_name(self.shown.names[number]),
            *first,
            f"series {number}",
            elsewhere=tuple(others),
            strong=number == self.shown.chosen,
            gap_px=4.0,
            may_go=True,
            cross=False,
            **how,
        )


def widest_gaps(curves: FloatArray, number: int) -> list[int]:
    """Where a curve of (curves, points) lies farthest from the others, the best place first.

    Examples
    --------
    >>> widest_gaps(np.array([[0.0, 0.0, 0.0], [1.0, 5.0, 3.0]]), 0)
    [1, 2, 0]
    """
    others = np.delete(curves, number, axis=0)
    if not others.size:
        middle = curves.shape[1] // 2
        return [middle]
    gaps = np.min(np.abs(others - curves[number]), axis=0)
    return [int(place) for place in np.argsort(-gaps, kind="stable")[:PLACES]]
