"""All candidates side by side: a table of their answers, and their curves laid over one another."""

from planner.desktop.compare.panel import ComparePanel

__all__ = ["ComparePanel"]
