"""How a chart looks for now: the theme's colours, and how much thicker than a device pixel its lines are."""

from dataclasses import dataclass
from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from planner.desktop.theme import Colours

__all__ = ["THICKEST", "Look", "Styled"]

THICKEST = 2.0


@dataclass(frozen=True, slots=True)
class Look:
    """Colours and line scale.

    Qt counts the width of a cosmetic pen in pixels of the device, so on a screen of twice the density, and
    on a picture of twice the size, every line must be told to be twice as wide.
    """

    colours: Colours
    lines: float = 1.0

    def pick(self, token: str, alpha: float = 1.0) -> QColor:
        """Look up a colour of the theme."""
        return self.colours.pick(token, alpha)

    def pen(self, token: str, width: float = 1.0, dash: tuple[float, ...] = ()) -> QPen:
        """Make a cosmetic pen, never thicker than 2; dashes are counted in its width.

        Its ends are flat: pieces drawn one by one would else overlap into knots, and dashes grow into
        their gaps.
        """
        pen = QPen(self.pick(token), min(width, THICKEST) * self.lines)
        pen.setCosmetic(True)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if dash:
            pen.setDashPattern(list(dash))
        return pen


class Styled(Protocol):
    """Anything on a chart that has colours or lines."""

    def restyle(self, look: Look) -> None:
        """Take colours and line widths."""
