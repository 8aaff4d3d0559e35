"""The larger text sizes of the window, all in points and all from the system's own font."""

from PySide6.QtGui import QFont

from planner.report.style import sized

__all__ = ["headline_font", "title_font"]


def headline_font(base: QFont) -> QFont:
    """Return the font of a panel's headline: a little larger than *base*, and strong."""
    return sized(base, 1.1, QFont.Weight.DemiBold)


def title_font(base: QFont) -> QFont:
    """Return the font of the one sentence that the eye should meet first."""
    return sized(base, 1.6, QFont.Weight.DemiBold)
