"""How sure the answer is, which input the doubt comes from, and what alone would clear each seat."""

from __future__ import annotations

from collections.abc import Iterator

from planner.headroom.answer import SeatAnswer
from planner.headroom.certainty import DRAWS
from planner.headroom.ways import Way
from planner.plan.model import Tolerances
from planner.plan.units import Preference, display_unit
from planner.report.content.blocks import Block, Column, Heading, Table, Text
from planner.report.content.by_seat import chunks
from planner.report.content.measures import figure, in_both, plain, signed
from planner.report.gather import Case
from planner.report.language import tr

__all__ = ["certainty_tables", "input_word", "way_tables", "way_word", "ways_in_words"]


MOST_IN_WORDS = 4


def certainty_tables(case: Case) -> Iterator[Block]:
    """The inputs ranked by the doubt they bring; range and chance stand in the answer's own table."""
    yield Heading(tr("Where the doubt comes from"))
    yield from _doubts(case)
    note = tr(
        "{draws} draws of all inputs at once, each within its tolerance of one standard deviation "
        "(common practice, no published source, unless the plan gives its own); the same plan gives the "
        "same draws. Shares are of the variance of headroom.",
        draws=DRAWS,
    )
    yield Text(note, "note")


def _doubts(case: Case) -> Iterator[Table]:
    tolerances = case.plan.tolerances or Tolerances()
    for seats in chunks(case.seats):
        columns = (
            Column(tr("Input"), side="left"),
            Column(tr("Tolerance")),
            *(Column(seat.outcome.name, "%", over=tr("Share of the doubt")) for seat in seats),
        )
        shares = [dict(seat.certainty.doubt) for seat in seats]
        rows = tuple(
            (
                input_word(key),
                _tolerance(tolerances, key),
                *(figure(100.0 * found[key]) for found in shares),
            )
            for key, _ in case.worst.certainty.doubt
        )
        yield Table(columns, rows)


def _tolerance(tolerances: Tolerances, key: str) -> str:
    value = plain(float(getattr(tolerances, key)))
    if key == "transient_ratio":
        return tr("× or ÷ {value}", value=value)
    return f"± {value} {'%' if key.endswith('pct') else key.rpartition('_')[2].replace('db', 'dB')}"


def input_word(key: str) -> str:
    """An input that has a tolerance."""
    return {
        "sensitivity_db": tr("Sensitivity"),
        "low_room_gain_db": tr("Room gain at low frequencies"),
        "t60_pct": tr("Reverberation time"),
        "distance_m": tr("Distance of the seat"),
        "transient_ratio": tr("How long a peak lasts"),
        "crest_db": tr("Crest factor"),
        "rating_pct": tr("Amplifier rating"),
        "impedance_pct": tr("Impedance"),
    }[key]


def way_tables(case: Case, preference: Preference) -> Iterator[Block]:
    """Single changes, each of which alone leaves 3 dB of headroom at a seat."""
    asking = [seat for seat in case.seats if seat.ways]
    yield Heading(tr("Ways to clear"))
    if not asking:
        yield Text(tr("Every seat clears with 3 dB or more to spare; nothing needs to change."))
        return
    columns = (
        Column(tr("One change alone"), side="left"),
        Column(tr("From")),
        Column(tr("To")),
        Column(tr("Unit"), side="left"),
        Column(tr("Leaves"), "dB"),
    )
    rows = tuple(row for seat in asking for row in ((seat.outcome.name,), *_way_rows(seat, preference)))
    yield Table(columns, rows)
    yield Text(tr("Each amount was found by computing the whole plan anew."), "note")


def _way_rows(seat: SeatAnswer, preference: Preference) -> Iterator[tuple[str, ...]]:
    for way in seat.ways:
        yield (way_word(way.change), *_amounts(way, preference), signed(way.headroom_db))


def ways_in_words(seat: SeatAnswer, preference: Preference) -> Iterator[tuple[str, str]]:
    """The first ways that are possible, as one term; none where the seat clears."""
    possible = [way for way in seat.ways if way.to_value is not None]
    if not seat.ways:
        return
    texts = [
        tr(
            "{change} ({to} instead of {now})",
            change=way_word(way.change),
            to=_quantity(way.to_value or 0.0, way.unit, preference),
            now=_quantity(way.from_value, way.unit, preference),
        )
        for way in possible[:MOST_IN_WORDS]
    ]
    no_way = tr("No single change makes it clear with 3 dB to spare.")
    found = tr("Any one of these alone: {ways}.", ways="; ".join(texts))
    yield tr("What would clear it"), found if texts else no_way


def _quantity(value: float, unit: str, preference: Preference) -> str:
    if not unit:
        return f"{value:.0f}"
    return in_both(f"{figure(value, 1)} {display_unit(unit)}", value, unit, preference)


def _amounts(way: Way, preference: Preference) -> tuple[str, str, str]:
    decimals = 2 if way.unit else 1
    values = [None if value is None else figure(value, decimals) for value in (way.from_value, way.to_value)]
    if way.unit in ("m", "m2"):
        pairs = zip(values, (way.from_value, way.to_value), strict=True)
        values = [
            text if text is None or value is None else in_both(text, value, way.unit, preference)
            for text, value in pairs
        ]
    return values[0] or "", values[1] or tr("not possible"), display_unit(way.unit)


def way_word(change: str) -> str:
    """What a way changes."""
    return {
        "watts": tr("a larger amplifier"),
        "sensitivity": tr("a more efficient loudspeaker"),
        "distance": tr("a seat nearer to the loudspeaker"),
        "target": tr("a lower target level"),
        "crest": tr("music of a lower crest factor"),
        "baffle_width": tr("a wider baffle"),
        "stands": tr("more loudspeakers"),
        "absorption": tr("less absorption at 500 Hz"),
    }[change]
