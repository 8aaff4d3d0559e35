"""The buyer's page: plain words on verdict, watts, overload and cautions."""

import pytest

from planner.plan.units import Preference
from planner.report.content.blocks import Terms
from planner.report.content.buyer import buyer_page, one_side_text, overload_text, why_text
from planner.report.figures.efficiency import COMMON_DB
from planner.report.gather import gather
from tests.plans import amplifier, candidate, in_room, plan_of, section
from tests.report.papers import cases_of

ROOMS = ("map_room", "reading_room", "tea_room", "vaulted_hall")
every_room = pytest.mark.parametrize("room", ROOMS)


def case_of(**changes):
    return gather(plan_of(in_room(candidates=[candidate(**changes)])))[0]


def loudspeaker(level_db, **changes):
    given = candidate()["loudspeaker"]
    one = section(sensitivity={"level_db": level_db, "drive": "1 W"})
    return {**given, "sections": [one], **changes}


def good_to_know(case):
    return next(
        dict(block.pairs) for block in buyer_page(case, Preference.METRIC) if isinstance(block, Terms)
    )


@pytest.mark.parametrize(
    ("overload", "said"),
    [("soft", "overloads softly"), ("hard", "cuts peaks off square"), (None, "the plan does not say")],
)
def test_that_the_buyer_is_told_how_overload_sounds(overload, said):
    given = {} if overload is None else {"overload": overload}
    case = case_of(amplifiers=[amplifier(**given)])
    assert said in overload_text(case.candidate.amplifiers[0])
    assert said in good_to_know(case)["At its limit"]


def test_that_an_efficient_loudspeaker_is_set_against_a_common_one():
    # By hand: 100 dB against 87 dB is 10^1.3 = 19.95 times the watts.
    seat = case_of(loudspeaker=loudspeaker(100.0)).worst.outcome
    assert COMMON_DB == 87.0 and seat.ladder[0].level_db == pytest.approx(100.0)
    assert "20 times as much" in why_text(seat)


@pytest.mark.parametrize(
    ("level_db", "said"),
    [(80.0, "A common one makes 87 dB and would need"), (87.0, "about as much as a common one")],
)
def test_that_no_loudspeaker_is_praised_for_efficiency_that_it_has_not(level_db, said):
    text = why_text(case_of(loudspeaker=loudspeaker(level_db)).worst.outcome)
    assert said in text and "the loudspeaker does the work" not in text


def test_that_what_one_channel_alone_must_give_is_said_in_watts_too():
    # By hand: 3.0103 dB is twice the watts.
    assert one_side_text(3.0103) == (
        "A peak panned hard to one side asks 3.0 dB more of that one amplifier, 2 times the watts."
    )
    assert "One channel alone" not in good_to_know(case_of())
    assert "One channel alone" in good_to_know(cases_of("map_room")[0])


def test_that_a_buyer_is_warned_of_hearing_high_voltage_and_floor():
    warned = good_to_know(cases_of("map_room")[0])
    assert "local rules decide" in warned["Hearing"]
    assert "lethal voltages" in warned["High voltage"]
    assert "no structural check" in warned["Floor"] and "kN/m²" in warned["Floor"]
    assert "no weights" in good_to_know(case_of())["Floor"]


def test_that_a_buyer_of_a_system_that_is_short_learns_what_would_clear_it():
    assert "a larger amplifier" in good_to_know(cases_of("map_room")[2])["What would clear it"]
    assert "What would clear it" not in good_to_know(cases_of("map_room")[0])
