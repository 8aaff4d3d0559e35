"""Why so few watts? The same peak from loudspeakers of every kind."""

from __future__ import annotations

from functools import partial
from math import ceil, floor

from planner.desktop.presentation.case import Case, channels, with_one_watt_level
from planner.desktop.presentation.page import Answer, Mark, Page, Scale
from planner.desktop.presentation.squares import HALVING_DB, Squares, paint_squares
from planner.desktop.presentation.words import (
    level_text,
    one_metre_text,
    share_words,
    times_words,
    watts_number,
    watts_words,
)
from planner.headroom.outcome import SeatOutcome
from planner.plan.units import Preference
from planner.report.language import tr

__all__ = ["CLASS_A_SHARE", "Watts", "heat_w"]

LOW_DB, HIGH_DB = 84.0, 108.0
CLASS_A_SHARE = 0.25
"""What a class A triode amplifier can give of what it draws: common practice, no published source."""


def heat_w(case: Case, seat: SeatOutcome) -> float:
    """What amplifiers that are just large enough draw, all channels, in silence too [W]."""
    rated = (
        asked.watts_needed * channels(case.plan, amplifier)
        for asked, amplifier in zip(seat.amplifiers, case.chosen.amplifiers, strict=True)
    )
    return sum(rated) / CLASS_A_SHARE


class Watts(Page):
    """The slider is how loud one watt plays through the loudspeaker; everything else stays as planned."""

    @property
    def question(self) -> str:
        return tr("Why so few watts?")

    @property
    def tries(self) -> str:
        return tr("How loud one watt plays through the loudspeaker")

    def note(self, case: Case, units: Preference) -> str:
        return tr(
            "One watt is measured {away}. Each square has the area of the watts it stands for, one channel. "
            "Heat: all channels of amplifiers just large enough, taken as class A, which draw four times "
            "their watts from the wall, in silence too (25 %, common practice, no published source). A "
            "person at rest gives off about 100 watts (ISO 7730).",
            away=one_metre_text(units),
        )

    def scale(self, case: Case, units: Preference) -> Scale:
        planned = case.seat.ladder[0].level_db
        low = min(LOW_DB, floor(planned))
        high = low + HALVING_DB * ceil((max(HIGH_DB, planned) - low) / HALVING_DB)
        return Scale(low, high, 0.5, planned, (Mark(low, level_text(low)), Mark(high, level_text(high))))

    def answer(self, case: Case, value: float | None, units: Preference) -> Answer:
        scale = self.scale(case, units)
        level_db = scale.planned if value is None else value
        changed = case.on(with_one_watt_level(case.plan, case.candidate, level_db - scale.planned))
        squares = Squares(
            low_db=scale.low,
            high_db=scale.high,
            chosen_db=level_db,
            planned_db=scale.planned,
            watts=changed.seat.watts_needed,
            heat_w=heat_w(case, changed.seat),
        )
        sentence = _sentence(case.seat, squares)
        return Answer(level_text(level_db), sentence, squares.words, partial(paint_squares, squares))


def _sentence(seat: SeatOutcome, squares: Squares) -> str:
    """This loudspeaker, and beside it the one that is tried, or the far end of the row."""
    if seat.watts_needed <= seat.watts_rated:
        needs = tr("For your peaks of {peak} this loudspeaker needs {need} of the {have} watts you get.")
    else:
        needs = tr("For your peaks of {peak} this loudspeaker needs {need} watts, and you get {have}.")
    other_db = squares.chosen_db if squares.chosen_db != squares.planned_db else squares.far_end_db
    watts = squares.watts_at(other_db)
    ratio = watts / seat.watts_needed
    other = tr(
        "One that plays {level} from a watt needs {watts}: {share} as much.",
        level=level_text(other_db),
        watts=watts_words(watts),
        share=times_words(ratio) if ratio >= 1.0 else share_words(ratio),
    )
    figures = {
        "peak": level_text(seat.peak_target_db),
        "need": watts_number(seat.watts_needed),
        "have": watts_number(seat.watts_rated),
    }
    return f"{needs.format(**figures)}\n{other}"
