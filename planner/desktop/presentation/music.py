"""What does the music ask? Its loudest moments beside its average."""

from __future__ import annotations

from functools import partial
from math import ceil, floor

from planner.desktop.presentation.case import Case, with_crest
from planner.desktop.presentation.loudness import asks_of_the_amplifier
from planner.desktop.presentation.page import Answer, Mark, Page, Scale
from planner.desktop.presentation.skyline import Skyline, paint_skyline
from planner.desktop.presentation.words import level_text, times_words, watts_number
from planner.headroom.outcome import SeatOutcome
from planner.plan.units import Preference
from planner.programme.spectra import TYPICAL_CREST
from planner.report.language import tr

__all__ = ["Music"]

LOW_DB, HIGH_DB = 6.0, 20.0
LEAST_NAMED_DB = 7.0


class Music(Page):
    """The slider is how far peaks stand above the average; the average at the seat stays the plan's."""

    @property
    def question(self) -> str:
        return tr("What does the music ask?")

    @property
    def tries(self) -> str:
        return tr("How far the loudest moments rise above the average")

    def note(self, case: Case, units: Preference) -> str:
        return tr(
            "The slider leaves the average loudness at {average}; only the loudest moments grow or shrink. "
            "Each bar is a moment of music, as tall as its swing; the music is made up, its peak and its "
            "average are to scale. What each kind of music asks is common practice, no published source.",
            average=level_text(case.seat.average_db),
        )

    def scale(self, case: Case, units: Preference) -> Scale:
        planned = case.plan.programme.crest_db
        low, high = min(LOW_DB, floor(planned)), max(HIGH_DB, ceil(planned))
        typical = (one for one in reversed(TYPICAL_CREST) if one.crest_db >= LEAST_NAMED_DB)
        marks = tuple(Mark(one.crest_db, tr(one.programme)) for one in typical)
        return Scale(low, high, 0.5, planned, marks)

    def answer(self, case: Case, value: float | None, units: Preference) -> Answer:
        scale = self.scale(case, units)
        crest_db = scale.planned if value is None else value
        seat = case.on(with_crest(case.plan, crest_db, case.seat.average_db)).seat
        skyline = Skyline(
            crest_db=crest_db,
            most_db=crest_db + seat.headroom_db,
            tallest_db=scale.high,
            peak_db=seat.peak_target_db,
            average_db=seat.average_db,
        )
        sentence = _sentence(seat, crest_db)
        return Answer(level_text(crest_db), sentence, skyline.words, partial(paint_skyline, skyline))


def _sentence(seat: SeatOutcome, crest_db: float) -> str:
    if seat.verdict == "clears":
        needs = tr("For them you need {need} of the {have} watts you get.")
    elif seat.verdict == "tight":
        needs = tr("For them you need {need} of the {have} watts you get, with little to spare.")
    elif asks_of_the_amplifier(seat):
        needs = tr("For them you would need {need} watts, and you get {have}: their tops are lost.")
    else:
        needs = tr("That is more than the loudspeakers can give: their tops are lost.")
    times = times_words(10.0 ** (crest_db / 10.0))
    asks = tr("Its loudest moments ask {times} the power of its average.", times=times)
    need, have = watts_number(seat.watts_needed), watts_number(seat.watts_rated)
    return f"{asks}\n{needs.format(need=need, have=have)}"
