"""The pointer in the drawing: what it is over, what it takes up, and where that goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QApplication

from planner.desktop.drawing import changes, hits
from planner.desktop.drawing.drag import Drag
from planner.desktop.drawing.steps import STEP, steps_m
from planner.desktop.settings import settings
from planner.report.drawing.frames import Frame
from planner.report.drawing.painting import Frames
from planner.report.drawing.places import Place

if TYPE_CHECKING:
    from planner.desktop.drawing.widget import RoomDrawing

__all__ = ["Hand"]


class Hand:
    """Hovers over, takes up, moves and lets go the seats and stands of one drawing."""

    def __init__(self, drawing: RoomDrawing) -> None:
        self._drawing = drawing
        self._drag: Drag | None = None
        self.over: Place | None = None
        self.held_frames: Frames | None = None

    @property
    def holds(self) -> bool:
        """Whether something is taken up."""
        return self._drag is not None

    def hover(self, point: QPointF) -> None:
        """Note what lies under the pointer."""
        found = hits.thing_at(self._drawing.look(), self._drawing.frames(), point)
        over = found[0] if found else None
        if over != self.over:
            self.over = over
            self._show()

    def take_up(self, place: Place, frame: Frame, point: QPointF) -> None:
        """Hold a thing by a point of a view, which keeps still from now on; a seat is looked from at once."""
        drawing = self._drawing
        self.held_frames = drawing.frames()
        drawing.select(place, frame.view)
        drawing.document.close_gesture()
        here_m = place.of(changes.drawn(drawing.document)).position_m
        self._drag = Drag(place, frame, point, here_m, drawing.document.plan)
        if place.kind == "seats":
            drawing.document.choose(seat=place.index)

    def move(self, point: QPointF, *, freely: bool) -> None:
        """Bring what is held to a point, once the pointer has gone far enough to mean it."""
        drag = self._drag
        if drag is None:
            self.hover(point)
            return
        way_px = (point - drag.start).manhattanLength()
        if drag.started or way_px >= QApplication.startDragDistance():
            drag.started = True
            self._drawing.setCursor(Qt.CursorShape.ClosedHandCursor)
            step_m = 0.0 if freely else steps_m(settings().units)[STEP]
            changes.move(self._drawing.document, drag.place, drag.position(point, step_m))

    def let_go(self, *, put_back: bool = False) -> None:
        """End the drag; put back, it leaves no undo step behind."""
        drag, self._drag, self.held_frames = self._drag, None, None
        if drag is not None and drag.started and put_back:
            changes.put_back(self._drawing.document, drag.place, drag.before)
        self._drawing.document.close_gesture()
        self._show()

    def keep_to(self, known: tuple[Place, ...]) -> None:
        """Let go of what the plan no longer has."""
        self.over = self.over if self.over in known else None
        if self._drag is not None and self._drag.place not in known:
            self.let_go()

    def _show(self) -> None:
        shape = Qt.CursorShape.OpenHandCursor if self.over else Qt.CursorShape.ArrowCursor
        self._drawing.setCursor(shape)
        self._drawing.update()
