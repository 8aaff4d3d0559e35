"""A theme's colours as Qt's palette, every role said by hand."""

from PySide6.QtGui import QPalette

from planner.report.style import Colours

__all__ = ["palette_of"]

# A palette made from one colour keeps a black base, so every role is said here.
ROLES = {
    "Window": "window",
    "WindowText": "ink",
    "Base": "surface",
    "AlternateBase": "raised",
    "Text": "ink",
    "PlaceholderText": "muted",
    "Button": "raised",
    "ButtonText": "ink",
    "BrightText": "short",
    "ToolTipBase": "raised",
    "ToolTipText": "ink",
    "Highlight": "accent",
    "HighlightedText": "on_accent",
    "Accent": "accent",
    "Link": "accent",
    "LinkVisited": "muted",
    "Light": "surface",
    "Midlight": "raised",
    "Mid": "rule",
    "Dark": "edge",
    "Shadow": "edge",
}
DISABLED = {
    "WindowText": "edge",
    "Text": "edge",
    "ButtonText": "edge",
    "PlaceholderText": "edge",
    "Base": "window",
    "Highlight": "rule",
    "HighlightedText": "muted",
    "Accent": "rule",
}


def palette_of(colours: Colours) -> QPalette:
    """Make the palette of a theme."""
    palette = QPalette()
    for role, token in ROLES.items():
        palette.setColor(QPalette.ColorRole[role], colours.pick(token))
    for role, token in DISABLED.items():
        palette.setColor(QPalette.ColorGroup.Disabled, QPalette.ColorRole[role], colours.pick(token))
    return palette
