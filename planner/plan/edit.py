"""One value of a plan read or replaced by its path; the rest of the plan is shared."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from planner.plan.errors import PlanError, findings_of
from planner.plan.fields import Part, Spec, spec_of

__all__ = ["Path", "get", "path_text", "put", "rebuilt", "spec_at"]

Path = tuple[str | int, ...]


def get(part: Any, path: Path) -> Any:
    """The value at *path*."""
    for step in path:
        part = part[step] if isinstance(step, int) else getattr(part, step)
    return part


def put(part: Any, path: Path, value: Any) -> Any:
    """A copy of *part* with the value at *path* replaced and checked; untouched parts are shared.

    Raises
    ------
    PlanError
        If the value is out of its range, or the part it belongs to no longer makes sense.
    """
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        items = list(part)
        items[step] = put(items[step], rest, value)
        return tuple(items)
    return rebuilt(part, {step: put(getattr(part, step), rest, value)})


def rebuilt(part: Part, changes: dict[str, Any]) -> Part:
    """A checked copy of one part with some of its fields changed."""
    data = {**dict(part), **changes}
    try:
        return type(part).model_validate(data)
    except ValidationError as error:
        raise PlanError(findings_of(error, data, type(part))) from None


def spec_at(part: Any, path: Path) -> Spec:
    """Label, unit and range of the number at *path*."""
    return spec_of(get(part, path[:-1]), str(path[-1]))


def path_text(path: Path) -> str:
    """A path as messages write it: ``seats[0].x_m``."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text
