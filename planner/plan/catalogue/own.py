"""The user's own entries: one file in the user's data folder, read leniently and written in one step."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from planner.plan.catalogue.built_in import built_in_entries
from planner.plan.catalogue.collection import Catalogue, free_id
from planner.plan.catalogue.entry import Entry, with_id
from planner.plan.catalogue.json_file import dumps_json, listed_in, read_listed
from planner.plan.errors import Finding, PlanError
from planner.plan.storage import MOST_BYTES, write_atomically

__all__ = ["change_own", "load_catalogue", "own_path", "save_own"]


def own_path() -> Path:
    """Where the user's own entries are kept."""
    from platformdirs import user_data_path

    return user_data_path("fewwatts") / "catalogue.json"


def load_catalogue(path: str | os.PathLike[str] | None = None) -> Catalogue:
    """The entries of the program with those of the user's file.

    A fault in that file is no error: what can be read is there, and ``findings`` say what cannot. An id
    that is taken already is made a free one, which is a finding too.
    """
    file = own_path() if path is None else Path(path)
    catalogue = Catalogue(built_in=built_in_entries())
    try:
        own, findings, unread = read_listed(listed_in(_content(file)))
    except FileNotFoundError:
        return catalogue
    except OSError as error:
        fault = Finding("the file", "", f"a file that can be read; {error.strerror or error}", str(file))
        return replace(catalogue, findings=(fault,), set_aside=True)
    except PlanError as error:
        return replace(catalogue, findings=error.in_file(str(file)).findings, set_aside=True)
    own, twins = _with_free_ids(own, catalogue.built_in)
    faults = tuple(replace(one, file=str(file)) for one in (*findings, *twins))
    return replace(catalogue, own=own, findings=faults, unread=unread)


def save_own(catalogue: Catalogue, path: str | os.PathLike[str] | None = None) -> Catalogue:
    """Write the user's file, whole or not at all; what the last reading could not make out is kept.

    Returns the catalogue as it now stands on disk: after a file that could not be read at all has been
    set aside, it is no longer one to set aside.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    file = own_path() if path is None else Path(path)
    file.parent.mkdir(parents=True, exist_ok=True)
    if catalogue.set_aside and file.exists():
        shutil.copy2(file, _free_place(file))
    write_atomically(file, dumps_json(catalogue.own, catalogue.unread).encode())
    return replace(catalogue, set_aside=False)


def change_own(
    change: Callable[[Catalogue], Catalogue], path: str | os.PathLike[str] | None = None
) -> Catalogue:
    """Read the catalogue anew, change it, and write it: so two open windows do not undo each other's work.

    >>> import tempfile
    >>> from planner.plan.amplifier import Cable
    >>> from planner.plan.catalogue.collection import added
    >>> from planner.plan.catalogue.entry import entry_of
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     cable = entry_of(Cable(loop_ohm=0.1), "Old cable")
    ...     changed = change_own(lambda catalogue: added(catalogue, cable), f"{folder}/own.json")
    >>> [entry.id for entry in changed.own]
    ['own-old-cable']
    """
    return save_own(change(load_catalogue(path)), path)


def _content(file: Path) -> bytes:
    size = file.stat().st_size
    if size > MOST_BYTES:
        raise PlanError([Finding("the file", f"{size} bytes", f"at most {MOST_BYTES} bytes")])
    return file.read_bytes()


def _with_free_ids(
    own: tuple[Entry, ...], built_in: tuple[Entry, ...]
) -> tuple[tuple[Entry, ...], list[Finding]]:
    """Own entries, each with an id that no other entry has, and a finding for each that was changed."""
    taken = {entry.id for entry in built_in}
    kept: list[Entry] = []
    findings: list[Finding] = []
    for entry in own:
        free = free_id(entry.id, taken)
        if free != entry.id:
            findings.append(Finding("entries", f'the id "{entry.id}" again', f"another; it is {free} now"))
        taken.add(free)
        kept.append(with_id(entry, free))
    return tuple(kept), findings


def _free_place(file: Path) -> Path:
    """A name beside the file that is not taken, for what is to be kept of it."""
    number, place = 1, file.with_name(f"{file.stem}.unread{file.suffix}")
    while place.exists():
        number += 1
        place = file.with_name(f"{file.stem}.unread-{number}{file.suffix}")
    return place
