"""Plan files: read with every fault named at once, written atomically."""

from __future__ import annotations

import json
import os
import stat
import tempfile
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from planner.plan.errors import Finding, PlanError, findings_of
from planner.plan.migrations import migrated
from planner.plan.model import FORMAT, VERSION, Plan

__all__ = ["MOST_BYTES", "dumps", "load", "loads", "parsed_json", "save", "write_atomically"]

MOST_BYTES = 20_000_000


def load(path: str | os.PathLike[str]) -> Plan:
    """Read a plan file.

    Raises
    ------
    PlanError
        With every fault found, each naming file, key path, value and what was expected; also if the
        file cannot be read.
    """
    file = os.fspath(path)
    try:
        size = os.stat(file).st_size
        if size > MOST_BYTES:
            raise PlanError([Finding("the file", f"{size} bytes", f"at most {MOST_BYTES} bytes")])
        return loads(Path(file).read_bytes())
    except OSError as error:
        reason = error.strerror or str(error)
        raise PlanError([Finding("the file", "", f"a file that can be read; {reason}", file)]) from error
    except PlanError as error:
        raise error.in_file(file) from None


def loads(content: bytes | str) -> Plan:
    """Read a plan from UTF-8 JSON; raises :class:`PlanError` as :func:`load` does."""
    data = migrated(_checked_header(parsed_json(content)))
    try:
        return Plan.model_validate(data)
    except ValidationError as error:
        raise PlanError(findings_of(error, data, Plan)) from None


def dumps(plan: Plan) -> str:
    """The plan as JSON text; floats in full, keys in the order of the model."""
    data = plan.model_dump(mode="json", exclude_none=True)
    ordered = {key: data.get(key) for key in type(plan).model_fields if key in data or key == "room"}
    return json.dumps(ordered, ensure_ascii=False, indent=2) + "\n"


def save(plan: Plan, path: str | os.PathLike[str]) -> None:
    """Write a plan file atomically: the old or the new file is whole at every moment.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    write_atomically(path, dumps(plan).encode())


def write_atomically(path: str | os.PathLike[str], content: bytes) -> None:
    """Replace a file by *content* in one step, keeping its mode and following symbolic links."""
    target = Path(os.path.realpath(path))
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, _mode_for(target))
        os.replace(temporary, target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _mode_for(target: Path) -> int:
    """The mode bits of the file that is replaced, or those a new file would get."""
    try:
        return stat.S_IMODE(target.stat().st_mode)
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def parsed_json(content: bytes | str) -> Any:
    """What UTF-8 JSON holds; duplicate keys, NaN and whatever else is no plain JSON raise PlanError."""
    try:
        text = content.decode("utf-8-sig") if isinstance(content, bytes) else content
        return json.loads(text, object_pairs_hook=_no_duplicates, parse_constant=_no_constant)
    except UnicodeDecodeError as error:
        raise _fault(f"text in UTF-8; byte {error.start} is not") from None
    except json.JSONDecodeError as error:
        raise _fault(f"JSON; at line {error.lineno}, column {error.colno}: {error.msg}") from None
    except RecursionError:
        raise _fault("JSON that is nested less deeply") from None
    except PlanError:
        raise
    except ValueError as error:
        raise _fault(f"JSON with numbers of a usual size; {error}") from None


def _fault(expected: str) -> PlanError:
    return PlanError([Finding("the file", "", expected)])


def _no_duplicates(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    data = dict(pairs)
    if len(data) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = sorted({key for key in keys if keys.count(key) > 1})
        raise PlanError([Finding(key, "the same key twice", "each key once in an object") for key in twice])
    return data


def _no_constant(name: str) -> float:
    raise PlanError([Finding("the file", name, "finite numbers only")])


def _checked_header(data: Any) -> dict[str, Any]:
    """Refuse what is no plan, or a plan of a newer program, before its keys are looked at."""
    if not isinstance(data, dict):
        raise _fault("a JSON object that holds a plan")
    if data.get("format") != FORMAT:
        found = json.dumps(data.get("format"), ensure_ascii=False)[:60]
        raise PlanError([Finding("format", found, f'"{FORMAT}", so this is no plan of this program')])
    version = data.get("version")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        raise PlanError([Finding("version", repr(version)[:60], f"a whole number from 1 to {VERSION}")])
    if version > VERSION:
        expected = f"version {VERSION} or older; a newer Few Watts wrote this file, so open it there"
        raise PlanError([Finding("version", str(version), expected)])
    return data
