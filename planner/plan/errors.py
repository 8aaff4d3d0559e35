"""What is wrong with a plan, said so that a person can mend it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

__all__ = ["Finding", "PlanError", "findings_of"]

_PLAIN = {
    "missing": "a value, and nothing stands here",
    "string_type": "a text",
    "string_too_short": "a text that is not empty",
    "too_short": "at least one entry",
    "tuple_type": "a list",
    "too_long": "a list of two values",
    "model_type": "an object with keys",
    "model_attributes_type": "an object with keys",
    "dict_type": "an object with keys",
    "union_tag_not_found": "a name, or an object that describes it",
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault: where it is (file and key path), the value found there, and what was expected."""

    path: str
    value: str
    expected: str
    file: str = ""

    def __str__(self) -> str:
        where = f"{self.file}: " if self.file else ""
        found = f" (found {self.value})" if self.value else ""
        return f"{where}{self.path}: expected {self.expected}{found}"


class PlanError(ValueError):
    """A plan that cannot be used; holds all its findings at once."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings: tuple[Finding, ...] = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))

    def in_file(self, file: str) -> PlanError:
        """The same faults, each naming *file*."""
        return PlanError(replace(finding, file=file) for finding in self.findings)


def findings_of(error: ValidationError, data: Any, model: type[BaseModel]) -> list[Finding]:
    """Every fault that the validation of *data* as *model* found, in our own words."""
    details = [dict(detail) for detail in error.errors(include_url=False)]
    return [_finding(detail, data, model) for detail in details if not _follows(detail, details)]


def _follows(detail: dict[str, Any], details: list[dict[str, Any]]) -> bool:
    """Whether a list counts as too short only because one of its entries is at fault."""
    loc = detail["loc"]
    deeper = (other["loc"] for other in details if len(other["loc"]) > len(loc))
    return detail["type"] == "too_short" and any(other[: len(loc)] == loc for other in deeper)


def _finding(detail: dict[str, Any], data: Any, model: type[BaseModel]) -> Finding:
    kind, loc = detail["type"], tuple(detail["loc"])
    if kind == "union_tag_invalid":
        loc = (*loc, "kind")
    path, value = _walk(loc, data, lacks_last=kind == "missing")
    return Finding(path, "" if kind == "missing" else _shown(value), _expected(kind, detail, loc, model))


def _expected(kind: str, detail: dict[str, Any], loc: Sequence[int | str], model: type[BaseModel]) -> str:
    context = detail.get("ctx", {})
    if kind == "extra_forbidden":
        return _known_keys(str(loc[-1]), loc[:-1], model)
    if kind == "missing":
        return _missing(str(loc[-1]), loc[:-1], model)
    if kind == "literal_error":
        return str(context["expected"])
    if kind == "union_tag_invalid":
        return f"one of {context['expected_tags']}"
    return str(context.get("expected") or _PLAIN.get(kind) or detail["msg"])


def _missing(key: str, loc: Sequence[int | str], model: type[BaseModel]) -> str:
    from planner.plan.fields import spec_of

    owner = _model_at(loc, model)
    try:
        return f"{spec_of(owner, key).expected}, and nothing stands here" if owner else _PLAIN["missing"]
    except KeyError:
        return _PLAIN["missing"]


def _known_keys(key: str, loc: Sequence[int | str], model: type[BaseModel]) -> str:
    owner = _model_at(loc, model)
    keys = list(owner.model_fields) if owner else []
    near = get_close_matches(key, keys, n=1)
    if near:
        return f"a known key, perhaps {near[0]}"
    return f"a known key, one of {', '.join(keys)}"


def _model_at(loc: Sequence[int | str], model: type[BaseModel]) -> type[BaseModel] | None:
    """The model class that a location leads to; tags of unions choose among several."""
    choices: list[type[BaseModel]] = [model]
    for item in loc:
        if isinstance(item, int):
            continue
        fields = [choice.model_fields[item] for choice in choices if item in choice.model_fields]
        if fields:
            choices = _models_in(fields[0].annotation)
        else:
            choices = [choice for choice in choices if _tag_of(choice) == item] or choices
    return choices[0] if choices else None


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [found for argument in get_args(annotation) for found in _models_in(argument)]


def _tag_of(model: type[BaseModel]) -> str | None:
    kind = model.model_fields.get("kind")
    return get_args(kind.annotation)[0] if kind else None


def _walk(loc: Sequence[int | str], data: Any, lacks_last: bool) -> tuple[str, Any]:
    """Key path and value at a location, leaving out the tags that unions add to it."""
    path = ""
    for position, item in enumerate(loc):
        last = position == len(loc) - 1
        if isinstance(item, int):
            path += f"[{item}]"
            data = data[item] if isinstance(data, list | tuple) and item < len(data) else None
        elif (isinstance(data, dict) and item in data) or (last and lacks_last):
            path += f".{item}" if path else item
            data = data.get(item) if isinstance(data, dict) else None
    return path or "the plan", data


def _shown(value: Any) -> str:
    text = repr(value) if not isinstance(value, str) else f'"{value}"'
    return text if len(text) <= 60 else f"{text[:57]}…"
