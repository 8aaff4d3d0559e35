"""The entries that travel with the program, each of them invented."""

from __future__ import annotations

from functools import cache

from planner.plan.catalogue.entry import KINDS, Entry
from planner.plan.catalogue.json_file import loads_json
from planner.plan.errors import PlanError
from planner.resources import resource_path

__all__ = ["built_in_entries"]


@cache
def built_in_entries() -> tuple[Entry, ...]:
    """All entries of the program, by kind."""
    return tuple(entry for kind in KINDS for entry in _entries(f"{kind}s.json"))


def _entries(name: str) -> tuple[Entry, ...]:
    file = resource_path("catalogue") / name
    try:
        return loads_json(file.read_bytes())
    except PlanError as error:
        raise error.in_file(str(file)) from None
