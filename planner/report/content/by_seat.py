"""Tables with columns for each seat, as many beside one another as a page has room for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from planner.headroom.answer import SeatAnswer
from planner.report.content.blocks import Column, Table
from planner.report.language import tr

__all__ = ["Row", "chunks", "rows_by_seat"]

MOST_SEATS = 4


class Row(NamedTuple):
    """A quantity: what it is, its unit, and its text at a seat."""

    name: str
    unit: str
    text: Callable[[SeatAnswer], str]


def rows_by_seat(seats: Sequence[SeatAnswer], rows: Sequence[Row]) -> Iterator[Table]:
    """A row for each quantity, a column for each seat."""
    for some in chunks(seats):
        columns = (
            Column(tr("Quantity"), side="left"),
            Column(tr("Unit"), side="left"),
            *(Column(seat.outcome.name) for seat in some),
        )
        cells = tuple((row.name, row.unit, *(row.text(seat) for seat in some)) for row in rows)
        yield Table(columns, cells)


def chunks(seats: Sequence[SeatAnswer], most: int = MOST_SEATS) -> list[Sequence[SeatAnswer]]:
    """The seats in groups of about one size, none larger than a table has room for."""
    count = -(-len(seats) // most)
    size = -(-len(seats) // count)
    return [seats[start : start + size] for start in range(0, len(seats), size)]
