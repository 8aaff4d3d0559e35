"""Entries as JSON: what an export, the user's own file and the tables of the program look like."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, Final

from planner.plan.catalogue.entry import Entry, plain_data, read_entry
from planner.plan.errors import Finding, PlanError
from planner.plan.storage import parsed_json

__all__ = ["FORMAT", "VERSION", "dumps_json", "listed_in", "loads_json", "read_listed"]

FORMAT: Final = "fewwatts-catalogue"
VERSION: Final = 1
_HEAD: Final = ("format", "version", "entries")


def dumps_json(entries: Iterable[Entry], unread: Sequence[str] = ()) -> str:
    """Entries as JSON text, floats in full; *unread* are further ones, given as JSON and kept as they are."""
    listed = [*map(plain_data, entries), *map(json.loads, unread)]
    data = {"format": FORMAT, "version": VERSION, "entries": listed}
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def loads_json(content: bytes | str) -> tuple[Entry, ...]:
    """Entries from JSON text, all of them or none.

    Raises
    ------
    PlanError
        With every fault of every entry: its path (``entries[3].data.taps[0].watts``), the value found
        and what was expected.
    """
    entries, findings, _ = read_listed(listed_in(content))
    if findings:
        raise PlanError(findings)
    return entries


def listed_in(content: bytes | str) -> list[Any]:
    """The plain entries that a catalogue file lists; raises :class:`PlanError` if it is none."""
    data = parsed_json(content)
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        found = json.dumps(data.get("format"), ensure_ascii=False)[:60] if isinstance(data, dict) else ""
        raise PlanError([Finding("format", found, f'"{FORMAT}", so this is no catalogue of this program')])
    version, entries = data.get("version"), data.get("entries")
    findings = [
        Finding(key, "", f"a known key, one of {', '.join(_HEAD)}") for key in data if key not in _HEAD
    ]
    if isinstance(version, bool) or not isinstance(version, int) or not 1 <= version <= VERSION:
        expected = f"a version from 1 to {VERSION}; a newer Few Watts writes newer ones, so open it there"
        findings.append(Finding("version", repr(version)[:60], expected))
    if not isinstance(entries, list):
        findings.append(Finding("entries", repr(entries)[:60], "a list of entries"))
    if findings or not isinstance(entries, list):
        raise PlanError(findings)
    return entries


def read_listed(listed: Sequence[Any]) -> tuple[tuple[Entry, ...], tuple[Finding, ...], tuple[str, ...]]:
    """The entries that can be read, what is wrong with the others, and those others as JSON."""
    entries: list[Entry] = []
    findings: list[Finding] = []
    unread: list[str] = []
    for index, data in enumerate(listed):
        try:
            entries.append(read_entry(data))
        except PlanError as error:
            findings += (replace(one, path=_within(index, one.path)) for one in error.findings)
            unread.append(json.dumps(data, ensure_ascii=False))
    return tuple(entries), tuple(findings), tuple(unread)


def _within(index: int, path: str) -> str:
    return f"entries[{index}].{path}" if path else f"entries[{index}]"
