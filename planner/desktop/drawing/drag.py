"""One drag of a seat or stand: what is held, in which view, and where it goes."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF

from planner.desktop.drawing.steps import snapped
from planner.plan import Plan
from planner.report.drawing.frames import Frame
from planner.report.drawing.places import Place, Position

__all__ = ["Drag"]


@dataclass(slots=True)
class Drag:
    """A thing held at a point of a view; it begins to move once the pointer has gone a little way.

    ``here_m`` is where it was, ``before`` the plan with it there.
    """

    place: Place
    frame: Frame
    start: QPointF
    here_m: Position
    before: Plan
    started: bool = False

    def position(self, point: QPointF, step_m: float) -> Position:
        """Where the thing goes when the pointer is at a point: along this view alone, in steps (0: freely).

        Only what the drag has changed is set to steps, so that a straight drag leaves the other axis alone.
        """
        here = list(self.here_m)
        held, now = self.frame.to_m(self.start), self.frame.to_m(point)
        for axis, way_m in zip(
            (0, self.frame.up), (b - a for a, b in zip(held, now, strict=True)), strict=True
        ):
            if abs(way_m) >= 0.5 * step_m:
                here[axis] = snapped(here[axis] + way_m, step_m)
        x, y, z = here
        return x, y, z
