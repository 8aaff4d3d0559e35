"""What the report's tests share: a plan with something of everything, and the text of a PDF."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from typing import Any

from pypdf import PdfReader

from planner.plan import Plan, loads
from planner.report.content.blocks import RoomView
from planner.report.gather import Case, gather
from planner.resources import demo_rooms

ON = date(2031, 5, 17)


@cache
def cases_of(room: str) -> tuple[Case, ...]:
    """All that is known of a demo room, computed once for all tests."""
    return gather(plan_of_room(room))


@cache
def plan_of_room(room: str) -> Plan:
    """A demo room."""
    return loads((demo_rooms() / f"{room}.json").read_text(encoding="utf-8"))


def pages_of(pdf: bytes) -> list[str]:
    """The text of each page."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def numbers_in(text: str) -> list[str]:
    """Every number with a decimal point, without a plus sign."""
    return re.findall(r"-?[0-9]+\.[0-9]+", text)


def figures_of(value: Any, path: str = "") -> list[tuple[str, float]]:
    """Every number of a JSON document with the way to it."""
    if isinstance(value, dict):
        return [pair for key, one in value.items() for pair in figures_of(one, f"{path}.{key}")]
    if isinstance(value, list):
        return [pair for index, one in enumerate(value) for pair in figures_of(one, f"{path}[{index}]")]
    return [(path, float(value))] if isinstance(value, int | float) and not isinstance(value, bool) else []


def as_data(room: str) -> dict[str, Any]:
    """A demo room as plain data, to be changed."""
    data: dict[str, Any] = json.loads((demo_rooms() / f"{room}.json").read_text(encoding="utf-8"))
    return data


def words_in(part: Any) -> list[str]:
    """All texts within a block, a tuple of blocks or a chart."""
    if isinstance(part, str):
        return [part]
    if isinstance(part, tuple | list):
        return [text for one in part for text in words_in(one)]
    if is_dataclass(part) and not isinstance(part, RoomView):
        return [text for one in fields(part) for text in words_in(getattr(part, one.name))]
    return []


def text_of(blocks: Iterable[Any]) -> str:
    """The texts of blocks, one a line."""
    return "\n".join(words_in(tuple(blocks)))
