"""Sizes of paper, and the frame that a page leaves for its text [pt]."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["A4", "LETTER", "PAPERS", "Paper"]


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet with its margins [pt]."""

    width: float
    height: float
    side: float = 54.0
    top: float = 44.0
    bottom: float = 52.0

    @property
    def text_width(self) -> float:
        """Width of the frame."""
        return self.width - 2.0 * self.side

    @property
    def text_height(self) -> float:
        """Height of the frame."""
        return self.height - self.top - self.bottom


A4 = Paper(210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0)
LETTER = Paper(8.5 * 72.0, 11.0 * 72.0)
PAPERS = {"a4": A4, "letter": LETTER}
