"""An entry of the catalogue: one part of a plan in full, with an id, a note, and a name to find it by."""

from __future__ import annotations

import re
import unicodedata
from typing import Annotated, Any, Final, Literal

from pydantic import AfterValidator, Field, ValidationError
from pydantic_core import PydanticCustomError

from planner.plan.amplifier import Amplifier, Cable, LineSource, PhonoSource, Source
from planner.plan.edit import rebuilt
from planner.plan.errors import Finding, PlanError, findings_of
from planner.plan.fields import Part, Spec
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.reshape.parts import changed
from planner.plan.room import OwnMaterial

__all__ = [
    "ENTRY_TYPES",
    "KINDS",
    "MOST_ID",
    "OWN",
    "AmplifierEntry",
    "CableEntry",
    "Entry",
    "LoudspeakerEntry",
    "Made",
    "MaterialEntry",
    "SourceEntry",
    "entry_of",
    "plain_data",
    "read_entry",
    "title_of",
    "with_id",
    "with_title",
]

OWN: Final = "own-"
"""What the ids of a user's own entries begin with, so that no entry of ours ever takes one of theirs."""
MOST_ID: Final = 100


def _checked_id(given: str) -> str:
    if not 1 <= len(given) <= MOST_ID or re.search(r"\s", given):
        expected = f"an id of 1 to {MOST_ID} characters without blanks"
        raise PydanticCustomError("id", "{expected}", {"expected": expected})
    return given


class Made(Part):
    """When the thing was made."""

    year: Annotated[int, Spec("Year made", "", 1800, 2200, whole=True)] | None = None


_Id = Annotated[str, AfterValidator(_checked_id)]
_Name = Annotated[str, Field(min_length=1)]


class LoudspeakerEntry(Part):
    """A loudspeaker of the catalogue."""

    id: _Id
    kind: Literal["loudspeaker"]
    made: Made = Made()
    note: str | None = None
    data: Loudspeaker


class AmplifierEntry(Part):
    """An amplifier of the catalogue."""

    id: _Id
    kind: Literal["amplifier"]
    made: Made = Made()
    note: str | None = None
    data: Amplifier


class SourceEntry(Part):
    """A source of the catalogue; it has no name in a plan, so it is named here."""

    id: _Id
    kind: Literal["source"]
    name: _Name
    made: Made = Made()
    note: str | None = None
    data: Source


class CableEntry(Part):
    """A cable of the catalogue; it has no name in a plan, so it is named here."""

    id: _Id
    kind: Literal["cable"]
    name: _Name
    made: Made = Made()
    note: str | None = None
    data: Cable


class MaterialEntry(Part):
    """A surface material of the catalogue, for a plan that describes its own."""

    id: _Id
    kind: Literal["material"]
    made: Made = Made()
    note: str | None = None
    data: OwnMaterial


Entry = LoudspeakerEntry | AmplifierEntry | SourceEntry | CableEntry | MaterialEntry

ENTRY_TYPES: Final[dict[str, type[Entry]]] = {
    "loudspeaker": LoudspeakerEntry,
    "amplifier": AmplifierEntry,
    "source": SourceEntry,
    "cable": CableEntry,
    "material": MaterialEntry,
}
KINDS: Final = tuple(ENTRY_TYPES)
_KIND_OF: Final[dict[type[Part], str]] = {
    Loudspeaker: "loudspeaker",
    Amplifier: "amplifier",
    LineSource: "source",
    PhonoSource: "source",
    Cable: "cable",
    OwnMaterial: "material",
}


def read_entry(data: Any) -> Entry:
    """One entry from its plain data.

    Raises
    ------
    PlanError
        With every fault; paths begin at the entry (``data.taps[0].watts``), the entry itself has none.
    """
    if not isinstance(data, dict):
        raise PlanError([Finding("", repr(data)[:60], "an object that holds an entry")])
    kind = data.get("kind")
    if not isinstance(kind, str) or kind not in ENTRY_TYPES:
        found = "" if kind is None else repr(kind)[:60]
        raise PlanError([Finding("kind", found, f"one of {', '.join(KINDS)}")])
    model = ENTRY_TYPES[kind]
    try:
        return model.model_validate(data)
    except ValidationError as error:
        raise PlanError(findings_of(error, data, model)) from None


def plain_data(entry: Entry) -> dict[str, Any]:
    """The entry as plain data, as files hold it; what is not given is left out."""
    return entry.model_dump(mode="json", exclude_none=True)


def entry_of(
    part: Loudspeaker | Amplifier | LineSource | PhonoSource | Cable | OwnMaterial,
    name: str | None = None,
    note: str | None = None,
) -> Entry:
    """A part of a plan as an entry; a source or cable needs a name, the others have one.

    An amplifier is taken as one that drives all, without the trim that its place in a plan asked for.

    Raises
    ------
    PlanError
        If there is no name.

    Examples
    --------
    >>> entry_of(Cable(area_mm2=2.5, length_m=3.0), "2.5 mm², 3 m").id
    'own-2-5-mm2-3-m'
    """
    kind, title = _KIND_OF[type(part)], str(name or getattr(part, "name", ""))
    data: dict[str, Any] = {"id": OWN + (_slug(title) or kind), "kind": kind, "note": note}
    if isinstance(part, Cable | LineSource | PhonoSource):
        return read_entry({**data, "name": title, "data": changed(part, catalogue_id=None)})
    if isinstance(part, OwnMaterial):
        return read_entry({**data, "data": changed(part, name=title)})
    neutral = changed(part, name=title, catalogue_id=None)
    if isinstance(neutral, Amplifier):
        neutral = changed(neutral, drives="all", trim_db=0.0)
    return read_entry({**data, "data": neutral})


def title_of(entry: Entry) -> str:
    """The name an entry is found by."""
    return entry.name if isinstance(entry, SourceEntry | CableEntry) else entry.data.name


def with_title(entry: Entry, title: str) -> Entry:
    """The entry under another name; raises :class:`PlanError` if that is empty."""
    if isinstance(entry, SourceEntry | CableEntry):
        return changed(entry, name=title)
    return changed(entry, data=rebuilt(entry.data, {"name": title}))


def with_id(entry: Entry, new_id: str) -> Entry:
    """The entry under another id."""
    return changed(entry, id=new_id)


def _slug(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60].strip("-")
