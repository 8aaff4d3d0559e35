"""The answer as a table of text for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from planner.headroom.outcome import Outcome, SeatOutcome
from planner.plan import Plan
from planner.report.language import tr
from planner.report.words import caution_text, ladder_text, limit_text, verdict_word, watts_text

__all__ = ["plan_table"]

WIDTH = 100
COLOURS = {"clears": "32", "tight": "33", "short": "31"}


def plan_table(file: str, plan: Plan, outcomes: list[Outcome], *, colour: bool) -> str:
    """One plan's answer: a row for every candidate and seat, then the ladder of each worst seat."""
    rows = [_row(outcome, seat) for outcome in outcomes for seat in outcome.seats]
    verdicts = [seat.verdict for outcome in outcomes for seat in outcome.seats]
    lines = _aligned([_headings(), *rows])
    if colour:
        lines[1:] = [_coloured(line, word) for line, word in zip(lines[1:], verdicts, strict=True)]
    parts = [f"{plan.title}  ({file})", *lines, ""]
    for outcome in outcomes:
        heading = tr(
            "Level ladder of {candidate} at {seat}:", candidate=outcome.candidate, seat=outcome.worst.name
        )
        parts += textwrap.wrap(
            f"{heading} {ladder_text(outcome.worst.ladder)}.", WIDTH, subsequent_indent="  "
        )
        parts += [
            line
            for note in _notes(outcome)
            for line in textwrap.wrap(note, WIDTH, initial_indent="  ", subsequent_indent="  ")
        ]
    return "\n".join(parts) + "\n"


def _notes(outcome: Outcome) -> list[str]:
    worst = outcome.worst
    notes = [caution_text(caution) for caution in outcome.cautions]
    if worst.one_side_db is not None and worst.one_side_db > 0.05:
        notes.append(
            tr(
                "A peak panned hard to one side asks {more} dB more of that one amplifier.",
                more=f"{worst.one_side_db:.1f}",
            )
        )
    return notes


def _headings() -> list[str]:
    return [
        tr("candidate"),
        tr("seat"),
        tr("verdict"),
        tr("needs"),
        tr("of"),
        tr("headroom"),
        tr("loudest peak"),
        tr("first limit"),
    ]


def _row(outcome: Outcome, seat: SeatOutcome) -> list[str]:
    return [
        outcome.candidate,
        seat.name,
        verdict_word(seat.verdict),
        watts_text(seat.watts_needed),
        watts_text(seat.watts_rated),
        f"{seat.headroom_db:+.1f} dB",
        f"{seat.loudest_peak_db:.1f} dB",
        limit_text(seat.first_limit),
    ]


def _aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    right = {3, 4, 5, 6}
    return [
        "  "
        + "  ".join(
            cell.rjust(width) if index in right else cell.ljust(width)
            for index, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _coloured(line: str, verdict: str) -> str:
    word = verdict_word(verdict)
    return line.replace(f" {word} ", f" \x1b[{COLOURS[verdict]}m{word}\x1b[0m ", 1)
