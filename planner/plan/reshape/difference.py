"""Where two plans differ, so that undo can show what it changed."""

from __future__ import annotations

from planner.plan.edit import Path
from planner.plan.fields import Part

__all__ = ["first_difference"]


def first_difference(before: object, after: object) -> Path | None:
    """The path of the first value in which two plans differ; None if they are equal.

    It ends at what was added or taken away where a list has grown or shrunk, and at a part as a whole
    where that has become another kind of thing.

    Examples
    --------
    >>> from planner.plan.presets import preset
    >>> from planner.plan.edit import put
    >>> plan = preset("living_room").plan()
    >>> first_difference(plan, put(plan, ("seats", 0, "x_m"), 3.0))
    ('seats', 0, 'x_m')
    """
    if before is after or before == after:
        return None
    if isinstance(before, Part) and type(before) is type(after):
        return _within([(key, value, getattr(after, key)) for key, value in before])
    if isinstance(before, tuple) and isinstance(after, tuple) and before and after:
        shorter = min(len(before), len(after))
        deeper = _within(list(zip(range(shorter), before, after, strict=False)))
        return deeper if deeper is not None else (shorter,)
    return ()


def _within(entries: list[tuple[str | int, object, object]]) -> Path | None:
    for key, one, other in entries:
        deeper = first_difference(one, other)
        if deeper is not None:
            return (key, *deeper)
    return None
