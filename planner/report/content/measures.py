"""Numbers as a report writes them: fixed decimals, a point, a plain hyphen for minus, units without prefixes.

So the figures of a report can be searched for, copied and read by a program as those of ``check --json``.
"""

from __future__ import annotations

import numpy as np

from planner.plan.model import Price
from planner.plan.units import Preference, show
from planner.report.language import tr

__all__ = ["NOTHING", "figure", "in_both", "length", "plain", "price_text", "share", "signed"]

NOTHING = "–"


def figure(value: float | None, decimals: int = 1) -> str:
    """A number with fixed decimals, a dash where there is none.

    Examples
    --------
    >>> figure(-0.04), figure(1234.5678, 2), figure(None)
    ('0.0', '1234.57', '–')
    """
    if value is None or not np.isfinite(value):
        return NOTHING
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def signed(value: float | None, decimals: int = 1) -> str:
    """A number with its sign, none before a nought.

    Examples
    --------
    >>> signed(3.25), signed(-0.6), signed(0.01)
    ('+3.2', '-0.6', '0.0')
    """
    text = figure(value, decimals)
    bare = text in (NOTHING, figure(0.0, decimals)) or text.startswith("-")
    return text if bare else f"+{text}"


def plain(value: float) -> str:
    """An input as short as it can be without loss, to nine significant digits.

    Examples
    --------
    >>> plain(8.0), plain(0.00045), plain(101.325), plain(20000.0)
    ('8', '0.00045', '101.325', '20000')
    """
    text = f"{value:.9g}"
    return np.format_float_positional(value, precision=9, fractional=False, trim="-") if "e" in text else text


def length(length_m: float, preference: Preference = Preference.METRIC) -> str:
    """A length in metres, and in feet and inches behind for those who measure in them.

    Examples
    --------
    >>> length(3.0286), length(3.0286, Preference.US)
    ('3.03 m', '3.03 m (9 ft 11.2 in)')
    """
    text = f"{figure(length_m, 2)} m"
    return text if preference is Preference.METRIC else f"{text} ({show(length_m, 'm', preference)})"


def in_both(text: str, value: float, unit: str, preference: Preference) -> str:
    """A quantity written in the plan's unit, followed by US units where they differ and are asked for.

    Examples
    --------
    >>> in_both("20 °C", 20.0, "degC", Preference.US), in_both("8 Ω", 8.0, "ohm", Preference.US)
    ('20 °C (68 °F)', '8 Ω')
    """
    if preference is Preference.METRIC:
        return text
    here, there = show(value, unit), show(value, unit, preference)
    return text if here == there else f"{text} ({there})"


def price_text(price: Price) -> str:
    """A price with its currency behind, cents only where there are some.

    Examples
    --------
    >>> price_text(Price(amount=18500.0, currency="EUR")), price_text(Price(amount=99.5, currency="USD"))
    ('18500 EUR', '99.50 USD')
    """
    amount = f"{price.amount:.2f}".removesuffix(".00")
    return f"{amount} {price.currency}"


def share(value: float) -> str:
    """A share of one as a number and in per cent, never a certainty that draws cannot know.

    Examples
    --------
    >>> share(0.8734), share(1.0)
    ('0.87 (87 %)', '1.00 (> 99 %)')
    """
    words = tr("> 99 %") if value > 0.995 else tr("< 1 %") if value < 0.005 else f"{100.0 * value:.0f} %"
    return f"{figure(value, 2)} ({words})"
