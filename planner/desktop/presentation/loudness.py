"""How loud will it play for you? What the system can do, and what is asked of it."""

from __future__ import annotations

from functools import partial
from math import ceil, floor

from planner.desktop.presentation.case import Case, with_target_changed
from planner.desktop.presentation.dial import Dial, paint_dial
from planner.desktop.presentation.page import Answer, Mark, Page, Scale
from planner.desktop.presentation.words import level_text, one_metre_text, watts_number
from planner.headroom.outcome import SeatOutcome
from planner.plan.units import Preference
from planner.report.language import tr

__all__ = ["Loudness", "asks_of_the_amplifier"]

LOW_DB, HIGH_DB = 70.0, 120.0
LOUD_VOICE_DB = 72.0 + 12.0
ORCHESTRA_DB = 110.0
AMPLIFIER_RUNS_OUT = ("voltage", "current")


def asks_of_the_amplifier(seat: SeatOutcome) -> bool:
    """Whether the amplifier is the first part to give out, and not the loudspeaker."""
    return seat.first_limit.quantity in AMPLIFIER_RUNS_OUT


class Loudness(Page):
    """The slider is the peak level at the seat."""

    @property
    def question(self) -> str:
        return tr("How loud will it play for you?")

    @property
    def tries(self) -> str:
        return tr("How loud the loudest moments shall be")

    def note(self, case: Case, units: Preference) -> str:
        return tr(
            "A decibel (dB) is a step of loudness: 10 dB more sounds about twice as loud (sone scale, "
            "ISO 532). “Clears” means 3 dB or more to spare. The voice is a loud one by ISO 9921, taken "
            "12 dB higher at its peaks; that and the orchestra are common practice, no published source."
        )

    def scale(self, case: Case, units: Preference) -> Scale:
        planned = case.seat.peak_target_db
        low, high = min(LOW_DB, floor(planned)), max(HIGH_DB, ceil(planned))
        marks = (
            Mark(LOUD_VOICE_DB, tr("a loud voice, {away}", away=one_metre_text(units))),
            Mark(ORCHESTRA_DB, tr("a large orchestra, from a near seat")),
        )
        return Scale(low, high, 0.5, planned, marks)

    def answer(self, case: Case, value: float | None, units: Preference) -> Answer:
        scale = self.scale(case, units)
        asked = scale.planned if value is None else value
        seat = case.on(with_target_changed(case.plan, asked - scale.planned)).seat
        dial = Dial(
            low_db=scale.low,
            high_db=scale.high,
            asked_db=seat.peak_target_db,
            most_db=seat.loudest_peak_db,
            verdict=seat.verdict,
            power=_power(seat),
        )
        return Answer(level_text(asked), _sentence(seat), dial.words, partial(paint_dial, dial))


def _power(seat: SeatOutcome) -> str:
    """What the amplifier is asked for; where the loudspeaker gives out first, that is what matters."""
    if seat.verdict == "short" and not asks_of_the_amplifier(seat):
        return tr("the loudspeaker gives out first")
    need, have = watts_number(seat.watts_needed), watts_number(seat.watts_rated)
    return tr("{need} of {have} W", need=need, have=have)


def _sentence(seat: SeatOutcome) -> str:
    if seat.verdict == "clears":
        asks = tr("The {asked} you ask for take {need} of its {have} watts: that leaves room to spare.")
    elif seat.verdict == "tight":
        asks = tr("The {asked} you ask for take {need} of its {have} watts: it can, with little to spare.")
    elif asks_of_the_amplifier(seat):
        asks = tr("The {asked} you ask for would take {need} watts, and it has {have}.")
    else:
        asks = tr("The {asked} you ask for are more than its loudspeakers can give.")
    reaches = tr("Where you sit, its loudest moments reach {most}.", most=level_text(seat.loudest_peak_db))
    figures = {
        "asked": level_text(seat.peak_target_db),
        "need": watts_number(seat.watts_needed),
        "have": watts_number(seat.watts_rated),
    }
    return f"{reaches}\n{asks.format(**figures)}"
