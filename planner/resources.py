"""Files that travel with the program: material tables, programme tables, demo rooms."""

import csv
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

__all__ = [
    "MATERIALS_SOURCE",
    "OCTAVES",
    "Furnishing",
    "Material",
    "demo_rooms",
    "furnishings",
    "materials",
    "resource_path",
    "simulated_programme",
]

OCTAVES = ("125", "250", "500", "1000", "2000", "4000", "8000")
"""Nominal octave labels of the absorption tables."""

MATERIALS_SOURCE = "M. Vorländer, Auralization (Springer, 2008), annex; 8 kHz as 4 kHz where it gives none"
"""Who says so in the table of materials; its licence stands in NOTICE-materials.txt beside it."""


class Material(NamedTuple):
    """A surface: absorption coefficients, one for each of OCTAVES."""

    key: str
    group: str
    description: str
    absorption: tuple[float, ...]


class Furnishing(NamedTuple):
    """A thing in the room: absorption area of one piece in m^2, one for each of OCTAVES."""

    key: str
    group: str
    description: str
    area_m2: tuple[float, ...]
    source: str


def resource_path(name: str) -> Traversable:
    """File or folder *name* of the program's resources, installed or in a checkout."""
    return _folder("resources") / name


def demo_rooms() -> Traversable:
    """Folder of the demo plans, installed or in a checkout."""
    return _folder("demo_rooms")


@cache
def materials() -> Mapping[str, Material]:
    """All surface materials by key, in the order of their table."""
    rows = _rows("materials.csv")
    return MappingProxyType(
        {r["key"]: Material(r["key"], r["group"], r["description"], _octaves(r)) for r in rows}
    )


@cache
def furnishings() -> Mapping[str, Furnishing]:
    """All furnishings by key, in the order of their table."""
    rows = _rows("furnishings.csv")
    return MappingProxyType(
        {r["key"]: Furnishing(r["key"], r["group"], r["description"], _octaves(r), r["source"]) for r in rows}
    )


@cache
def simulated_programme() -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Nominal mids in Hz and band levels in dB of the simulated programme signal (IEC 60268-1)."""
    rows = list(_rows("programme_iec60268.csv"))
    return (
        tuple(float(row["nominal_hz"]) for row in rows),
        tuple(float(row["relative_level_db"]) for row in rows),
    )


def _folder(name: str) -> Traversable:
    """In a wheel the folder lies inside the package, with an underscore; in a checkout beside it."""
    installed = files("planner") / f"_{name}"
    return installed if installed.is_dir() else Path(__file__).parents[1] / name


def _rows(name: str) -> Iterator[dict[str, str]]:
    yield from csv.DictReader(resource_path(name).read_text(encoding="utf-8").splitlines())


def _octaves(row: Mapping[str, str]) -> tuple[float, ...]:
    """One value for each octave; 8 kHz, where a table has none, holds the value of 4 kHz."""
    return tuple(float(row[octave] or row["4000"]) for octave in OCTAVES)
