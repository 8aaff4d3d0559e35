"""Every figure of the answer as one long table: a row for each value, in full, for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from planner.headroom.answer import SeatAnswer
from planner.report.gather import Case

__all__ = ["COLUMNS", "csv_text"]

COLUMNS = ("candidate", "seat", "table", "item", "quantity", "unit", "value")

Value = float | str | None
Row = tuple[str, str, str, str, Value]
"""Table, item, quantity, unit and value."""


def csv_text(cases: Sequence[Case]) -> str:
    """The table with its heading; floats in full with a decimal point, what is not known left out."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for case in cases:
        name = case.candidate.name
        for seat, rows in _rows(case):
            writer.writerows(
                (name, seat, *row[:-1], row[-1] if isinstance(row[-1], str) else repr(float(row[-1])))
                for row in rows
                if row[-1] is not None
            )
    return text.getvalue()


def _rows(case: Case) -> Iterator[tuple[str, list[Row]]]:
    yield "", list(_candidate(case))
    for seat in case.seats:
        parts = (_answer, _certainty, _bands, _ladder, _limits, _amplifiers, _ways, _noise, _gain)
        yield seat.outcome.name, [row for part in parts for row in part(seat)]


def _candidate(case: Case) -> Iterator[Row]:
    yield ("answer", "", "verdict", "", case.answer.outcome.verdict)
    for one in case.answer.wirings:
        yield ("wiring", one.amplifier, "nominal load", "ohm", one.nominal_ohm)
        yield ("wiring", one.amplifier, "output impedance", "ohm", one.output_ohm)
        yield ("wiring", one.amplifier, "cable loop", "ohm", one.loop_ohm)
        yield ("wiring", one.amplifier, "cable loss", "dB", one.cable_loss_db)
        yield ("wiring", one.amplifier, "damping factor", "", one.damping_factor)
        yield ("wiring", one.amplifier, "response bend, peak to peak", "dB", one.together.peak_to_peak_db)
    for load in case.answer.floor_loads:
        yield ("floor", load.name, "mass", "kg", load.mass_kg)
        yield ("floor", load.name, "footprint", "m2", load.area_m2)
        yield ("floor", load.name, "mean load", "kN/m2", load.load_kn_m2)


def _answer(seat: SeatAnswer) -> Iterator[Row]:
    outcome = seat.outcome
    yield ("answer", "", "verdict", "", outcome.verdict)
    yield ("answer", "", "distance", "m", outcome.distance_m)
    yield ("answer", "", "peak target", "dB", outcome.peak_target_db)
    yield ("answer", "", "average", "dB", outcome.average_db)
    yield ("answer", "", "average, A-weighted", "dBA", outcome.average_dba)
    yield ("answer", "", "watts needed", "W", outcome.watts_needed)
    yield ("answer", "", "watts rated", "W", outcome.watts_rated)
    yield ("answer", "", "headroom", "dB", outcome.headroom_db)
    yield ("answer", "", "loudest peak", "dB", outcome.loudest_peak_db)
    yield ("answer", "", "one side alone", "dB", outcome.one_side_db)
    yield ("first limit", "", "part", "", outcome.first_limit.part)
    yield ("first limit", "", "quantity", "", outcome.first_limit.quantity)
    yield ("first limit", "", "band", "Hz", outcome.first_limit.band_hz)


def _certainty(seat: SeatAnswer) -> Iterator[Row]:
    sure = seat.certainty
    yield ("certainty", "", "chance unclipped", "", sure.chance_unclipped)
    yield ("certainty", "", "headroom, 10 % point", "dB", sure.range_db[0])
    yield ("certainty", "", "headroom, 90 % point", "dB", sure.range_db[1])
    for key, share in sure.doubt:
        yield ("certainty", key, "share of variance", "", share)


def _bands(seat: SeatAnswer) -> Iterator[Row]:
    bands = seat.outcome.bands
    for index, hertz in enumerate(bands.centre_hz):
        item = repr(float(hertz))
        yield ("bands", item, "level", "dB", bands.level_db[index])
        yield ("bands", item, "room gain", "dB", bands.room_gain_db[index])
        yield ("bands", item, "headroom", "dB", bands.headroom_db[index])


def _ladder(seat: SeatAnswer) -> Iterator[Row]:
    for step in seat.outcome.ladder:
        yield ("ladder", step.key, "change", "dB", step.change_db)
        yield ("ladder", step.key, "level", "dB", step.level_db)


def _limits(seat: SeatAnswer) -> Iterator[Row]:
    for limit in seat.outcome.limits:
        item = f"{limit.part}, {limit.quantity}"
        yield ("limits", item, "headroom", "dB", limit.headroom_db)
        yield ("limits", item, "band", "Hz", limit.band_hz)


def _amplifiers(seat: SeatAnswer) -> Iterator[Row]:
    for one in seat.outcome.amplifiers:
        yield ("amplifiers", one.name, "tap", "ohm", one.tap_ohm)
        yield ("amplifiers", one.name, "watts needed", "W", one.watts_needed)
        yield ("amplifiers", one.name, "watts rated", "W", one.watts_rated)
        yield ("amplifiers", one.name, "peak", "V", one.peak_volts)
        yield ("amplifiers", one.name, "peak", "A", one.peak_amps)
        yield ("amplifiers", one.name, "average", "W", one.average_watts)
        yield ("amplifiers", one.name, "headroom", "dB", one.headroom_db)


def _ways(seat: SeatAnswer) -> Iterator[Row]:
    for way in seat.ways:
        yield ("ways to clear", way.change, "from", way.unit, way.from_value)
        yield ("ways to clear", way.change, "to", way.unit, way.to_value or "not possible")
        yield ("ways to clear", way.change, "leaves", "dB", way.headroom_db)


def _noise(seat: SeatAnswer) -> Iterator[Row]:
    hearing = seat.hearing
    yield ("noise", "", "amplifier noise", "dBA", seat.noise.noise_dba)
    yield ("noise", "", "room noise", "dBA", seat.noise.room_noise_dba)
    if seat.noise.amplifier is not None:
        yield ("noise", "", "amplifier noise at 1 m", "dBA", seat.noise.amplifier.dba_1m)
        yield ("noise", "", "below what is heard", "dB", seat.noise.amplifier.margin_db)
    yield ("hearing", "", "exposure a day", "h", hearing.hours_per_day)
    yield ("hearing", "", "exposure a week", "h", hearing.hours_per_week)
    yield ("hearing", "", "peak, C-weighted", "dBC", hearing.peak_dbc)


def _gain(seat: SeatAnswer) -> Iterator[Row]:
    if seat.gain is None:
        return
    yield ("gain", "", "volume control", "dB", seat.gain.volume_db)
    for one in seat.gain.amplifiers:
        yield ("gain", one.name, "input for full output", "V", one.sensitivity_v)
        yield ("gain", one.name, "full output", "V", one.full_v)
        yield ("gain", one.name, "to spare", "dB", one.spare_db)
