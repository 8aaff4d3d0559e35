"""Band by band: headroom and room gain as charts, and every third octave in figures."""

from __future__ import annotations

from collections.abc import Iterator

from planner.report.content.blocks import Block, Column, Heading, Picture, Side, Table, Text
from planner.report.content.by_seat import chunks
from planner.report.content.measures import figure, signed
from planner.report.figures.bands import headroom_chart, room_gain_chart
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.words import band_text, caution_text

__all__ = ["band_tables"]

CHART_PT = 165.0
MOST_SEATS = 3


def band_tables(case: Case) -> Iterator[Block]:
    """Charts of the worst seat, then level, room gain and headroom of every band and seat."""
    yield Heading(tr("Band by band"))
    charts: list[tuple[Block, ...]] = [(Picture(headroom_chart(case.worst.outcome), CHART_PT),)]
    if case.room_gain is not None:
        charts.append((Picture(room_gain_chart(case.room_gain), CHART_PT),))
    yield Side(tuple(charts), (1.0,) * len(charts))
    notes = [caution_text(caution) for caution in case.answer.outcome.cautions]
    if case.room_gain is not None:
        schroeder = figure(case.room_gain.schroeder_hz)
        notes.append(tr("The Schroeder frequency is {hertz} Hz.", hertz=schroeder))
    seat = tr("Both are drawn for {seat}.", seat=case.worst.outcome.name)
    yield Text(" ".join([seat, *notes]) if len(charts) > 1 else " ".join(notes), "note")
    yield from _tables(case)


def _tables(case: Case) -> Iterator[Block]:
    hertz = case.worst.outcome.bands.centre_hz
    for seats in chunks(case.seats, MOST_SEATS):
        columns = [Column(tr("Third octave"), side="left"), Column(tr("Centre"), "Hz")]
        for seat in seats:
            name = seat.outcome.name
            columns += [
                Column(tr("level"), "dB", over=name),
                Column(tr("room gain"), "dB", over=name),
                Column(tr("headroom"), "dB", over=name),
            ]
        bands = [seat.outcome.bands for seat in seats]
        rows = tuple(
            (
                band_text(float(hertz[band])),
                figure(float(hertz[band]), 2),
                *(
                    text
                    for one in bands
                    for text in (
                        figure(float(one.level_db[band])),
                        signed(float(one.room_gain_db[band])),
                        signed(float(one.headroom_db[band])),
                    )
                ),
            )
            for band in range(hertz.size)
        )
        yield Table(tuple(columns), rows, group=3, close=True)
    text = tr(
        "Level is the rms at the seat with the build-up of a short peak; headroom is for this band's energy "
        "alone, so it is larger than that of the whole programme."
    )
    yield Text(text, "note")
