"""Entries as a table: one row an entry, one column a value, for work in a spreadsheet.

Written with commas and CRLF, and quotes where needed (RFC 4180). Read with commas, semicolons or tabs; with
the latter two a decimal comma is understood too.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, Final

from planner.plan.catalogue.cells import cell_of, value_of
from planner.plan.catalogue.columns import (
    leaves,
    meaning_of,
    near_column,
    path_of,
    place_of,
)
from planner.plan.catalogue.entry import ENTRY_TYPES, KINDS, Entry, read_entry
from planner.plan.edit import Path, path_text
from planner.plan.errors import Finding, PlanError

__all__ = ["dumps_csv", "loads_csv"]

_MARKS: Final = (",", ";", "\t")
_FIRST: Final = ("id", "kind", "name", "made.year", "note")


def dumps_csv(entries: Iterable[Entry]) -> str:
    """Entries as CSV text: columns of the entry itself, then those of its data, kind by kind."""
    given = tuple(entries)
    rows = [{path_text(path): cell_of(value) for path, value in leaves(entry)} for entry in given]
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, _headings(given), restval="", lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(rows)
    return stream.getvalue()


def loads_csv(content: bytes | str) -> tuple[Entry, ...]:
    """Entries from CSV text, all of them or none.

    Raises
    ------
    PlanError
        With every fault: its row as a spreadsheet numbers it (headings are row 1) and its column, the
        value found and what was expected.
    """
    headings, rows, comma = _cells(_text(content))
    paths, findings = _paths(headings)
    entries: list[Entry] = []
    for number, cells in rows:
        findings += _beyond(number, cells[len(headings) :], len(headings))
        try:
            entries.append(read_entry(_data(paths, cells, comma)))
        except PlanError as error:
            findings += (replace(one, path=_where(number, one.path)) for one in error.findings)
    if findings:
        raise PlanError(findings)
    return tuple(entries)


def _headings(entries: Sequence[Entry]) -> list[str]:
    found: dict[str, None] = {}
    for kind in KINDS:
        model = ENTRY_TYPES[kind]
        paths = {path for entry in entries if entry.kind == kind for path, _ in leaves(entry)}
        found |= dict.fromkeys(map(path_text, sorted(paths, key=lambda path: place_of(model, path))))
    return [*(one for one in _FIRST if one in found), *(one for one in found if one not in _FIRST)]


def _text(content: bytes | str) -> str:
    try:
        return content.decode("utf-8-sig") if isinstance(content, bytes) else content
    except UnicodeDecodeError as error:
        expected = f"text in UTF-8; byte {error.start} is not"
        raise PlanError([Finding("the file", "", expected)]) from None


def _cells(text: str) -> tuple[list[str], list[tuple[int, list[str]]], bool]:
    """Headings, rows with their numbers but for the empty ones, and whether commas may be decimal."""
    first = text[: text.find("\n")] if "\n" in text else text
    mark = max(_MARKS, key=first.count)
    before = csv.field_size_limit(max(len(text), 1))
    table: list[list[str]] = []
    try:
        table.extend(csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True))
    except csv.Error as error:
        raise PlanError([Finding(f"row {len(table) + 1}", "", f"cells as CSV has them; {error}")]) from None
    finally:
        csv.field_size_limit(before)
    if not table or not any(cell.strip() for cell in table[0]):
        raise PlanError([Finding("row 1", "", "headings: id, kind, data.name and so on")])
    rows = [(number, cells) for number, cells in enumerate(table[1:], start=2) if any(cells)]
    return [heading.strip() for heading in table[0]], rows, mark != ","


def _paths(headings: Sequence[str]) -> tuple[list[Path | None], list[Finding]]:
    """The path of each column, None for one without a heading or with one that is wrong."""
    paths = [path_of(heading) if _known(heading) else None for heading in headings]
    unknown = [heading for heading, path in zip(headings, paths, strict=True) if heading and path is None]
    twice = [heading for heading, count in Counter(headings).items() if heading and count > 1]
    findings = [
        Finding(
            _where(1, heading[:60]),
            "",
            f"a known column, perhaps {near_column(heading, ENTRY_TYPES.values())}",
        )
        for heading in unknown
    ]
    return paths, findings + [
        Finding(_where(1, heading), "the same heading twice", "each column once") for heading in twice
    ]


def _known(heading: str) -> bool:
    path = path_of(heading)
    return path is not None and any(meaning_of(model, path).leaves for model in ENTRY_TYPES.values())


def _beyond(number: int, cells: Sequence[str], columns: int) -> Iterator[Finding]:
    for index, cell in enumerate(cells, start=columns + 1):
        if cell:
            yield Finding(_where(number, str(index)), f'"{cell[:60]}"', "no cell beyond the headings")


def _data(paths: Sequence[Path | None], cells: Sequence[str], comma: bool) -> dict[str, Any]:
    """One row as plain data of an entry."""
    given = [(path, cell) for path, cell in zip(paths, cells, strict=False) if path is not None and cell]
    kind = next((cell for path, cell in given if path == ("kind",)), "")
    model = ENTRY_TYPES.get(kind)
    data: dict[str, Any] = {}
    for path, cell in given:
        kinds = meaning_of(model, path).leaves if model else frozenset({"text"})
        _set(data, path, value_of(cell, kinds, comma))
    return data


def _set(data: Any, path: Path, value: Any) -> None:
    """Put a value at a path of plain data, making what leads there."""
    for step, following in zip(path, (*path[1:], None), strict=True):
        if isinstance(step, int):
            data.extend([None] * (step + 1 - len(data)))
        if following is None:
            data[step] = value
            return
        inner = data[step] if isinstance(step, int) else data.get(step)
        if not isinstance(inner, dict | list):
            inner = [] if isinstance(following, int) else {}
            data[step] = inner
        data = inner


def _where(row: int, column: str) -> str:
    return f"row {row}, column {column}" if column else f"row {row}"
