"""Values as the text of cells, and back.

A whole table or row of octaves is one cell: ``20 9.5 25; 31.5 17 30`` or ``125: 0.2; 1000: 0.4``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

__all__ = ["cell_of", "value_of"]

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)
_ONLY_QUOTES = re.compile(r'"*')
MOST_DIGITS = 15
"""A longer whole number is read as a float: it is one, written in full."""


def cell_of(value: Any) -> str:
    """A value as the text of a cell.

    >>> cell_of(9.5), cell_of(((20.0, 9.5), (31.5, 17.0))), cell_of("")
    ('9.5', '20 9.5; 31.5 17', '""')
    """
    if isinstance(value, str):
        return f'""{value}' if _ONLY_QUOTES.fullmatch(value) else value
    if isinstance(value, tuple):
        return "; ".join(" ".join(map(cell_of, row)) for row in value)
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {cell_of(number)}" for key, number in value.items())
    text = repr(value)
    return text.removesuffix(".0") if value else text


def value_of(cell: str, kinds: frozenset[str], comma: bool = False) -> Any:
    """What a cell says, as plain data for the model to judge; with *comma*, 9,5 is 9.5.

    A cell that reads as none of the *kinds* is given back as the text it is.

    >>> value_of("9.5", frozenset({"number"})), value_of("125: 0.2", frozenset({"number", "octaves"}))
    (9.5, {'125': 0.2})
    """
    if "text" in kinds and _ONLY_QUOTES.fullmatch(cell):
        return cell[2:]
    readers = {"number": _number, "table": _table, "octaves": _octaves}
    for kind, read in readers.items():
        if kind in kinds and (found := read(cell.strip(), comma)) is not None:
            return found
    return cell


def _number(text: str, comma: bool) -> float | None:
    text = text.replace(",", ".") if comma else text
    if not _NUMBER.fullmatch(text):
        return None
    if text.lstrip("+-").isdigit() and len(text) <= MOST_DIGITS:
        return int(text)
    return float(text)


def _table(text: str, comma: bool) -> list[list[float]] | None:
    rows = [[_number(cell, comma) for cell in row.split()] for row in text.split(";")]
    known = [[cell for cell in row if cell is not None] for row in rows]
    return known if known == rows else None


def _octaves(text: str, comma: bool) -> dict[str, float] | None:
    found: dict[str, float] = {}
    for pair in text.split(";"):
        key, colon, cell = pair.partition(":")
        value = _number(cell.strip(), comma)
        octave = key.strip().replace(",", ".") if comma else key.strip()
        if not colon or value is None or octave in found:
            return None
        found[octave] = value
    return found
