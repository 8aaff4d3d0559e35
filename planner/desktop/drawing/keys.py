"""The keys in the drawing: from one thing to the next, which way it moves, and how far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from planner.desktop.drawing import changes
from planner.desktop.drawing.steps import FINE, LONG, STEP, snapped, steps_m
from planner.desktop.settings import settings
from planner.report.drawing.frames import ABOVE
from planner.report.drawing.places import Place, Position, places

if TYPE_CHECKING:
    from planner.desktop.drawing.widget import RoomDrawing

__all__ = ["answers", "key_move", "next_place", "press"]

_ACROSS = {Qt.Key.Key_Left: -1.0, Qt.Key.Key_Right: 1.0}
_UP = {Qt.Key.Key_Down: -1.0, Qt.Key.Key_Up: 1.0}
_HEIGHT = {Qt.Key.Key_PageDown: -1.0, Qt.Key.Key_PageUp: 1.0}
_CHOOSES = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
_OTHERS = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.MetaModifier


def key_move(event: QKeyEvent, view: str, steps: tuple[float, float, float]) -> Position | None:
    """How a key moves what is selected [m]; None if it moves nothing.

    Arrows go as they point on the view in use; Page Up and Page Down always change the height.
    """
    key, modifiers = Qt.Key(event.key()), event.modifiers()
    if modifiers & _OTHERS:
        return None
    long, fine = modifiers & Qt.KeyboardModifier.ShiftModifier, modifiers & Qt.KeyboardModifier.AltModifier
    step = steps[LONG if long else FINE if fine else STEP]
    across, up, height = (keys.get(key, 0.0) * step for keys in (_ACROSS, _UP, _HEIGHT))
    way = (across, up, height) if view == ABOVE else (across, 0.0, up + height)
    return way if any(way) else None


def next_place(drawing: RoomDrawing, *, forward: bool) -> Place | None:
    """The seat or stand that Tab goes to; None where the drawing ends."""
    order = places(changes.drawn(drawing.document))
    here = order.index(drawing.selected) if drawing.selected in order else -1 if forward else len(order)
    there = here + (1 if forward else -1)
    return order[there] if 0 <= there < len(order) else None


def answers(drawing: RoomDrawing, event: QKeyEvent) -> bool:
    """Whether the drawing itself answers keys that the window may have a use for too."""
    if event.matches(QKeySequence.StandardKey.Copy):
        return True
    moves = key_move(event, drawing.active, steps_m(settings().units)) is not None
    return drawing.selected is not None and (moves or event.key() == Qt.Key.Key_Delete)


def press(drawing: RoomDrawing, event: QKeyEvent) -> bool:
    """Do what a key asks; False if it asks nothing of the drawing."""
    key, place = event.key(), drawing.selected
    if event.matches(QKeySequence.StandardKey.Copy):
        drawing.copy_picture()
    elif key == Qt.Key.Key_Escape and drawing.hand.holds:
        drawing.hand.let_go(put_back=True)
    elif place is None:
        return False
    elif (way_m := key_move(event, drawing.active, steps_m(settings().units))) is not None:
        _move_by(drawing, place, way_m)
    elif key in _CHOOSES and place.kind == "seats":
        drawing.document.choose(seat=place.index)
    elif key == Qt.Key.Key_Delete:
        drawing.delete(place)
    elif key == Qt.Key.Key_Escape:
        drawing.select(None)
    else:
        return False
    return True


def _move_by(drawing: RoomDrawing, place: Place, way_m: Position) -> None:
    here = place.of(changes.drawn(drawing.document)).position_m
    # To a tenth of a millimetre, so that half inches stay half inches.
    x, y, z = (snapped(at + by, 0.0001) if by else at for at, by in zip(here, way_m, strict=True))
    changes.move(drawing.document, place, (x, y, z))
