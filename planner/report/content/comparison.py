"""All candidates side by side, on the page before their own."""

from __future__ import annotations

from collections.abc import Sequence

from planner.headroom.answer import SeatAnswer
from planner.plan.units import Preference
from planner.report.content.blocks import Block, Column, Heading, Picture, RoomView, Table, Text, Title
from planner.report.content.measures import figure, price_text, signed
from planner.report.figures.compare import compare_chart
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.words import asked_text, chance_text, limit_text, verdict_word

__all__ = ["comparison_page"]

ROW_PT = 25.0
AROUND_PT = 52.0
ROOM_PT = 150.0


def comparison_page(
    cases: Sequence[Case], preference: Preference, *, prices: bool = False
) -> tuple[Block, ...]:
    """A picture of all, then a row for every candidate and seat; with prices only if asked."""
    plan, most = cases[0].plan, len(cases[0].seats)
    rows = [
        row
        for case in cases
        for row in ((_name(case, prices=prices),), *(_row(case, seat) for seat in case.seats))
    ]
    below = tr("{count} systems in the same room, asked the same question", count=len(cases))
    return (
        Title(tr("Candidates side by side"), plan.title, below),
        Text(asked_text(plan)),
        Picture(compare_chart(cases), AROUND_PT + ROW_PT * len(cases)),
        Heading(tr("At every seat")),
        Table(_columns(), tuple(rows), group=most),
        Picture(RoomView(plan, 0, cases[0].worst_seat, preference), ROOM_PT, 1.0),
        Text(tr("Drawn with {candidate}.", candidate=cases[0].candidate.name), "note"),
    )


def _name(case: Case, *, prices: bool) -> str:
    price = case.candidate.price
    return f"{case.candidate.name} · {price_text(price)}" if prices and price else case.candidate.name


def _columns() -> tuple[Column, ...]:
    return (
        Column(tr("Candidate and seat"), side="left"),
        Column(tr("Verdict"), side="left"),
        Column(tr("Needs"), "W"),
        Column(tr("Of"), "W"),
        Column(tr("Headroom"), "dB"),
        Column(tr("10–90 %"), "dB"),
        Column(tr("Chance")),
        Column(tr("Loudest peak"), "dB"),
        Column(tr("First limit"), side="left"),
    )


def _row(case: Case, seat: SeatAnswer) -> tuple[str, ...]:
    outcome = seat.outcome
    return (
        outcome.name,
        verdict_word(outcome.verdict),
        figure(outcome.watts_needed, 2),
        figure(outcome.watts_rated, 2),
        signed(outcome.headroom_db),
        " … ".join(map(signed, seat.certainty.range_db)),
        chance_text(seat.certainty.chance_unclipped),
        figure(outcome.loudest_peak_db),
        limit_text(outcome.first_limit),
    )
