"""Is it safe? How many hours of a day and a week public guides allow."""

from __future__ import annotations

from functools import partial
from math import ceil, floor

from planner.acoustics.exposure import niosh_hours
from planner.desktop.presentation.case import Case, with_target_changed
from planner.desktop.presentation.clocks import Clocks, paint_clocks
from planner.desktop.presentation.page import Answer, Mark, Page, Scale
from planner.desktop.presentation.words import DAY_H, WEEK_H, hours_words, level_text, one_metre_text
from planner.headroom.hearing import Hearing
from planner.plan.units import Preference
from planner.report.cautions import HEARING_CAUTION
from planner.report.language import tr

__all__ = ["Safety"]

LOW_DBA, HIGH_DBA = 65.0, 105.0
LOUD_VOICE_DBA, WEEK_GUIDE_DBA, DAY_GUIDE_DBA = 72.0, 80.0, 85.0
BESIDE_DB = (-6.0, -3.0, 0.0, 3.0, 6.0)


class Safety(Page):
    """The slider is the average level at the seat, weighted as the ear hears."""

    @property
    def question(self) -> str:
        return tr("Is it safe?")

    @property
    def tries(self) -> str:
        return tr("How loud it plays on average")

    def note(self, case: Case, units: Preference) -> str:
        weighted = tr("dB(A) counts very low and very high notes less, as the ear does. The voice: ISO 9921.")
        return f"{tr(HEARING_CAUTION)} {weighted}"

    def scale(self, case: Case, units: Preference) -> Scale:
        planned = case.seat.average_dba
        low, high = min(LOW_DBA, floor(planned)), max(HIGH_DBA, ceil(planned))
        marks = (
            Mark(DAY_GUIDE_DBA, tr("NIOSH: 8 hours a day")),
            Mark(WEEK_GUIDE_DBA, tr("WHO/ITU: 40 hours a week")),
            Mark(LOUD_VOICE_DBA, tr("a loud voice, {away}", away=one_metre_text(units))),
        )
        return Scale(low, high, 1.0, planned, marks)

    def answer(self, case: Case, value: float | None, units: Preference) -> Answer:
        planned_dba = case.seat.average_dba
        level_dba = planned_dba if value is None else value
        played = case.on(with_target_changed(case.plan, level_dba - planned_dba))
        clocks = Clocks(tuple((change, float(niosh_hours(level_dba + change))) for change in BESIDE_DB))
        sentence = _sentence(played.hearing, beyond=played.seat.headroom_db < 0.0)
        return Answer(f"{level_text(level_dba)}(A)", sentence, clocks.words, partial(paint_clocks, clocks))


def _sentence(hearing: Hearing, *, beyond: bool) -> str:
    day, week = hearing.hours_per_day, hearing.hours_per_week
    allowed = tr(
        "At this loudness public guides allow {day} (NIOSH) or {week} (WHO/ITU).",
        day=tr("the whole day") if day >= DAY_H else tr("{hours} a day", hours=hours_words(day)),
        week=tr("the whole week") if week >= WEEK_H else tr("{hours} a week", hours=hours_words(week)),
    )
    rest = [tr("3 dB softer doubles the time, 3 dB louder halves it.")]
    if any(caution.startswith("eu_peak") for caution in hearing.cautions):
        rest.append(tr("Its peaks reach what the European rules for workplaces warn of."))
    if beyond:
        rest.append(tr("This system does not play that loud without strain."))
    return f"{allowed}\n{' '.join(rest)}"
