"""Measurements dropped on the window: decays of the room, curves of loudspeakers, noise of the room."""

from planner.desktop.measured.decay_dialog import DecayDialog
from planner.desktop.measured.dropped import take_dropped
from planner.desktop.measured.table_dialog import TableDialog

__all__ = ["DecayDialog", "TableDialog", "take_dropped"]
