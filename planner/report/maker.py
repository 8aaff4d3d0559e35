"""Who hands the report out: name, address and mark, as the preferences keep them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

__all__ = ["Maker", "kept_maker"]


@dataclass(frozen=True, slots=True)
class Maker:
    """The maker's own name, address in lines, and a picture file (PNG, JPEG, SVG) with the mark."""

    name: str = ""
    address: str = ""
    mark_file: str = ""


def kept_maker(value: Callable[[str], object]) -> Maker:
    """The maker as the preferences keep it; *value* looks one up, by ``maker/name`` and so on.

    Examples
    --------
    >>> kept_maker({"maker/name": "Horn works"}.get)
    Maker(name='Horn works', address='', mark_file='')
    """
    return Maker(*(str(value(f"maker/{one.name}") or "") for one in fields(Maker)))
