"""The presentation for a buyer: one question at a time, each with a picture and a slider to try."""

from planner.desktop.presentation.window import Presentation

__all__ = ["Presentation"]
