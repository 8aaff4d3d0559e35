"""The command line: check plans in batch, print their schema, or open the window."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from typing import Any

from planner import __version__

__all__ = ["main"]

# Our matrices are small: a second BLAS thread gains nothing, and where the other core is busy it costs
# many times more. Must stand before numpy is first loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

Runner = Callable[[argparse.Namespace], int]
VERBS = ("check", "report", "music", "decay", "schema")

EXAMPLES = """examples:
  fewwatts                                open the window
  fewwatts my_room.json                   open a plan in the window
  fewwatts check my_room.json             print the answer for every candidate and seat
  fewwatts check rooms/*.json --json      the same for programs, as one JSON document
  fewwatts check - < my_room.json         read the plan from standard input
  fewwatts report my_room.json -o r.pdf   the report for buyer and designer
  fewwatts music record.flac              what a recording asks: crest factor, spectrum, loudness
  fewwatts decay impulse.wav              reverberation time by octave from an impulse response
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
    if words and words[0] in VERBS:
        arguments = _verbs().parse_args(words)
        return int(arguments.run(arguments))
    arguments = _window_parser().parse_args(words)
    from planner.launch import open_window

    return open_window(arguments.plan)


def _window_parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fewwatts",
        usage="fewwatts [PLAN] | fewwatts {check,report,music,decay,schema} …  (fewwatts VERB --help)",
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
    check = _verb(verbs, "check", _check, "print the answer for every candidate and seat")
    check.add_argument("plans", nargs="+", metavar="PLAN", help="plan files, or - for standard input")
    _document_options(check)
    _report_options(_verb(verbs, "report", _report, "write the report for buyer and designer"))
    music = _verb(verbs, "music", _music, "say what recordings ask of an amplifier")
    music.add_argument("files", nargs="+", metavar="FILE", help="recordings, playlists or folders of them")
    _document_options(music)
    decay = _verb(verbs, "decay", _decay, "say how a room decays, from impulse responses")
    decay.add_argument("files", nargs="+", metavar="FILE", help="impulse responses")
    _document_options(decay)
    schema = _verb(verbs, "schema", _schema, "print the JSON Schema of plan files")
    schema.add_argument("-o", dest="output", metavar="FILE", help="write to FILE instead of standard output")
    return parser


def _verb(
    verbs: Any, name: str, run: Callable[[argparse.Namespace], int], text: str
) -> argparse.ArgumentParser:
    verb: argparse.ArgumentParser = verbs.add_parser(name, help=text, description=f"{text.capitalize()}.")
    verb.set_defaults(run=run)
    return verb


def _document_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print one JSON document")
    parser.add_argument("-o", dest="output", metavar="FILE", help="write to FILE instead of standard output")


def _report_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("plan", metavar="PLAN", help="a plan file, or - for standard input")
    parser.add_argument("-o", dest="output", metavar="FILE", required=True, help="the file to write")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the pages")
    parser.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units beside the plan's own"
    )
    parser.add_argument("--csv", action="store_true", help="write the tables as CSV instead of pages")
    parser.add_argument("--figures", metavar="FOLDER", help="put every chart there too, as PNG and SVG")


def _check(arguments: argparse.Namespace) -> int:
    from planner.report.answers import check

    return check(arguments.plans, as_json=arguments.json, output=arguments.output)


def _report(arguments: argparse.Namespace) -> int:
    from planner.report.pdf import report

    return report(
        arguments.plan,
        arguments.output,
        paper=arguments.paper,
        units=arguments.units,
        as_csv=arguments.csv,
        figures=arguments.figures,
    )


def _music(arguments: argparse.Namespace) -> int:
    from planner.report.music import music

    return music(arguments.files, as_json=arguments.json, output=arguments.output)


def _decay(arguments: argparse.Namespace) -> int:
    from planner.report.decays import decay

    return decay(arguments.files, as_json=arguments.json, output=arguments.output)


def _schema(arguments: argparse.Namespace) -> int:
    from planner.plan.schema import schema_text
    from planner.report.answers import deliver

    return deliver(schema_text(), arguments.output)
