"""The editors of a plan, in one column."""

from planner.desktop.editors.column import EditorColumn

__all__ = ["EditorColumn"]
