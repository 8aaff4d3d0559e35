"""Noise and the gain chain: what a designer reads beside headroom."""

from __future__ import annotations

from collections.abc import Iterator

from planner.headroom.gain import GainChain
from planner.report.cautions import gain_text, noise_text, part_word
from planner.report.content.blocks import Block, Column, Heading, Picture, Table, Text
from planner.report.content.measures import figure, signed
from planner.report.figures.bands import span_chart
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.words import band_text

__all__ = ["gain_tables", "noise_tables"]

SPAN_PT = 205.0


def noise_tables(case: Case) -> Iterator[Block]:
    """Hum and hiss against room and ear; nothing where the plan gives no residual."""
    yield Heading(tr("From silence to the loudest peak"))
    yield Picture(span_chart(case.span, case.worst.outcome.name), SPAN_PT)
    if case.worst.noise.amplifier is None:
        yield Text(noise_text(case.worst.noise), "note")
        return
    columns = (
        Column(tr("Seat"), side="left"),
        Column(tr("Amplifier noise"), "dB(A)"),
        Column(tr("At 1 m"), "dB(A)"),
        Column(tr("Room noise"), "dB(A)"),
        Column(tr("Comes closest"), side="left"),
        Column(tr("Below what is heard"), "dB"),
        Column(tr("Heard"), side="left"),
    )
    rows = tuple(
        (
            seat.outcome.name,
            figure(noise.dba),
            figure(noise.dba_1m),
            figure(seat.noise.room_noise_dba),
            tr("{part} at {band}", part=part_word(noise.part), band=band_text(noise.band_hz)),
            signed(noise.margin_db),
            tr("yes") if noise.audible else tr("no"),
        )
        for seat in case.seats
        if (noise := seat.noise.amplifier) is not None
    )
    yield Table(columns, rows)
    yield from _tolerated(case)


def _tolerated(case: Case) -> Iterator[Block]:
    """The largest residual that nobody hears at the seats."""
    columns = (
        Column(tr("Amplifier"), side="left"),
        Column(tr("Seat"), side="left"),
        Column(tr("Unheard hum, at most"), "mV"),
        Column(tr("Unheard hiss, at most"), "mV"),
    )
    rows = tuple(
        (one.amplifier, seat.outcome.name, figure(one.hum_mv, 2), figure(one.hiss_mv, 2))
        for seat in case.seats
        if seat.noise.amplifier is not None
        for one in seat.noise.amplifier.tolerated
    )
    if rows:
        yield Heading(tr("What this loudspeaker tolerates"), 3)
        yield Table(columns, rows)


def gain_tables(case: Case) -> Iterator[Block]:
    """The chain from source to terminals; nothing where the plan does not name it whole."""
    chain = case.worst.gain
    yield Heading(tr("Gain"))
    if chain is None:
        yield Text(
            tr("The plan does not give the source and every amplifier's gain, so no chain is drawn up.")
        )
        return
    yield Text(gain_text(chain))
    columns = (
        Column(tr("Amplifier"), side="left"),
        Column(tr("Link"), side="left"),
        Column(tr("Gain"), "dB"),
        Column(tr("Peak behind it"), "V"),
    )
    rows = tuple(
        (
            amplifier.name if number == 0 else "",
            link_word(link.key),
            signed(link.gain_db),
            figure(link.peak_v, 4 if link.peak_v < 0.1 else 2),
        )
        for amplifier in chain.amplifiers
        for number, link in enumerate(amplifier.links)
    )
    yield Table(columns, rows)
    yield from _reach(chain, case.worst.outcome.name)


def _reach(chain: GainChain, seat: str) -> Iterator[Block]:
    columns = (
        Column(tr("Amplifier"), side="left"),
        Column(tr("Input for full output"), "V"),
        Column(tr("Full output"), "V"),
        Column(tr("Available, volume full up"), "V"),
        Column(tr("To spare"), "dB"),
    )
    rows = tuple(
        (
            one.name,
            figure(one.sensitivity_v, 3),
            figure(one.full_v, 2),
            figure(one.available_v, 2),
            signed(one.spare_db),
        )
        for one in chain.amplifiers
    )
    yield Table(columns, rows)
    part = tr("the phono stage") if chain.overloads_first == "phono" else chain.overloads_first
    words = {"seat": seat, "part": part, "margin": figure(abs(chain.overload_margin_db))}
    text = tr(
        "Peaks along the chain are those of the target at {seat}; volts of the second table are rms "
        "of a sine."
    )
    first = (
        tr("First to overload is {part}, {margin} dB above these peaks.")
        if chain.overload_margin_db >= 0.0
        else tr("First to overload is {part}, {margin} dB before these peaks are reached.")
    )
    yield Text(f"{text} {first}".format(**words), "note")


def link_word(key: str) -> str:
    """A link of the gain chain."""
    return {
        "cartridge": tr("cartridge"),
        "phono": tr("phono stage"),
        "line": tr("line source"),
        "volume": tr("volume control"),
        "level": tr("level control"),
        "amplifier": tr("amplifier"),
    }[key]
