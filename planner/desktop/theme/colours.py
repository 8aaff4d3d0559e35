"""Which of the program's themes a palette belongs to."""

from PySide6.QtGui import QPalette

from planner.report.style import DARK, LIGHT, Colours, luminance

__all__ = ["colours_of"]


def colours_of(palette: QPalette) -> Colours:
    """Tell which theme a palette belongs to: the dark one where text is lighter than the ground."""
    text, ground = palette.windowText().color(), palette.window().color()
    return DARK if luminance(text) > luminance(ground) else LIGHT
