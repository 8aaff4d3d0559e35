"""The report as its reader has it: text taken out of the PDF against the answer of ``check --json``."""

import io
import re
from functools import cache

import pytest
from pypdf import PdfReader

from planner import __version__
from planner.plan.units import Preference, show
from planner.report.content.measures import figure, signed
from planner.report.content.whole import plan_digest
from planner.report.document import plan_document
from planner.report.pages.paper import A4, LETTER
from planner.report.printing import pdf_bytes
from planner.report.wishes import Wishes
from planner.report.words import band_text, verdict_sentence
from tests.report.papers import ON, cases_of, figures_of, numbers_in, pages_of, plan_of_room

ROOMS = ("map_room", "reading_room", "tea_room", "vaulted_hall")
PAPERS = {"a4": A4, "letter": LETTER}
pytestmark = pytest.mark.usefixtures("qapp")

every_room = pytest.mark.parametrize("room", ROOMS)


@cache
def made(room, paper="a4", preference=Preference.METRIC):
    """The PDF of a demo room, each made once."""
    return pdf_bytes(cases_of(room), PAPERS[paper], Wishes(preference, on=ON))


@cache
def pages(room, paper="a4", preference=Preference.METRIC):
    """The text of its pages, each read once."""
    return pages_of(made(room, paper, preference))


def parts_of(room, paper="a4", preference=Preference.METRIC):
    """The text of each candidate's own pages, from its buyer's page to the next one's."""
    whole = pages(room, paper, preference)
    names = [case.candidate.name for case in cases_of(room)]
    starts = [next(n for n, page in enumerate(whole) if is_buyer_page(page, name)) for name in names]
    ends = [
        *starts[1:],
        next(n for n, page in enumerate(whole) if page.startswith("The room and the question")),
    ]
    return ["\n".join(whole[start:end]) for start, end in zip(starts, ends, strict=True)]


def is_buyer_page(page, name):
    return page.startswith("Will it play loud enough?") and f"\n{name}\n" in page


def stands(value, numbers):
    return bool({figure(value, 1), figure(value, 2)} & numbers)


@pytest.mark.parametrize(
    ("room", "paper", "preference"),
    [*((room, "a4", Preference.METRIC) for room in ROOMS), ("tea_room", "letter", Preference.US)],
)
def test_that_every_figure_of_the_answer_stands_on_its_candidate_s_pages(room, paper, preference):
    cases = cases_of(room)
    document = plan_document("", "", [case.answer for case in cases])
    texts = parts_of(room, paper, preference)
    for candidate, text in zip(document["candidates"], texts, strict=True):
        numbers = set(numbers_in(text))
        missing = [pair for pair in figures_of(candidate) if not stands(pair[1], numbers)]
        assert len(figures_of(candidate)) > 200
        assert missing == []


@every_room
def test_that_each_band_is_a_line_of_its_own_figures_in_their_order(room):
    cases = cases_of(room)
    texts = parts_of(room)
    for case, text in zip(cases, texts, strict=True):
        bands = [seat.outcome.bands for seat in case.seats]
        for index, hertz in enumerate(bands[0].centre_hz):
            cells = [band_text(float(hertz)), figure(float(hertz), 2)]
            for one in bands:
                cells += [
                    figure(float(one.level_db[index])),
                    signed(float(one.room_gain_db[index])),
                    signed(float(one.headroom_db[index])),
                ]
            assert " ".join(cells) in text


@every_room
def test_that_each_quantity_is_a_line_with_its_unit_and_a_figure_for_each_seat(room):
    cases = cases_of(room)
    texts = parts_of(room)
    for case, text in zip(cases, texts, strict=True):
        seats = [seat.outcome for seat in case.seats]
        for line in (
            ["To the nearest stand m", *(figure(seat.distance_m, 2) for seat in seats)],
            ["Peak asked for dB", *(figure(seat.peak_target_db) for seat in seats)],
            ["Watts needed W", *(figure(seat.watts_needed, 2) for seat in seats)],
            ["Watts rated W", *(figure(seat.watts_rated, 2) for seat in seats)],
            ["Headroom dB", *(signed(seat.headroom_db) for seat in seats)],
            ["Loudest peak dB", *(figure(seat.loudest_peak_db) for seat in seats)],
            ["In the band of Hz", *(figure(seat.first_limit.band_hz, 2) for seat in seats)],
            ["Hours a day (NIOSH) h", *(figure(seat.hearing.hours_per_day, 2) for seat in case.seats)],
        ):
            assert " ".join(line) in text


