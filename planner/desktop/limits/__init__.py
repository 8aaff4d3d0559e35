"""What gives out first: every limit of the system beside the others, and what another tap would give."""

from planner.desktop.limits.panel import LimitsPanel

__all__ = ["LimitsPanel"]
