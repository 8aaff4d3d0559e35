"""The small moves that all changes of a plan are made of; types are kept, untouched parts are shared."""

from __future__ import annotations

from typing import Any, TypeVar

from planner.plan.edit import Path, put, rebuilt
from planner.plan.fields import Part
from planner.plan.model import Plan

__all__ = ["changed", "inserted", "moved", "placed", "swapped", "without"]

AnyPart = TypeVar("AnyPart", bound=Part)
Item = TypeVar("Item")


def changed(part: AnyPart, **changes: Any) -> AnyPart:
    """A checked copy of a part with some of its fields changed."""
    after = rebuilt(part, changes)
    assert isinstance(after, type(part))
    return after


def placed(plan: Plan, path: Path, value: Any) -> Plan:
    """The plan with the value at *path* replaced and checked."""
    after = put(plan, path, value)
    assert isinstance(after, Plan)
    return after


def inserted(items: tuple[Item, ...], index: int, item: Item) -> tuple[Item, ...]:
    """The items with one more at *index*."""
    return (*items[:index], item, *items[index:])


def without(items: tuple[Item, ...], index: int) -> tuple[Item, ...]:
    """The items without the one at *index*."""
    return (*items[:index], *items[index + 1 :])


def moved(items: tuple[Item, ...], index: int, to: int) -> tuple[Item, ...]:
    """The items with the one at *index* at another place."""
    return inserted(without(items, index), to, items[index])


def swapped(items: tuple[Item, ...], index: int, item: Item) -> tuple[Item, ...]:
    """The items with another one at *index*."""
    return (*items[:index], item, *items[index + 1 :])
