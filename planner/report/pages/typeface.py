"""Type on paper: the platform's own font in the few sizes of a report, measured in points."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QTextLayout, QTextOption

__all__ = ["BODY", "NOTE", "SMALL", "UNITS", "Style", "elided", "has_fonts", "lines_of", "width_of"]

UNITS = 20
"""Fonts are set in twentieths of a point, for Qt knows whole sizes only; painters are scaled back by it."""


@dataclass(frozen=True, slots=True)
class Style:
    """A size [pt], whether it is strong, and the distance from line to line in sizes."""

    size_pt: float
    strong: bool = False
    leading: float = 1.42

    @property
    def line_pt(self) -> float:
        """From one line to the next [pt]."""
        return self.size_pt * self.leading

    @property
    def ascent_pt(self) -> float:
        """From the top of a line to its baseline, so that capitals stand in the middle of it [pt]."""
        return (self.line_pt + _metrics(self).capHeight() / UNITS) / 2.0

    @property
    def font(self) -> QFont:
        """The font, in twentieths of a point."""
        return _font(self)


_FIGURE_AND_UNIT = re.compile(r"(?<=[0-9]) (?=(?:W|V|A|Ω|dB|Hz|kHz|m|ms|s|h|%|kg|kN|psf|min)\b|%)")

BODY = Style(8.4)
SMALL = Style(7.3, leading=1.32)
NOTE = Style(7.3, leading=1.4)


def has_fonts() -> bool:
    """Whether this machine has a font; without one every letter is a box, though families have names."""
    return bool(_metrics(BODY).inFont("A"))


def width_of(text: str, style: Style) -> float:
    """Width of a line of text [pt]."""
    return _metrics(style).horizontalAdvance(text) / UNITS


def elided(text: str, style: Style, width_pt: float) -> str:
    """The text, cut with an ellipsis where it is wider."""
    return _metrics(style).elidedText(text, Qt.TextElideMode.ElideRight, width_pt * UNITS + 1.0)


@lru_cache(maxsize=4096)
def lines_of(text: str, style: Style, width_pt: float) -> tuple[str, ...]:
    """The text broken into lines of at most so wide; what has no gap to break at is broken within."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        lines += _broken(paragraph, style, width_pt)
    return tuple(lines)


def _broken(text: str, style: Style, width_pt: float) -> list[str]:
    layout = QTextLayout(_FIGURE_AND_UNIT.sub("\u00a0", text), style.font)
    option = QTextOption()
    option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    layout.setTextOption(option)
    layout.beginLayout()
    lines = []
    while (line := layout.createLine()).isValid():
        line.setLineWidth(width_pt * UNITS)
        line.setPosition(QPointF(0.0, 0.0))
        lines.append(text[line.textStart() : line.textStart() + line.textLength()].rstrip())
    layout.endLayout()
    return lines or [""]


@lru_cache(maxsize=64)
def _font(style: Style) -> QFont:
    font = QFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).family())
    font.setPixelSize(round(style.size_pt * UNITS))
    font.setWeight(QFont.Weight.DemiBold if style.strong else QFont.Weight.Normal)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    # Figures of one width, so that columns of numbers stand below one another, where the font has them; and
    # no ligatures, for they are letters of their own to whoever searches the page for a word.
    for feature, value in (("tnum", 1), ("liga", 0), ("clig", 0)):
        font.setFeature(QFont.Tag(feature), value)
    return font


@lru_cache(maxsize=64)
def _metrics(style: Style) -> QFontMetricsF:
    return QFontMetricsF(_font(style))
