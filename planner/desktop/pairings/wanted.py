"""Which pairs are wanted, and in what order: rows are loudspeakers, columns are amplifiers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.desktop.pairings.answer import Answer, AtSeat
from planner.desktop.pairings.offers import Offer
from planner.headroom.outcome import TIGHT_BELOW_DB

__all__ = ["Order", "Wanted", "columns_of", "rows_of", "shown"]

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]


@dataclass(frozen=True, slots=True)
class Order:
    """How one side is sorted.

    ``by`` is ``figure`` (sensitivity of loudspeakers, watts of amplifiers), ``headroom`` (the best of any
    pair), ``needed`` (the fewest watts of any pair), ``name``, or ``with``: the headroom with the one that
    has the key ``other``. Each has a natural direction, which ``reverse`` turns round.
    """

    by: str = "figure"
    other: str = ""
    reverse: bool = False


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of the pairs; a kind is a build or an origin, empty for all; seat None is the worst."""

    loudspeaker_words: str = ""
    loudspeaker_kind: str = ""
    loudspeaker_order: Order = Order()
    amplifier_words: str = ""
    amplifier_kind: str = ""
    amplifier_order: Order = Order()
    least_watts: float | None = None
    most_watts: float | None = None
    only_clear: bool = False
    seat: int | None = None


def shown(answer: Answer, at: AtSeat, wanted: Wanted) -> tuple[IntArray, IntArray]:
    """Which loudspeakers and amplifiers are shown, in their order, by their numbers in the answer."""
    rows = _those(_named(answer.loudspeakers, wanted.loudspeaker_words, wanted.loudspeaker_kind))
    by_name = _named(answer.amplifiers, wanted.amplifier_words, wanted.amplifier_kind)
    columns = _those(by_name & _powered(answer.watts, wanted))
    if wanted.only_clear:
        clear = at.headroom_db[np.ix_(rows, columns)] >= TIGHT_BELOW_DB
        rows, columns = rows[clear.any(axis=1)], columns[clear.any(axis=0)]
    return rows_of(answer, at, wanted.loudspeaker_order, rows, columns), columns_of(
        answer, at, wanted.amplifier_order, rows, columns
    )


def rows_of(answer: Answer, at: AtSeat, order: Order, rows: IntArray, columns: IntArray) -> IntArray:
    """The loudspeakers in an order; those that cannot take part are always last."""
    here = np.ix_(rows, columns)
    names = [answer.loudspeakers[row].name for row in rows]
    other = _number(answer.amplifiers, order.other)
    against = None if other is None else at.headroom_db[rows, other]
    keys = _keys(order, -answer.sensitivity_db[rows], at.headroom_db[here], at.watts_needed[here], against)
    return rows[_sorted(keys, names, order.reverse, _out(answer, rows, loudspeakers=True))]


def columns_of(answer: Answer, at: AtSeat, order: Order, rows: IntArray, columns: IntArray) -> IntArray:
    """The amplifiers in an order; those that cannot take part are always last."""
    here = np.ix_(rows, columns)
    names = [answer.amplifiers[column].name for column in columns]
    other = _number(answer.loudspeakers, order.other)
    against = None if other is None else at.headroom_db[other, columns]
    keys = _keys(order, answer.watts[columns], at.headroom_db[here].T, at.watts_needed[here].T, against)
    return columns[_sorted(keys, names, order.reverse, _out(answer, columns, loudspeakers=False))]


def _named(offers: tuple[Offer, ...], words: str, kind: str) -> NDArray[np.bool_]:
    wanted = words.casefold().split()
    return np.array(
        [
            all(word in one.name.casefold() for word in wanted) and kind in ("", one.kind, one.origin)
            for one in offers
        ],
        dtype=bool,
    )


def _powered(watts: FloatArray, wanted: Wanted) -> NDArray[np.bool_]:
    """Which ratings lie between the least and the most, but for rounding."""
    fits = np.ones(watts.shape, dtype=bool)
    if wanted.least_watts is not None:
        fits &= watts >= wanted.least_watts * (1.0 - 1e-9)
    if wanted.most_watts is not None:
        fits &= watts <= wanted.most_watts * (1.0 + 1e-9)
    return fits


def _those(mask: NDArray[np.bool_]) -> IntArray:
    return np.flatnonzero(mask)


def _number(offers: tuple[Offer, ...], key: str) -> int | None:
    keys = [one.key for one in offers]
    return keys.index(key) if key in keys else None


def _keys(
    order: Order, figure: FloatArray, headroom: FloatArray, needed: FloatArray, against: FloatArray | None
) -> FloatArray | None:
    """What to sort by, the least first; None where names alone decide."""
    if order.by == "name":
        return None
    if order.by == "with" and against is not None:
        return -against
    if order.by == "headroom":
        return -_over(headroom, -np.inf).max(axis=1, initial=-np.inf)
    if order.by == "needed":
        return _over(needed, np.inf).min(axis=1, initial=np.inf)
    return figure


def _over(values: FloatArray, instead: float) -> FloatArray:
    return np.where(np.isnan(values), instead, values)


def _out(answer: Answer, numbers: IntArray, *, loudspeakers: bool) -> NDArray[np.bool_]:
    """Which of these cannot take part."""
    assert answer.pairs is not None, "there are no pairs where the room has findings"
    out = answer.pairs.findings if loudspeakers else answer.pairs.amplifier_findings
    return np.array([number in out for number in numbers.tolist()], dtype=bool)


def _sorted(keys: FloatArray | None, names: list[str], reverse: bool, out: NDArray[np.bool_]) -> IntArray:
    """Numbers in the order of the keys, equal ones by name; turned round if asked, but for those left out."""
    places = np.argsort(
        np.argsort(np.array([name.casefold() for name in names], dtype=object), kind="stable")
    )
    if keys is None:
        main = -places if reverse else places
        return np.lexsort((main, out))
    # What is not known is last, whichever way round.
    known = np.where(np.isnan(keys), np.inf, -keys if reverse else keys)
    return np.lexsort((places, known, out))
