"""The window: document and undo, editors, charts, theme."""
