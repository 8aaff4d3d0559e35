"""How the program looks on any device: colours by meaning, fonts, and the marks of the verdicts."""

from planner.report.style.colours import DARK, LIGHT, Colours, contrast, luminance
from planner.report.style.fonts import base_font, sized, small_font
from planner.report.style.marks import VERDICTS, paint_verdict

__all__ = [
    "DARK",
    "LIGHT",
    "VERDICTS",
    "Colours",
    "base_font",
    "contrast",
    "luminance",
    "paint_verdict",
    "sized",
    "small_font",
]
