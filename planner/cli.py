"""The command line: check plans in batch, print their schema, or open the window."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from planner import __version__

__all__ = ["main"]

# Our matrices are small: a second BLAS thread gains nothing, and where the other core is busy it costs
# many times more. Must stand before numpy is first loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

EXAMPLES = """examples:
  fewwatts                                open the window
  fewwatts my_room.json                   open a plan in the window
  fewwatts check my_room.json             print the answer for every candidate and seat
  fewwatts check rooms/*.json --json      the same for programs, as one JSON document
  fewwatts check - < my_room.json         read the plan from standard input
  fewwatts schema -o plan.schema.json     the JSON Schema of plan files

exit status:
  0  every candidate clears or is tight    2  the input could not be used
  1  some candidate is short               3  this machine lacks something (the message says what)
"""


def main(argv: list[str] | None = None) -> int:
    """Run the program with the words after its name and return its exit status."""
    words = sys.argv[1:] if argv is None else argv
    try:
        return _run(words)
    except BrokenPipeError:
        # The reader has gone: keep Python from complaining about it once more at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130


def _run(words: Sequence[str]) -> int:
    if words and words[0] in ("check", "schema"):
        arguments = _verbs().parse_args(words)
        return int(arguments.run(arguments))
    arguments = _window_parser().parse_args(words)
    from planner.launch import open_window

    return open_window(arguments.plan)


def _window_parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fewwatts",
        usage="fewwatts [PLAN] | fewwatts check PLAN… [--json] [-o FILE] | fewwatts schema [-o FILE]",
        description="Will these few watts make the peaks this music needs, at this seat, in this room?",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"fewwatts {__version__}")
    parser.add_argument("plan", nargs="?", metavar="PLAN", help="a plan file to open in the window")
    return parser


def _verbs() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="fewwatts")
    verbs = parser.add_subparsers(required=True)
    check = verbs.add_parser(
        "check", help="print the answer for every candidate and seat", epilog="'-' reads standard input."
    )
    check.add_argument("plans", nargs="+", metavar="PLAN", help="plan files, or - for standard input")
    check.add_argument("--json", action="store_true", help="print one JSON document")
    check.add_argument("-o", dest="output", metavar="FILE", help="write to FILE instead of standard output")
    check.set_defaults(run=_check)
    schema = verbs.add_parser("schema", help="print the JSON Schema of plan files")
    schema.add_argument("-o", dest="output", metavar="FILE", help="write to FILE instead of standard output")
    schema.set_defaults(run=_schema)
    return parser


def _check(arguments: argparse.Namespace) -> int:
    from planner.report.answers import check

    return check(arguments.plans, as_json=arguments.json, output=arguments.output)


def _schema(arguments: argparse.Namespace) -> int:
    from planner.plan.schema import schema_text
    from planner.report.answers import deliver

    return deliver(schema_text(), arguments.output)
