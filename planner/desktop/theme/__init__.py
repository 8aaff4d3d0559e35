"""How the window looks: colours, palette, fonts and verdict marks, light and dark."""

from planner.desktop.theme.colours import colours_of
from planner.desktop.theme.fonts import headline_font, title_font
from planner.desktop.theme.scheme import Scheme, apply, chosen_scheme
from planner.desktop.theme.verdicts import verdict_icon, verdict_word
from planner.report.style import (
    DARK,
    LIGHT,
    VERDICTS,
    Colours,
    base_font,
    contrast,
    paint_verdict,
    small_font,
)

__all__ = [
    "DARK",
    "LIGHT",
    "VERDICTS",
    "Colours",
    "Scheme",
    "apply",
    "base_font",
    "chosen_scheme",
    "colours_of",
    "contrast",
    "headline_font",
    "paint_verdict",
    "small_font",
    "title_font",
    "verdict_icon",
    "verdict_word",
]
