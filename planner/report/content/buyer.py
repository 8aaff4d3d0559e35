"""The buyer's page of one candidate: the answer, the room, the story of the watts, and what to mind."""

from __future__ import annotations

from planner.headroom.curves import watts_against_sensitivity
from planner.headroom.outcome import SeatOutcome
from planner.plan.amplifier import Amplifier
from planner.plan.units import Preference
from planner.report.cautions import (
    FLOOR_CAUTION,
    HEARING_CAUTION,
    HIGH_VOLTAGE_CAUTION,
    floor_text,
    hearing_text,
    noise_text,
)
from planner.report.content.blocks import (
    Block,
    Heading,
    KeyFigures,
    Picture,
    RoomView,
    Side,
    Terms,
    Text,
    Title,
    Verdict,
)
from planner.report.content.doubt import ways_in_words
from planner.report.content.measures import figure, price_text, signed
from planner.report.figures.distance import distance_chart
from planner.report.figures.efficiency import COMMON_DB, efficiency_chart, watts_at
from planner.report.figures.ladder import ladder_chart
from planner.report.gather import Case
from planner.report.language import tr
from planner.report.words import asked_text, chance_text, verdict_sentence, verdict_word, watts_text

__all__ = ["buyer_page", "overload_text", "why_text"]

ABOUT_THE_SAME_DB = 1.5
ONE_SIDE_DB = 0.05


def buyer_page(case: Case, preference: Preference, *, prices: bool = False) -> tuple[Block, ...]:
    """One page for a buyer who is no engineer; with the price only if asked."""
    price = case.candidate.price if prices else None
    name = case.candidate.name if price is None else f"{case.candidate.name} · {price_text(price)}"
    seat = case.worst.outcome
    room = Picture(RoomView(case.plan, case.index, case.worst_seat, preference), 128.0, 1.0)
    story: tuple[Block, ...] = (
        Heading(tr("Why so few watts?") if is_efficient(seat) else tr("What the watts are for"), 3),
        Text(why_text(seat)),
        Picture(efficiency_chart(seat), 88.0, 1.0),
    )
    charts: tuple[tuple[Block, ...], ...] = (
        (Picture(ladder_chart(seat), 130.0, 1.0),),
        (Picture(distance_chart(case.distance, seat.name, preference), 132.0, 1.0),),
    )
    return (
        Title(tr("Will it play loud enough?"), case.plan.title, name),
        Verdict(
            seat.verdict, verdict_word(seat.verdict).capitalize(), verdict_sentence(case.answer.outcome, seat)
        ),
        KeyFigures(_key_figures(case)),
        Side(((room,), story), (0.54, 0.46)),
        Side(charts, (0.54, 0.46)),
        Heading(tr("Good to know"), 3),
        Terms(_good_to_know(case, preference)),
    )


def is_efficient(seat: SeatOutcome) -> bool:
    """Whether the loudspeaker makes clearly more of a watt than a common one."""
    return seat.ladder[0].level_db > COMMON_DB + ABOUT_THE_SAME_DB


def why_text(seat: SeatOutcome) -> str:
    """What efficiency does for this system, against a common loudspeaker."""
    curve = watts_against_sensitivity(seat)
    words = {
        "here": figure(curve.here_db),
        "common": figure(COMMON_DB, 0),
        "need": watts_text(curve.here_watts),
        "other": watts_text(watts_at(curve, COMMON_DB)),
        "times": f"{10.0 ** (abs(curve.here_db - COMMON_DB) / 10.0):.2g}",
    }
    if is_efficient(seat):
        return tr(
            "This loudspeaker makes {here} dB of a single watt at 1 m. A common one makes {common} dB and "
            "would need {other} for the very same peaks, {times} times as much. Each 3 dB of efficiency "
            "halves the watts, 10 dB make them a tenth: the loudspeaker does the work, so that a small "
            "amplifier is enough.",
            **words,
        )
    if curve.here_db < COMMON_DB - ABOUT_THE_SAME_DB:
        return tr(
            "This loudspeaker makes {here} dB of a watt at 1 m and needs {need} for these peaks. A common "
            "one makes {common} dB and would need {other}. Each 3 dB of efficiency halves the watts, 10 dB "
            "make them a tenth.",
            **words,
        )
    return tr(
        "This loudspeaker makes {here} dB of a watt at 1 m, about as much as a common one, and needs {need} "
        "for these peaks. Each 3 dB of efficiency would halve the watts, 10 dB make them a tenth.",
        **words,
    )


def _key_figures(case: Case) -> tuple[tuple[str, str], ...]:
    seat, sure = case.worst.outcome, case.worst.certainty
    return (
        (watts_text(seat.watts_needed), tr("needed of {rated}", rated=watts_text(seat.watts_rated))),
        (tr("{headroom} dB", headroom=signed(seat.headroom_db)), tr("headroom; 3 dB is comfortable")),
        (tr("{level} dB", level=figure(seat.loudest_peak_db)), tr("the loudest peak it can play")),
        (chance_text(sure.chance_unclipped), tr("chance of clean peaks")),
    )


def _good_to_know(case: Case, preference: Preference) -> tuple[tuple[str, str], ...]:
    worst = case.worst
    one_side = worst.outcome.one_side_db
    pairs = [
        (tr("The question"), asked_text(case.plan)),
        *ways_in_words(worst, preference),
        (tr("At its limit"), " ".join(dict.fromkeys(map(overload_text, case.candidate.amplifiers)))),
    ]
    if one_side is not None and one_side > ONE_SIDE_DB:
        pairs.append((tr("One channel alone"), one_side_text(one_side)))
    if worst.noise.amplifier is not None:
        pairs.append((tr("Silence"), noise_text(worst.noise)))
    pairs += [
        (tr("Hearing"), f"{hearing_text(worst.hearing)} {tr(HEARING_CAUTION)}"),
        (tr("High voltage"), tr(HIGH_VOLTAGE_CAUTION)),
        (tr("Floor"), _floor(case)),
    ]
    return tuple(pairs)


def one_side_text(more_db: float) -> str:
    """What a peak on one channel alone asks of its amplifier."""
    return tr(
        "A peak panned hard to one side asks {more} dB more of that one amplifier, {times} times the watts.",
        more=figure(more_db),
        times=f"{10.0 ** (more_db / 10.0):.2g}",
    )


def overload_text(amplifier: Amplifier) -> str:
    """How an amplifier sounds when it is asked for more than it has."""
    name = amplifier.name
    if amplifier.overload == "soft":
        return tr(
            "{name} overloads softly: it rounds peaks off, and first sounds thicker and less open.", name=name
        )
    if amplifier.overload == "hard":
        return tr("{name} overloads hard: it cuts peaks off square, which is heard as a rasp.", name=name)
    return tr("How {name} sounds when it overloads, soft or hard, the plan does not say.", name=name)


def _floor(case: Case) -> str:
    loads = case.answer.floor_loads
    if not loads:
        return tr("The plan gives no weights; ask before heavy loudspeakers go on a light floor.")
    return f"{floor_text(max(loads, key=lambda load: load.load_kn_m2))} {tr(FLOOR_CAUTION)}"
