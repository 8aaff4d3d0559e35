"""The answer as a table of text for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from planner.headroom.answer import Answer, SeatAnswer
from planner.plan import Plan
from planner.report.cautions import HEARING_CAUTION, gain_text, hearing_text, noise_text
from planner.report.language import tr
from planner.report.words import (
    asked_text,
    caution_text,
    chance_text,
    ladder_text,
    limit_text,
    range_text,
    verdict_word,
    watts_text,
)

__all__ = ["plan_table"]

WIDTH = 100
COLOURS = {"clears": "32", "tight": "33", "short": "31"}
RIGHT_ALIGNED = range(3, 9)


def plan_table(file: str, plan: Plan, answers: list[Answer], *, colour: bool) -> str:
    """One plan's answer: a row for every candidate and seat, then the ladder of each worst seat."""
    seats = [(answer, seat) for answer in answers for seat in answer.seats]
    lines = _aligned([_headings(), *(_row(answer, seat) for answer, seat in seats)])
    if colour:
        verdicts = [seat.outcome.verdict for _, seat in seats]
        lines[1:] = [_coloured(line, word) for line, word in zip(lines[1:], verdicts, strict=True)]
    parts = [f"{plan.title}  ({file})", *lines, "", asked_text(plan)]
    for answer in answers:
        parts += _ladder(answer)
    cautions = dict.fromkeys(caution for answer in answers for caution in answer.outcome.cautions)
    for caution in cautions:
        parts += textwrap.wrap(caution_text(caution), WIDTH, subsequent_indent="  ")
    parts += textwrap.wrap(tr(HEARING_CAUTION), WIDTH, subsequent_indent="  ")
    return "\n".join(parts) + "\n"


def _ladder(answer: Answer) -> list[str]:
    """The level ladder of the worst seat in words, and what one side alone must give."""
    worst = answer.outcome.worst
    heading = tr(
        "Level ladder of {candidate} at {seat}:", candidate=answer.outcome.candidate, seat=worst.name
    )
    lines = textwrap.wrap(f"{heading} {ladder_text(worst.ladder)}.", WIDTH, subsequent_indent="  ")
    if worst.one_side_db is not None and worst.one_side_db > 0.05:
        note = tr(
            "A peak panned hard to one side asks {more} dB more of that one amplifier.",
            more=f"{worst.one_side_db:.1f}",
        )
        lines += _indented(note)
    for note in _beside(answer.worst):
        lines += _indented(note)
    return lines


def _beside(worst: SeatAnswer) -> list[str]:
    """What the worst seat's answer says beside headroom: noise, gain, hearing."""
    notes = [] if worst.noise.amplifier is None else [noise_text(worst.noise)]
    notes += [] if worst.gain is None else [gain_text(worst.gain)]
    return [*notes, hearing_text(worst.hearing)]


def _indented(note: str) -> list[str]:
    return textwrap.wrap(note, WIDTH, initial_indent="  ", subsequent_indent="  ")


def _headings() -> list[str]:
    return [
        tr("candidate"),
        tr("seat"),
        tr("verdict"),
        tr("needs"),
        tr("of"),
        tr("headroom"),
        tr("10–90 %"),
        tr("chance"),
        tr("loudest peak"),
        tr("first limit"),
    ]


def _row(answer: Answer, seat: SeatAnswer) -> list[str]:
    outcome = seat.outcome
    return [
        answer.outcome.candidate,
        outcome.name,
        verdict_word(outcome.verdict),
        watts_text(outcome.watts_needed),
        watts_text(outcome.watts_rated),
        f"{outcome.headroom_db:+.1f} dB",
        range_text(seat.certainty.range_db),
        chance_text(seat.certainty.chance_unclipped),
        f"{outcome.loudest_peak_db:.1f} dB",
        limit_text(outcome.first_limit),
    ]


def _aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  "
        + "  ".join(
            cell.rjust(width) if index in RIGHT_ALIGNED else cell.ljust(width)
            for index, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _coloured(line: str, verdict: str) -> str:
    word = verdict_word(verdict)
    return line.replace(f" {word} ", f" \x1b[{COLOURS[verdict]}m{word}\x1b[0m ", 1)
