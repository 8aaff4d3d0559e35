"""The scale drawing of the room: from above and from the side, with seats and stands to move about."""

from planner.desktop.drawing.widget import RoomDrawing

__all__ = ["RoomDrawing"]
