"""Ways to clear a seat: found beside the window, previewed in the charts, applied with one undoable click."""

from planner.desktop.ways.panel import WaysPanel
from planner.desktop.ways.strip import PreviewStrip

__all__ = ["PreviewStrip", "WaysPanel"]
