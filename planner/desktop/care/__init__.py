"""What to heed beside headroom: ears, floors, high voltage, and how an amplifier overloads."""

from planner.desktop.care.panel import CarePanel

__all__ = ["CarePanel"]
