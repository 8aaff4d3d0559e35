"""Older plan files brought up to date, one small step a version."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

__all__ = ["STEPS", "migrated"]

Data = dict[str, Any]

STEPS: dict[int, Callable[[Data], Data]] = {}
"""From version n to n + 1; a step imports nothing of ours, so that it stays right for ever."""


def migrated(data: Data) -> Data:
    """The same plan in the newest version of the format."""
    while step := STEPS.get(data["version"]):
        data = step(data)
    return data
