"""The few text sizes of the program, all in points and all from the system's own font."""

from PySide6.QtGui import QFont, QFontDatabase, QFontInfo

__all__ = ["base_font", "sized", "small_font"]

SMALLEST_POINTS = 8.0


def base_font() -> QFont:
    """Return the system's own font in points, never in pixels, so that it follows the user's scaling."""
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    if font.pointSizeF() <= 0.0:
        font.setPointSizeF(QFontInfo(font).pointSizeF())
    return font


def small_font(base: QFont) -> QFont:
    """Return the font of axis figures and notes: a little smaller than *base*, never below 8 points.

    A font that is sized in pixels is for paper, where no screen rules the size: it stays as it is.
    """
    return base if base.pixelSize() > 0 else sized(base, 0.92, QFont.Weight.Normal)


def sized(base: QFont, factor: float, weight: QFont.Weight) -> QFont:
    """Return *base* at so many times its size, never below 8 points, and so strong."""
    font = QFont(base)
    font.setPointSizeF(max(SMALLEST_POINTS, QFontInfo(base).pointSizeF() * factor))
    font.setWeight(weight)
    return font
