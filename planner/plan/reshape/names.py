"""Names for what is added to a plan, each different from those that are there."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["unique_name"]

_NUMBERED = re.compile(r"(.*\S)\s+([0-9]{1,4})")


def unique_name(wanted: str, taken: Iterable[str]) -> str:
    """*wanted* itself where it is free, else with the next free number behind it.

    Examples
    --------
    >>> unique_name("Sofa", ["Desk"]), unique_name("Sofa", ["Sofa"]), unique_name("Seat 2", ["Seat 2"])
    ('Sofa', 'Sofa 2', 'Seat 3')
    """
    names = set(taken)
    if wanted not in names:
        return wanted
    match = _NUMBERED.fullmatch(wanted)
    stem, number = (match[1], int(match[2])) if match else (wanted, 1)
    while f"{stem} {number}" in names or number == 1:
        number += 1
    return f"{stem} {number}"
