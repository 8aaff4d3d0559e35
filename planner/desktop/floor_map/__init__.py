"""The floor at ear height as a map: what someone would hear, wherever they sat."""

from planner.desktop.floor_map.panel import FloorMapPanel

__all__ = ["FloorMapPanel"]
