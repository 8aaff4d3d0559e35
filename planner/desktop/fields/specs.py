"""What numbers inside a list or a table may be, as the plan's model says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from planner.plan.fields import Curve, Spec

__all__ = ["curve_of", "inner_spec"]


def inner_spec(model: type[BaseModel], key: str) -> Spec:
    """Label, unit and range of the numbers that a field holds, however deep they lie in its type.

    Raises
    ------
    KeyError
        If the field holds no numbers.

    Examples
    --------
    >>> from planner.plan.room import Room
    >>> inner_spec(Room, "measured_t60_s").expected
    'a number from 0.05 to 30 s'
    """
    info = model.model_fields[key]
    for item in _unfolded([info.annotation, *info.metadata]):
        spec = item if isinstance(item, Spec) else getattr(item, "value", None)
        if isinstance(spec, Spec):
            return spec
    raise KeyError(f"{model.__name__}.{key} holds no numbers with a unit")


def curve_of(model: type[BaseModel], key: str) -> Curve:
    """The columns that a table over frequency has; raises KeyError if the field is none."""
    info = model.model_fields[key]
    for item in _unfolded([info.annotation, *info.metadata]):
        if isinstance(item, Curve):
            return item
    raise KeyError(f"{model.__name__}.{key} is not a table over frequency")


def _unfolded(items: list[Any]) -> Iterator[Any]:
    """The items and all that they are made of or annotated with."""
    for item in items:
        yield item
        yield from _unfolded([*getattr(item, "__metadata__", ()), *getattr(item, "__args__", ())])
