"""Entries to and from files: JSON, or CSV by the file's ending."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from planner.plan.catalogue.csv_file import dumps_csv, loads_csv
from planner.plan.catalogue.entry import Entry
from planner.plan.catalogue.json_file import dumps_json, loads_json
from planner.plan.errors import Finding, PlanError
from planner.plan.storage import MOST_BYTES, write_atomically

__all__ = ["export_entries", "import_entries"]


def export_entries(entries: Iterable[Entry], path: str | os.PathLike[str]) -> None:
    """Write entries to a file in one step: CSV if it ends in .csv, else JSON.

    CSV begins with the mark of UTF-8, without which spreadsheets take it for something else.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    content = dumps_csv(entries).encode("utf-8-sig") if _is_csv(path) else dumps_json(entries).encode()
    write_atomically(path, content)


def import_entries(path: str | os.PathLike[str]) -> tuple[Entry, ...]:
    """Read all entries of a file that :func:`export_entries` might have written.

    Raises
    ------
    PlanError
        With every fault at once, each naming the file, its place there (row and column, or key path), the
        value found and what was expected; also if the file cannot be read.
    """
    file = os.fspath(path)
    try:
        size = os.stat(file).st_size
        if size > MOST_BYTES:
            raise PlanError([Finding("the file", f"{size} bytes", f"at most {MOST_BYTES} bytes")])
        content = Path(file).read_bytes()
        return loads_csv(content) if _is_csv(file) else loads_json(content)
    except OSError as error:
        reason = error.strerror or str(error)
        raise PlanError([Finding("the file", "", f"a file that can be read; {reason}", file)]) from error
    except PlanError as error:
        raise error.in_file(file) from None


def _is_csv(path: str | os.PathLike[str]) -> bool:
    return os.fspath(path).lower().endswith(".csv")
