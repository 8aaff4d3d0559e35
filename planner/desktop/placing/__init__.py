"""A better place for a seat or for the loudspeakers: where to look, what it brings, and taking it."""

from planner.desktop.placing.dialog import PlacingDialog

__all__ = ["PlacingDialog"]
