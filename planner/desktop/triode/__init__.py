"""Ratings of an amplifier estimated from its valve and its output transformer."""

from planner.desktop.triode.dialog import TriodeDialog

__all__ = ["TriodeDialog"]
