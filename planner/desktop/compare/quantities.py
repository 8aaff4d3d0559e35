"""The columns of the table of candidates: what each is called, what it holds, how it is said."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QCoreApplication

from planner.desktop.charts.figures import figure
from planner.desktop.charts.seat_panel import signed, watts_text
from planner.desktop.charts.table import Cell, Column, Table
from planner.desktop.compare.rows import Row
from planner.plan.model import Candidate
from planner.report.words import chance_text, limit_text, verdict_word

__all__ = ["WAITING", "Quantity", "as_table", "quantities"]

WAITING = "…"
NOTHING = "–"
UNKNOWN = math.nan


@dataclass(frozen=True, slots=True)
class Quantity:
    """One column: its words, its value for sorting and files, and how the table says it."""

    key: str
    title: str
    unit: str
    tip: str
    value: Callable[[Row], Cell]
    text: Callable[[Row], str]
    decimals: int | None = 1

    @property
    def is_number(self) -> bool:
        """Whether its values stand at the right."""
        return bool(self.unit)


def as_table(rows: list[Row], columns: list[Quantity], settings: str) -> Table:
    """The rows as numbers with units, for the clipboard and for files."""
    made = []
    for one in columns:
        values = [one.value(row) for row in rows]
        numbers = all(isinstance(value, float) for value in values)
        made.append(
            Column(
                one.title, one.unit, np.array(values) if numbers else tuple(map(str, values)), one.decimals
            )
        )
    return Table(tuple(made), settings)


def quantities(priced: Sequence[Candidate] = ()) -> list[Quantity]:
    """The columns in the reader's language, with the prices of the candidates *priced*, if there are any."""
    return [*_answer(), *_watts(), *_levels(), *_words(), *_prices(priced)]


def _answer() -> list[Quantity]:
    verdict = _tr("3 dB of headroom or more clears, from 0 to 3 dB is tight, below 0 falls short")
    headroom = _tr("Between what the music demands and what the first part to give out can do [dB]")
    chance = _tr("Chance to play the peaks unclipped, with all inputs drawn within their tolerances [%]")
    return [
        _word("name", _tr("Candidate"), _tr("The system; F2 renames it"), _name),
        _word("verdict", _tr("Verdict"), verdict, _verdict),
        Quantity("headroom", _tr("Headroom"), "dB", headroom, _headroom_db, _headroom_text),
        Quantity("chance", _tr("Chance"), "%", chance, _chance_pct, _chance_text, 0),
    ]


def _watts() -> list[Quantity]:
    needed = _tr("The rating that an amplifier of this kind would need [W]")
    rated = _tr("The rating that this amplifier has [W]")
    return [
        Quantity("needed", _tr("Watts needed"), "W", needed, _needed_w, _needed_text, None),
        Quantity("rated", _tr("Watts rated"), "W", rated, _rated_w, _rated_text, None),
    ]


def _levels() -> list[Quantity]:
    peak = _tr("The highest peak at the seat before anything gives out [dB re 20 µPa]")
    one_watt = _tr("What the loudspeaker makes of one watt at one metre [dB re 20 µPa]")
    return [
        Quantity("peak", _tr("Loudest peak"), "dB", peak, _peak_db, _peak_text),
        Quantity("sensitivity", _tr("1 W at 1 m"), "dB", one_watt, _one_watt_db, _one_watt_text),
    ]


def _words() -> list[Quantity]:
    limit = _tr("The part to give out first, what it runs out of, and the third octave that asks most of it")
    noise = _tr("Whether the amplifier's residual noise is heard at the seat with nothing playing")
    return [
        _word("limit", _tr("First limit"), limit, _limit),
        _word("noise", _tr("Hum and hiss"), noise, _noise),
        _word("seat", _tr("Seat"), _tr("The seat that this row is about"), _seat),
    ]


def _prices(priced: Sequence[Candidate]) -> list[Quantity]:
    currencies = {one.price.currency for one in priced if one.price is not None}
    if not currencies:
        return []
    tip = _tr("Price of the whole system, as the plan gives it")
    if len(currencies) > 1:
        # Amounts in several currencies are no numbers that compare.
        return [_word("price", _tr("Price"), tip, _price_text)]
    return [Quantity("price", _tr("Price"), currencies.pop(), tip, _price, _price_text, 2)]


def _word(key: str, title: str, tip: str, text: Callable[[Row], str]) -> Quantity:
    return Quantity(key, title, "", tip, text, text)


def _name(row: Row) -> str:
    return str(row.candidate.name)


def _verdict(row: Row) -> str:
    return verdict_word(row.seat.verdict)


def _headroom_db(row: Row) -> float:
    return row.seat.headroom_db


def _headroom_text(row: Row) -> str:
    return f"{signed(row.seat.headroom_db)} dB"


def _chance_pct(row: Row) -> float:
    return UNKNOWN if row.slow is None else 100.0 * row.slow.certainty.chance_unclipped


def _chance_text(row: Row) -> str:
    return WAITING if row.slow is None else chance_text(row.slow.certainty.chance_unclipped)


def _needed_w(row: Row) -> float:
    return row.seat.watts_needed


def _needed_text(row: Row) -> str:
    return watts_text(row.seat.watts_needed)


def _rated_w(row: Row) -> float:
    return row.seat.watts_rated


def _rated_text(row: Row) -> str:
    return watts_text(row.seat.watts_rated)


def _peak_db(row: Row) -> float:
    return row.seat.loudest_peak_db


def _peak_text(row: Row) -> str:
    return f"{figure(row.seat.loudest_peak_db, 1)} dB"


def _one_watt_db(row: Row) -> float:
    return row.seat.ladder[0].level_db


def _one_watt_text(row: Row) -> str:
    return f"{figure(row.seat.ladder[0].level_db, 1)} dB"


def _limit(row: Row) -> str:
    return limit_text(row.seat.first_limit)


def _seat(row: Row) -> str:
    return str(row.seat.name)


def _noise(row: Row) -> str:
    if row.slow is None:
        return WAITING
    amplifier = row.slow.noise.amplifier
    if amplifier is None:
        return _tr("not given")
    return _tr("heard") if amplifier.audible else _tr("not heard")


def _price(row: Row) -> float:
    price = row.candidate.price
    return UNKNOWN if price is None else float(price.amount)


def _price_text(row: Row) -> str:
    price = row.candidate.price
    if price is None:
        return NOTHING
    decimals = 0 if float(price.amount).is_integer() else 2
    return f"{price.amount:,.{decimals}f} {price.currency}".replace(",", " ")


def _tr(text: str) -> str:
    return QCoreApplication.translate("Compare", text)
