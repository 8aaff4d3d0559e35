"""What the designer reads of one candidate at each seat: the answer, the ladder, limits and amplifiers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from planner.headroom.answer import SeatAnswer
from planner.plan.units import Preference
from planner.report.cautions import HEARING_CAUTION, hearing_text
from planner.report.content.blocks import Block, Column, Heading, Table, Text
from planner.report.content.by_seat import Row, chunks, rows_by_seat
from planner.report.content.measures import figure, length, share, signed
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.words import band_text, step_name, verdict_word

__all__ = ["amplifier_tables", "answer_tables", "ladder_tables", "limit_tables", "quantity_word"]


def answer_tables(case: Case, preference: Preference) -> Iterator[Block]:
    """Every single figure of the answer, quantity by quantity."""
    yield Heading(tr("The answer at each seat"))
    yield from rows_by_seat(case.seats, (*_answer_rows(preference), *_beside_rows(case)))
    loud = [seat for seat in case.seats if any(key.startswith("eu_peak") for key in seat.hearing.cautions)]
    peaks = [f"{seat.outcome.name}: {hearing_text(seat.hearing)}" for seat in loud]
    yield Text(" ".join([*peaks, tr(HEARING_CAUTION)]), "note")


def _answer_rows(preference: Preference) -> tuple[Row, ...]:
    return (
        Row(tr("Verdict"), "", lambda seat: verdict_word(seat.outcome.verdict)),
        Row(tr("To the nearest stand"), "m", lambda seat: _metres(seat.outcome.distance_m, preference)),
        Row(tr("Peak asked for"), "dB", lambda seat: figure(seat.outcome.peak_target_db)),
        Row(tr("Average of loud passages"), "dB", lambda seat: figure(seat.outcome.average_db)),
        Row(tr("The same, A-weighted"), "dB(A)", lambda seat: figure(seat.outcome.average_dba)),
        Row(tr("Watts needed"), "W", lambda seat: figure(seat.outcome.watts_needed, 2)),
        Row(tr("Watts rated"), "W", lambda seat: figure(seat.outcome.watts_rated, 2)),
        Row(tr("Headroom"), "dB", lambda seat: signed(seat.outcome.headroom_db)),
        Row(tr("Loudest peak"), "dB", lambda seat: figure(seat.outcome.loudest_peak_db)),
        Row(tr("First limit"), "", lambda seat: seat.outcome.first_limit.part),
        Row(tr("What runs out"), "", lambda seat: quantity_word(seat.outcome.first_limit.quantity)),
        Row(tr("In the band of"), "Hz", lambda seat: figure(seat.outcome.first_limit.band_hz, 2)),
        Row(tr("One channel alone must give"), "dB", lambda seat: signed(seat.outcome.one_side_db)),
        Row(tr("Chance that peaks stay clean"), "", lambda seat: share(seat.certainty.chance_unclipped)),
        Row(tr("Headroom, 10 % point"), "dB", lambda seat: signed(seat.certainty.range_db[0])),
        Row(tr("Headroom, 90 % point"), "dB", lambda seat: signed(seat.certainty.range_db[1])),
    )


def _metres(value_m: float, preference: Preference) -> str:
    """The unit stands in a column of its own; what follows for readers of feet bears its own."""
    metres, _, rest = length(value_m, preference).partition(" m")
    return metres + rest


def _beside_rows(case: Case) -> Iterator[Row]:
    """Noise where the plan says enough for it, and exposure."""
    if any(seat.noise.noise_dba is not None for seat in case.seats):
        yield Row(tr("Amplifier noise"), "dB(A)", lambda seat: figure(seat.noise.noise_dba))
    if any(seat.noise.room_noise_dba is not None for seat in case.seats):
        yield Row(tr("Room noise"), "dB(A)", lambda seat: figure(seat.noise.room_noise_dba))
    yield Row(tr("Hours a day (NIOSH)"), "h", lambda seat: figure(seat.hearing.hours_per_day, 2))
    yield Row(tr("Hours a week (WHO/ITU H.870)"), "h", lambda seat: figure(seat.hearing.hours_per_week, 2))
    yield Row(tr("Peak, C-weighted"), "dB(C)", lambda seat: figure(seat.hearing.peak_dbc))


def quantity_word(quantity: str) -> str:
    """What a part runs out of."""
    return {
        "voltage": tr("voltage"),
        "current": tr("current"),
        "long-term power": tr("long-term power"),
        "peak power": tr("peak power"),
        "excursion": tr("excursion"),
    }[quantity]


def ladder_tables(case: Case) -> Iterator[Block]:
    """The level ladder of every seat, step by step."""
    yield Heading(tr("Level ladder"))
    for seats in chunks(case.seats):
        columns = [Column(tr("Step"), side="left")]
        for seat in seats:
            name = seat.outcome.name
            columns += [Column(tr("adds"), "dB", over=name), Column(tr("reaches"), "dB", over=name)]
        steps = zip(*(seat.outcome.ladder for seat in seats), strict=True)
        rows = [
            (
                step_name(alike[0].key),
                *(
                    text
                    for step in alike
                    for text in (signed(step.change_db) if number else "", figure(step.level_db))
                ),
            )
            for number, alike in enumerate(steps)
        ]
        rows.append((tr("asked for"), *_over(seats, lambda seat: figure(seat.outcome.peak_target_db))))
        rows.append((tr("headroom"), *_over(seats, lambda seat: signed(seat.outcome.headroom_db))))
        yield Table(tuple(columns), tuple(rows))


def _over(seats: Sequence[SeatAnswer], text: Callable[[SeatAnswer], str]) -> tuple[str, ...]:
    """Cells below pairs of columns: nothing below the first, the text below the second."""
    return tuple(cell for seat in seats for cell in ("", text(seat)))


def limit_tables(case: Case) -> Iterator[Block]:
    """Every limit of amplifiers and loudspeaker, the least headroom first."""
    yield Heading(tr("What can give out"))
    first = case.worst.outcome.limits
    for seats in chunks(case.seats):
        columns = (
            Column(tr("Part"), side="left"),
            Column(tr("Runs out of"), side="left"),
            Column(tr("Hardest band"), side="right"),
            *(Column(seat.outcome.name, "dB", over=tr("Headroom")) for seat in seats),
        )
        by_key = [{(one.part, one.quantity): one for one in seat.outcome.limits} for seat in seats]
        rows = tuple(
            (
                limit.part,
                quantity_word(limit.quantity),
                band_text(limit.band_hz),
                *(signed(found[limit.part, limit.quantity].headroom_db) for found in by_key),
            )
            for limit in first
        )
        yield Table(columns, rows)
    unsaid = [one.name for one in case.candidate.loudspeaker.sections if one.limits is None]
    if unsaid:
        text = tr("The plan states no limits of power or excursion for {names}.", names=", ".join(unsaid))
        yield Text(text, "note")


def amplifier_tables(case: Case) -> Iterator[Block]:
    """What each amplifier is asked for at each seat, one channel of it."""
    yield Heading(tr("Amplifiers, one channel each"))
    columns = (
        Column(tr("Seat"), side="left"),
        Column(tr("Amplifier"), side="left"),
        Column(tr("Tap"), "Ω"),
        Column(tr("Needs"), "W"),
        Column(tr("Rated"), "W"),
        Column(tr("Peak"), "V"),
        Column(tr("Peak"), "A"),
        Column(tr("Average"), "W"),
        Column(tr("Headroom"), "dB"),
    )
    rows = tuple(
        (
            seat.outcome.name if number == 0 else "",
            one.name,
            figure(one.tap_ohm),
            figure(one.watts_needed, 2),
            figure(one.watts_rated, 2),
            figure(one.peak_volts, 2),
            figure(one.peak_amps, 2),
            figure(one.average_watts, 2),
            signed(one.headroom_db),
        )
        for seat in case.seats
        for number, one in enumerate(seat.outcome.amplifiers)
    )
    yield Table(columns, rows, group=len(case.candidate.amplifiers))
    yield from _wiring(case)


def _wiring(case: Case) -> Iterator[Block]:
    """Cable, damping and the bend of the response."""
    yield Heading(tr("Between amplifier and loudspeaker"), 3)
    columns = (
        Column(tr("Amplifier"), side="left"),
        Column(tr("Nominal load"), "Ω"),
        Column(tr("Output impedance"), "Ω"),
        Column(tr("Cable, both ways"), "Ω"),
        Column(tr("Cable loss"), "dB"),
        Column(tr("Damping factor")),
        Column(tr("Response bent, peak to peak"), "dB"),
    )
    rows = tuple(
        (
            one.amplifier,
            figure(one.nominal_ohm),
            figure(one.output_ohm, 2),
            figure(one.loop_ohm, 3),
            figure(one.cable_loss_db, 2),
            figure(one.damping_factor) if one.damping_factor != float("inf") else "∞",
            figure(one.together.peak_to_peak_db),
        )
        for one in case.answer.wirings
    )
    yield Table(columns, rows)
