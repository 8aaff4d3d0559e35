"""Figures in everyday words, for readers who are no engineers."""

from __future__ import annotations

from planner.plan.units import Preference, to_display
from planner.report.language import tr
from planner.report.words import watts_text

__all__ = [
    "DAY_H",
    "WEEK_H",
    "away_text",
    "change_words",
    "hours_words",
    "level_text",
    "one_metre_text",
    "share_words",
    "times_words",
    "watts_number",
    "watts_words",
]

DAY_H, WEEK_H = 24.0, 168.0


def watts_number(watts: float) -> str:
    """Watts as a number alone, where the word follows later in the sentence.

    Examples
    --------
    >>> watts_number(0.672), watts_number(130.0)
    ('0.67', '130')
    """
    return watts_text(watts).removesuffix(" W")


def watts_words(watts: float) -> str:
    """Watts with the word written out.

    Examples
    --------
    >>> watts_words(0.672), watts_words(84.0)
    ('0.67 watts', '84.0 watts')
    """
    return tr("{number} watts", number=watts_number(watts))


def level_text(level_db: float) -> str:
    """A level with one decimal, or none where it has none.

    Examples
    --------
    >>> level_text(104.0), level_text(109.71), level_text(-3.0)
    ('104 dB', '109.7 dB', '−3 dB')
    """
    return f"{level_db:.1f}".removesuffix(".0").replace("-", "−") + " dB"


def change_words(change_db: float) -> str:
    """How much louder or softer, in whole decibels where it can be.

    Examples
    --------
    >>> change_words(6.0), change_words(-3.0)
    ('6 dB louder', '3 dB softer')
    """
    amount = level_text(abs(change_db))
    return tr("{amount} louder", amount=amount) if change_db > 0.0 else tr("{amount} softer", amount=amount)


def times_words(ratio: float) -> str:
    """How many times as much, to about two figures.

    Examples
    --------
    >>> times_words(126.4), times_words(2.04), times_words(0.502)
    ('126 times', '2 times', '0.5 times')
    """
    number = f"{ratio:,.0f}".replace(",", " ") if ratio >= 9.95 else f"{ratio:.2g}"
    return tr("{number} times", number=number)


def share_words(share: float) -> str:
    """A part of a whole in per cent, to two figures.

    Examples
    --------
    >>> share_words(0.5), share_words(0.00479)
    ('50 %', '0.48 %')
    """
    return tr("{number} %", number=f"{float(f'{100.0 * share:.2g}'):g}")


def hours_words(hours: float) -> str:
    """A time as one says it: hours, minutes below one hour, seconds below one minute.

    Examples
    --------
    >>> hours_words(4.62), hours_words(0.25), hours_words(0.005), hours_words(1.0)
    ('4.6 hours', '15 minutes', '18 seconds', '1 hour')
    """
    if hours >= 0.995:
        number = f"{hours:.1f}".removesuffix(".0")
        return tr("1 hour") if number == "1" else tr("{number} hours", number=number)
    if hours * 60.0 >= 0.995:
        return tr("{number} minutes", number=f"{60.0 * hours:.0f}")
    return tr("{number} seconds", number=f"{3600.0 * hours:.0f}")


def away_text(distance_m: float, units: Preference) -> str:
    """A distance as one says it across a room.

    Examples
    --------
    >>> away_text(3.03, Preference.METRIC), away_text(3.03, Preference.US)
    ('3.0 m away', '10 ft away')
    """
    if units is Preference.US:
        return tr("{number} ft away", number=f"{to_display(distance_m, 'm', units):.0f}")
    return tr("{number} m away", number=f"{distance_m:.1f}")


def one_metre_text(units: Preference) -> str:
    """The distance at which one watt is measured, as one says it."""
    return tr("1 m (3.3 ft) away") if units is Preference.US else tr("1 m away")
