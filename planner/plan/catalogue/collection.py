"""The catalogue: entries that travel with the program and the user's own, and pure ways to change those."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from planner.plan.catalogue.entry import MOST_ID, OWN, Entry, title_of, with_id, with_title
from planner.plan.errors import Finding
from planner.plan.reshape.names import unique_name
from planner.plan.reshape.parts import swapped

__all__ = ["Catalogue", "added", "free_id", "merged", "removed", "renamed", "replaced", "updated"]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All entries. Those that travel with the program stay as they are; the user's own may change.

    ``findings`` say what was wrong with the user's file. What could not be read of it is not lost when it
    is written again: ``unread`` holds such entries as JSON, and ``set_aside`` tells that the file as a
    whole could not be read, so that it is kept under another name.
    """

    built_in: tuple[Entry, ...] = ()
    own: tuple[Entry, ...] = ()
    findings: tuple[Finding, ...] = ()
    unread: tuple[str, ...] = ()
    set_aside: bool = False

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry, those that travel with the program first."""
        return self.built_in + self.own

    def of_kind(self, kind: str) -> tuple[Entry, ...]:
        """The entries of one kind."""
        return tuple(entry for entry in self.entries if entry.kind == kind)

    def entry(self, entry_id: str) -> Entry:
        """The entry of an id; raises :class:`KeyError` if there is none."""
        found = next((entry for entry in self.entries if entry.id == entry_id), None)
        if found is None:
            raise KeyError(f"no entry {entry_id!r} in the catalogue")
        return found

    def is_own(self, entry_id: str) -> bool:
        """Whether an entry is the user's, and so may be changed."""
        return any(entry.id == entry_id for entry in self.own)


def added(catalogue: Catalogue, entry: Entry) -> Catalogue:
    """The catalogue with one more own entry, the last.

    Its id is made one of the user's own; id and name get a number where they are taken.
    """
    return replace(catalogue, own=(*catalogue.own, _fresh(catalogue, entry)))


def merged(catalogue: Catalogue, entries: Iterable[Entry]) -> Catalogue:
    """The catalogue with entries from elsewhere, but for those that it holds already under whatever id."""
    for entry in entries:
        if not any(entry == with_id(one, entry.id) for one in catalogue.of_kind(entry.kind)):
            catalogue = added(catalogue, entry)
    return catalogue


def updated(catalogue: Catalogue, entries: Iterable[Entry]) -> Catalogue:
    """As :func:`merged`, but an own entry of the same id and kind gives way to the one from elsewhere."""
    for entry in entries:
        known = next((one for one in catalogue.own if one.id in (entry.id, OWN + entry.id)), None)
        if known is not None and known.kind == entry.kind:
            catalogue = replaced(catalogue, known.id, entry)
        else:
            catalogue = merged(catalogue, [entry])
    return catalogue


def replaced(catalogue: Catalogue, entry_id: str, entry: Entry) -> Catalogue:
    """The catalogue with another content in the place of an own entry, which keeps its id.

    Raises
    ------
    KeyError
        If the id is none of the user's own.
    """
    index = _own_index(catalogue, entry_id)
    return replace(catalogue, own=swapped(catalogue.own, index, with_id(entry, entry_id)))


def removed(catalogue: Catalogue, entry_id: str) -> Catalogue:
    """The catalogue without an own entry; raises :class:`KeyError` as :func:`replaced` does."""
    index = _own_index(catalogue, entry_id)
    return replace(catalogue, own=(*catalogue.own[:index], *catalogue.own[index + 1 :]))


def renamed(catalogue: Catalogue, entry_id: str, name: str) -> Catalogue:
    """The catalogue with an own entry under another name, with a number where that is taken; its id stays.

    Raises
    ------
    KeyError
        If the id is none of the user's own.
    PlanError
        If the name is empty.
    """
    entry = catalogue.own[_own_index(catalogue, entry_id)]
    others = (one for one in catalogue.of_kind(entry.kind) if one.id != entry_id)
    return replaced(catalogue, entry_id, with_title(entry, unique_name(name, map(title_of, others))))


def _own_index(catalogue: Catalogue, entry_id: str) -> int:
    for index, entry in enumerate(catalogue.own):
        if entry.id == entry_id:
            return index
    raise KeyError(f"no own entry {entry_id!r} in the catalogue")


def _fresh(catalogue: Catalogue, entry: Entry) -> Entry:
    """The entry with an id that is free, and a name that none of its kind has."""
    name = unique_name(title_of(entry), map(title_of, catalogue.of_kind(entry.kind)))
    entry = entry if name == title_of(entry) else with_title(entry, name)
    wanted = entry.id if entry.id.startswith(OWN) else OWN + entry.id
    return with_id(entry, free_id(wanted, {one.id for one in catalogue.entries}))


def free_id(wanted: str, taken: set[str]) -> str:
    """*wanted* itself where it is free, else the first free of *wanted*-2, -3, …"""
    number, found = 1, wanted[:MOST_ID]
    while found in taken:
        number += 1
        found = f"{wanted[: MOST_ID - len(str(number)) - 1]}-{number}"
    return found
