"""Plain words: every key has some, and figures are written as a person reads them."""

import re

import pytest

from planner.headroom import compute
from planner.headroom.answer import answer
from planner.headroom.certainty import Certainty
from planner.headroom.ladder import STEPS
from planner.headroom.outcome import Caution, FirstLimit
from planner.report import cautions, language, words
from tests.plans import changed, in_room, plan_of

QUANTITIES = ("voltage", "current", "long-term power", "peak power", "excursion")


@pytest.mark.parametrize(
    ("watts", "text"),
    [
        (0.0123, "0.012 W"),
        (0.85, "0.85 W"),
        (2.5, "2.5 W"),
        (18.04, "18.0 W"),
        (130.2, "130 W"),
        (12345, "12 345 W"),
    ],
)  # fmt: skip
def test_that_watts_are_always_in_watts_with_figures_that_matter(watts, text):
    assert words.watts_text(watts) == text


@pytest.mark.parametrize(
    ("hertz", "text"),
    [(10**1.3, "20 Hz"), (10**1.5, "31.5 Hz"), (10**2.8, "630 Hz"), (1000.0, "1 kHz"), (10**4.1, "12.5 kHz")],
)
def test_that_bands_go_by_their_nominal_names(hertz, text):
    assert words.band_text(hertz) == text


def test_that_every_step_of_the_ladder_has_a_name():
    assert len({words.step_name(key) for key in STEPS}) == len(STEPS)


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_that_every_quantity_that_can_run_out_has_words(quantity):
    text = words.limit_text(FirstLimit("the horn", quantity, 1000.0))
    assert text == f"{quantity} at 1 kHz (the horn)"


@pytest.mark.parametrize("key", ["absorption_held", "absorption_flat", "modes_held"])
def test_that_every_caution_has_a_sentence_with_its_figure(key):
    assert "125" in words.caution_text(Caution(key, 125.0))


@pytest.mark.parametrize(("level", "verdict"), [(85.0, "clears"), (99.0, "tight"), (106.0, "short")])
def test_that_the_verdict_sentence_carries_the_figures_of_the_outcome(level, verdict):
    outcome = compute(plan_of(changed(in_room(), "target", {"peak_db": level})))
    seat = outcome.worst
    assert seat.verdict == verdict
    sentence = words.verdict_sentence(outcome, seat)
    for figure in (f"{level:.1f} dB", words.watts_text(seat.watts_needed), f"{abs(seat.headroom_db):.1f} dB"):
        assert figure in sentence
    assert outcome.candidate in sentence


def test_that_a_loudspeaker_that_gives_out_first_is_named_and_not_the_watts():
    limits = {"long_term_w": 0.2}
    data = changed(in_room(), "candidates.0.loudspeaker.sections.0.limits", limits)
    outcome = compute(plan_of(data))
    sentence = words.verdict_sentence(outcome, outcome.worst)
    assert "peak power" in sentence
    assert "2.5 W" not in sentence


def test_that_the_ladder_sentence_adds_up():
    seat = compute(plan_of(in_room())).worst
    text = words.ladder_text(seat.ladder)
    first, *steps = re.findall(r"([+−]?\d+\.\d)", text.split(" = ")[0].replace("1 W at 1 m", ""))
    total = float(first) + sum(float(step.replace("−", "-")) for step in steps)
    assert total == pytest.approx(seat.loudest_peak_db, abs=0.5)


@pytest.mark.parametrize(
    ("chance", "text"), [(1.0, "> 99 %"), (0.997, "> 99 %"), (0.86, "86 %"), (0.004, "< 1 %"), (0.0, "< 1 %")]
)
def test_that_a_chance_never_claims_to_be_sure(chance, text):
    assert words.chance_text(chance) == text


@pytest.mark.parametrize(
    ("hours", "text"), [(24.0, "24.0 h"), (1.0, "1.0 h"), (0.75, "45 min"), (0.01, "1 min")]
)
def test_that_less_than_an_hour_is_told_in_minutes(hours, text):
    assert cautions.hours_text(hours) == text


def noisy(hiss_mv):
    data = changed(in_room(), "room.noise", {"nc": 20})
    residual = {"hum_mv": 0.0, "mains_hz": 50, "hiss_mv": hiss_mv, "weighting": "Z"}
    return answer(plan_of(changed(data, "candidates.0.amplifiers.0.residual", residual))).seats[0]


def test_that_noise_is_said_to_be_heard_or_not_with_its_margin():
    quiet, loud = noisy(0.05).noise, noisy(50.0).noise
    assert "is not heard" in cautions.noise_text(quiet)
    assert "is heard" in cautions.noise_text(loud)
    assert f"{abs(loud.amplifier.margin_db):.1f} dB out" in cautions.noise_text(loud)
    assert "mV of hiss" in cautions.tolerated_text(loud.amplifier)
    assert "nothing is said" in cautions.noise_text(answer(plan_of(in_room())).seats[0].noise)


def test_that_hearing_tells_the_level_and_how_long():
    hearing = answer(plan_of(in_room())).seats[0].hearing
    assert f"{hearing.average_dba:.1f} dB(A)" in cautions.hearing_text(hearing)


def test_that_another_language_takes_over_every_sentence():
    language.install(lambda text: f"<{text}>")
    try:
        assert words.verdict_word("clears") == "<clears>"
        assert words.step_name("watts") == "<watts>"
    finally:
        language.install(str)


# The steps of the scale: IPCC guidance note on the treatment of uncertainties (Mastrandrea and others, 2010).
@pytest.mark.parametrize(
    ("chance", "word"),
    [
        (1.0, "almost certain"),
        (0.95, "very likely"),
        (0.7, "likely"),
        (0.5, "about as likely as not"),
        (0.2, "unlikely"),
        (0.05, "very unlikely"),
        (0.0, "almost certain not"),
    ],
)
def test_that_a_chance_has_a_word_that_is_held_fixed(chance, word):
    assert words.likely_word(chance) == word


def test_that_the_line_of_certainty_has_range_chance_and_if_wanted_the_length_of_a_peak():
    sure = Certainty(0.861, (-0.27, 3.47), (), ())
    line = "−0.3 … +3.5 dB in eight cases of ten; chance to play the peaks unclipped 86 %"
    assert words.certainty_line(sure) == line
    assert words.certainty_line(sure, 20.0) == f"{line}; a peak is taken to last 20 ms"
