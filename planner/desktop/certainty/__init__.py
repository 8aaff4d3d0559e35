"""How sure the answer is: the spread of headroom, and which input the doubt comes from."""

from planner.desktop.certainty.line import CertaintyLine
from planner.desktop.certainty.panel import CertaintyPanel

__all__ = ["CertaintyLine", "CertaintyPanel"]
