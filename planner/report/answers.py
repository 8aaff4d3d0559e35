"""Batch answers for the command line: plans in, a table or a document out, and an exit status."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Sequence

from planner import __version__
from planner.headroom.answer import Answer, answer_all
from planner.plan import Plan, PlanError, load, loads
from planner.plan.storage import write_atomically
from planner.report.document import plan_document
from planner.report.table import plan_table

__all__ = ["CLEAR", "SHORT", "UNUSABLE", "check", "deliver", "read_plan", "replace_file", "status_of"]

CLEAR, SHORT, UNUSABLE = 0, 1, 2


def check(paths: Sequence[str], *, as_json: bool, output: str | None) -> int:
    """Answer every plan and return the exit status; faults go to standard error, one line each."""
    documents, tables, statuses = [], [], []
    for path in paths:
        try:
            plan = read_plan(path)
            answers = answer_all(plan, with_ways=as_json)
        except PlanError as error:
            print("\n".join(str(finding) for finding in error.in_file(path).findings), file=sys.stderr)
            statuses.append(UNUSABLE)
            continue
        statuses.append(status_of(answers))
        if as_json:
            documents.append(plan_document(path, plan.title, answers))
        else:
            tables.append(plan_table(path, plan, answers, colour=output is None and _colour_wanted()))
    text = _document(documents) if as_json else "\n".join(tables)
    delivered = deliver(text, output) if text else CLEAR
    return max([delivered, *statuses])


def read_plan(path: str) -> Plan:
    """A plan from a file, or from standard input for ``-``."""
    return loads(sys.stdin.buffer.read()) if path == "-" else load(path)


def status_of(answers: list[Answer]) -> int:
    """1 if some candidate is short, else 0."""
    return SHORT if any(answer.outcome.verdict == "short" for answer in answers) else CLEAR


def deliver(text: str, output: str | None) -> int:
    """Print *text*, or replace a file by it in one step; 2 if the file cannot be written."""
    if output is None:
        sys.stdout.write(text)
        sys.stdout.flush()
        return CLEAR
    return replace_file(output, text.encode())


def replace_file(output: str, content: bytes) -> int:
    """Replace a file in one step; 2, with a word on standard error, if it cannot be written."""
    try:
        write_atomically(output, content)
    except OSError as error:
        print(
            f"{output}: cannot be written; {error.strerror or error}. Choose another folder.", file=sys.stderr
        )
        return UNUSABLE
    return CLEAR


def _document(plans: list[dict[str, object]]) -> str:
    document = {"fewwatts": __version__, "plans": plans}
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _colour_wanted() -> bool:
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return sys.stdout.isatty() and not plain
