"""The fault of a measurement that cannot be used."""

from __future__ import annotations

__all__ = ["MeasurementError"]


class MeasurementError(ValueError):
    """A measurement that cannot be used; the message says where, what is wrong, and what to do."""
