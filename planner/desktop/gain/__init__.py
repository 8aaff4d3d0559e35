"""The gain chain: from record or line to full output, level by level, and where it overloads first."""

from planner.desktop.gain.panel import GainPanel

__all__ = ["GainPanel"]