@every_room
def test_that_each_amplifier_s_figures_stand_in_a_line(room):
    cases = cases_of(room)
    texts = parts_of(room)
    for case, text in zip(cases, texts, strict=True):
        for one in (one for seat in case.seats for one in seat.outcome.amplifiers):
            watts = (figure(one.watts_needed, 2), figure(one.watts_rated, 2))
            peaks = (figure(one.peak_volts, 2), figure(one.peak_amps, 2), figure(one.average_watts, 2))
            assert " ".join((figure(one.tap_ohm), *watts, *peaks, signed(one.headroom_db))) in text


@every_room
def test_that_the_first_page_of_each_candidate_says_the_verdict_in_words(room):
    whole = pages(room)
    for case in cases_of(room):
        page = next(page for page in whole if is_buyer_page(page, case.candidate.name))
        assert verdict_sentence(case.answer.outcome, case.worst.outcome) in page.replace("\n", " ")
        assert "lethal voltages" in page and "NIOSH" in page and "One channel alone" in page
        assert all(word in page for word in ("From above", "Each 3 dB", "overloads"))
        kinds = {one.overload for one in case.candidate.amplifiers}
        assert ("overloads softly" in page) == ("soft" in kinds)
        assert ("overloads hard" in page) == ("hard" in kinds)


def test_that_candidates_are_compared_on_the_first_page_if_there_are_several():
    first = pages("map_room")[0]
    assert first.startswith("Candidates side by side")
    for case in cases_of("map_room"):
        assert case.candidate.name in first
        for seat in case.seats:
            assert f"{figure(seat.outcome.watts_needed, 2)} {figure(seat.outcome.watts_rated, 2)}" in first


def test_that_a_change_that_cannot_clear_is_said_to_be_not_possible():
    case = cases_of("map_room")[2]
    text = parts_of("map_room")[2]
    impossible = [way for way in case.worst.ways if way.to_value is None]
    assert impossible and text.count("not possible") >= len(impossible)


@every_room
def test_that_every_page_bears_plan_date_and_number(room):
    whole = pages(room)
    title = plan_of_room(room).title
    for number, page in enumerate(whole, start=1):
        assert f"{ON.isoformat()} · page {number} of {len(whole)}" in page
        assert title in page


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        # ISO 216: 210 mm × 297 mm; ANSI/ASME Y14.1: 8.5 in × 11 in.
        pytest.param("a4", (210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0), id="A4"),
        pytest.param("letter", (612.0, 792.0), id="Letter"),
    ],
)
def test_that_the_pages_have_the_size_that_was_asked_for(paper, size):
    for page in PdfReader(io.BytesIO(made("map_room", paper))).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.6)


def test_that_the_document_says_what_it_is_and_who_made_it():
    metadata = PdfReader(io.BytesIO(made("map_room"))).metadata
    assert metadata.title == plan_of_room("map_room").title
    assert metadata.creator == f"Few Watts {__version__}"


def test_that_fonts_are_embedded_and_no_picture_is_made_of_dots():
    reader = PdfReader(io.BytesIO(made("reading_room")))
    objects = [reader.get_object(number) for number in range(1, len(reader.xref[0]) + 1)]
    kinds = [one for one in objects if hasattr(one, "get")]
    fonts = [one for one in kinds if one.get("/Type") == "/FontDescriptor"]
    assert fonts and all("/FontFile2" in font or "/FontFile3" in font for font in fonts)
    assert not any(one.get("/Subtype") == "/Image" for one in kinds)


def test_that_the_text_can_be_searched_word_by_word():
    text = "\n".join(pages("map_room"))
    assert "\t" not in text
    assert not re.search("[\ufb00-\ufb06]", text)
    assert "amplifier" in text and "baffle" in text and "10 % point" in text


def test_that_plan_program_and_digest_are_named_at_the_end():
    last = pages("map_room")[-1]
    assert plan_digest(plan_of_room("map_room")) in last
    assert f"Few Watts {__version__}" in last and ON.isoformat() in last


def test_that_lengths_are_in_both_units_for_those_who_measure_in_feet():
    text = "\n".join(pages("tea_room", "letter", Preference.US))
    seat = cases_of("tea_room")[0].seats[0].outcome
    assert f"{figure(seat.distance_m, 2)} ({show(seat.distance_m, 'm', Preference.US)})" in text
    room = plan_of_room("tea_room").room
    assert f"{room.length_m:g} m ({show(room.length_m, 'm', Preference.US)})" in text
    assert f"({show(room.temperature_c, 'degC', Preference.US)})" in text
    assert " ft" not in "\n".join(pages("tea_room"))


def test_that_the_same_plan_makes_the_same_pages():
    again = pdf_bytes(cases_of("tea_room"), A4, Wishes(on=ON))
    assert pages_of(again) == pages("tea_room")
