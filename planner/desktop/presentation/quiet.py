"""How quiet is it? What is heard of the amplifier with nothing playing."""

from __future__ import annotations

from functools import partial

from planner.desktop.presentation.case import Case, with_noise_changed
from planner.desktop.presentation.hills import hills_of, paint_hills
from planner.desktop.presentation.page import Answer, Mark, Page, Scale
from planner.desktop.presentation.words import change_words, level_text
from planner.headroom.noise import AmplifierNoise, SeatNoise
from planner.plan.units import Preference
from planner.report.language import tr

__all__ = ["Quiet"]

FURTHEST_DB = 20.0


class Quiet(Page):
    """The slider makes the amplifier's hum and hiss louder or softer than the plan has them."""

    @property
    def question(self) -> str:
        return tr("How quiet is it?")

    @property
    def tries(self) -> str:
        return tr("How loud the amplifier hums and hisses by itself")

    def note(self, case: Case, units: Preference) -> str:
        ear = tr(
            "The ear’s limit is that of healthy young ears (ISO 226, ISO 389-7). A sound counts as heard "
            "once it stands out of room and ear at any pitch (common practice, no published source)."
        )
        if case.noise.quiet.room is not None:
            return ear
        return tr("The plan does not say how quiet the room is, so the ear alone is the measure.") + f" {ear}"

    def scale(self, case: Case, units: Preference) -> Scale | None:
        if case.noise.amplifier is None:
            return None
        marks = (
            Mark(-FURTHEST_DB, tr("a quieter amplifier")),
            Mark(FURTHEST_DB, tr("a noisier amplifier")),
        )
        return Scale(-FURTHEST_DB, FURTHEST_DB, 1.0, 0.0, marks)

    def answer(self, case: Case, value: float | None, units: Preference) -> Answer:
        change_db = value or 0.0
        noise = case.on(with_noise_changed(case.plan, case.candidate, change_db)).noise
        if noise.amplifier is None:
            said = tr("not in the plan")
        else:
            said = change_words(change_db) if change_db else tr("as in the plan")
        return Answer(said, _sentence(noise), _picture(noise), partial(paint_hills, hills_of(noise)))


def _sentence(noise: SeatNoise) -> str:
    amplifier = noise.amplifier
    if amplifier is None:
        return tr(
            "The plan does not say how much this amplifier hums and hisses.\n"
            "So nothing can be promised about its silence."
        )
    if amplifier.audible:
        first = tr("With nothing playing, you will hear the amplifier.")
        second = tr("Its {part} stands {level} out of the silence.")
    else:
        first = tr("With nothing playing, you will not hear the amplifier.")
        second = (
            tr("Its {part} stays {level} below what an ear can hear.")
            if noise.quiet.room is None
            else tr("Its {part} stays {level} below the hush of the room.")
        )
    said = f"{first}\n{second.format(part=_part(amplifier), level=level_text(abs(amplifier.margin_db)))}"
    return said if amplifier.complete else f"{said} {tr('Not every amplifier’s noise is in the plan.')}"


def _part(amplifier: AmplifierNoise) -> str:
    return {"hum": tr("hum"), "hiss": tr("hiss"), "phono": tr("record player’s hiss")}[amplifier.part]


def _picture(noise: SeatNoise) -> str:
    """The picture in words."""
    parts = [tr("Hills of loudness from low notes on the left to high notes on the right.")]
    room, amplifier = noise.quiet.room, noise.amplifier
    if room is not None:
        parts.append(tr("The room’s own hush: {level}(A).", level=level_text(room.dba)))
    if amplifier is not None:
        level = level_text(amplifier.dba)
        parts.append(tr("The amplifier’s noise where you sit: {level}(A).", level=level))
        over, under = tr("It rises above the hush."), tr("It stays hidden behind the hush.")
        parts.append(over if amplifier.audible else under)
    return " ".join(parts)
