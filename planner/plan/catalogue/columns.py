"""Columns of a table of entries: which there are, in what order, and what their cells may hold.

A column is named by the path to its value, ``data.sections[0].low_hz``; all is read from the plan's model.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from functools import lru_cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

from planner.plan.edit import Path, path_text
from planner.plan.fields import Curve, Octaves, Part, Spec

__all__ = ["leaves", "meaning_of", "near_column", "path_of", "place_of"]

_STEP = re.compile(r"(?:^|\.)([A-Za-z_]\w*)|\[(\d{1,3})\]", re.ASCII)


class Meaning(NamedTuple):
    """What the value at a path may be, over all kinds of part that may stand there.

    ``leaves`` out of "number", "text", "table" and "octaves"; ``items`` are the annotations of a list, one
    for all its places or one for each.
    """

    leaves: frozenset[str] = frozenset()
    parts: tuple[type[Part], ...] = ()
    items: tuple[Any, ...] = ()


@lru_cache(maxsize=4096)
def meaning_of(part: type[Part], path: Path) -> Meaning:
    """What may stand at a path below a part; nothing, if the path leads nowhere."""
    meaning = Meaning(parts=(part,))
    for step in path:
        meaning = _item(meaning, step) if isinstance(step, int) else _field(meaning, step)
    return meaning


def path_of(column: str) -> Path | None:
    """The path that a column's heading names, or None if it names none.

    >>> path_of("data.sections[0].low_hz")
    ('data', 'sections', 0, 'low_hz')
    """
    steps = list(_STEP.finditer(column))
    path = tuple(match[1] if match[1] else int(match[2]) for match in steps)
    return path if path and path_text(path) == column else None


def place_of(part: type[Part], path: Path) -> tuple[tuple[int, str], ...]:
    """Where a path below a part stands in the order of the model, to sort by."""
    return tuple(
        (step, "") if isinstance(step, int) else (_rank(meaning_of(part, path[:depth]), step), step)
        for depth, step in enumerate(path)
    )


def near_column(heading: str, parts: Iterable[type[Part]]) -> str:
    """The column whose name comes nearest to a heading, with the numbers that stand in that."""
    known = {column for part in parts for column in _columns(Meaning(parts=(part,)))}
    plain = re.sub(r"\[\d*\]", "[0]", heading)
    near = get_close_matches(plain, sorted(known), n=1, cutoff=0.0)[0]
    numbers = iter(re.findall(r"\[(\d{1,3})\]", heading))
    return re.sub(r"\[0\]", lambda found: f"[{next(numbers, '0')}]", near)


def leaves(part: Part, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Path and value of everything given below a part, in the order of the model."""
    for key, value in part:
        yield from _leaves(value, (*path, key), meaning_of(type(part), (key,)))


def _leaves(value: Any, path: Path, meaning: Meaning) -> Iterator[tuple[Path, Any]]:
    if isinstance(value, Part):
        yield from leaves(value, path)
    elif isinstance(value, tuple) and "table" not in meaning.leaves:
        for index, item in enumerate(value):
            yield from _leaves(item, (*path, index), _item(meaning, index))
    elif value is not None:
        yield path, value


def _rank(meaning: Meaning, key: str) -> int:
    ranks = [list(part.model_fields).index(key) for part in meaning.parts if key in part.model_fields]
    return min(ranks, default=0)


def _columns(meaning: Meaning, column: str = "") -> Iterator[str]:
    """Every column that a meaning can give, with 0 for every number."""
    if meaning.leaves:
        yield column
    if meaning.items:
        yield from _columns(_item(meaning, 0), f"{column}[0]")
    for key in {key for part in meaning.parts for key in part.model_fields}:
        yield from _columns(_field(meaning, key), f"{column}.{key}" if column else key)


def _field(meaning: Meaning, key: str) -> Meaning:
    infos = [part.model_fields[key] for part in meaning.parts if key in part.model_fields]
    return _together(_read(info.annotation, tuple(info.metadata)) for info in infos)


def _item(meaning: Meaning, index: int) -> Meaning:
    if not meaning.items:
        return Meaning()
    open_ended = meaning.items[-1] is Ellipsis
    if not open_ended and index >= len(meaning.items):
        return Meaning()
    return _read(meaning.items[0 if open_ended else index], ())


def _read(annotation: Any, metadata: tuple[Any, ...]) -> Meaning:
    """The meaning of one annotation with what is annotated to it."""
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *more = get_args(annotation)
        return _read(inner, (*more, *metadata))
    if leaf := _leaf(annotation, metadata):
        return Meaning(frozenset({leaf}))
    if origin in (Union, UnionType):
        return _together(_read(choice, ()) for choice in get_args(annotation))
    if origin is tuple:
        return Meaning(items=get_args(annotation))
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return Meaning(parts=(annotation,))
    assert annotation is NoneType, f"a plan holds no {annotation}"
    return Meaning()


def _leaf(annotation: Any, metadata: tuple[Any, ...]) -> str | None:
    if any(isinstance(one, Curve) for one in metadata):
        return "table"
    if any(isinstance(one, Spec) for one in metadata):
        return "number"
    if get_origin(annotation) is Literal or annotation is str:
        return "text"
    return "octaves" if annotation is Octaves else None


def _together(meanings: Iterator[Meaning]) -> Meaning:
    kinds: frozenset[str] = frozenset()
    parts: tuple[type[Part], ...] = ()
    items: tuple[Any, ...] = ()
    for one in meanings:
        kinds, parts, items = kinds | one.leaves, (*parts, *one.parts), items or one.items
    return Meaning(kinds, parts, items)
