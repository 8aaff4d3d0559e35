"""The verdict band and the strip of findings: what they say, and how they go grey."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QPalette, QWheelEvent
from PySide6.QtWidgets import QApplication

from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.desktop.theme import DARK, LIGHT, Scheme, apply, chosen_scheme, colours_of
from planner.desktop.verdict import VerdictBand
from planner.desktop.window.cautions import caution_texts
from planner.desktop.window.chooser import Chooser
from planner.desktop.window.findings import FindingsStrip, finding_text, place_text
from planner.plan import Finding, put
from planner.plan.units import Preference
from planner.report.words import verdict_sentence, watts_text

LENGTH = ("room", "length_m")
PEAK = ("target", "peak_db")


@pytest.fixture
def band(qtbot, document):
    made = VerdictBand(document)
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.fixture
def strip(qtbot, document):
    made = FindingsStrip(document)
    qtbot.addWidget(made)
    return made


@pytest.fixture
def light(qapp):
    before = chosen_scheme(qapp)
    apply(qapp, Scheme.LIGHT)
    yield
    apply(qapp, before)


def ink(label):
    return label.palette().color(QPalette.ColorRole.WindowText).name()


def test_that_the_band_says_the_sentence_and_the_figures_of_the_outcome(band, document):
    seat = document.outcome.seats[0]
    assert band.sentence.text() == verdict_sentence(document.outcome, seat)
    assert band.word.text() == {"clears": "Clears", "tight": "Tight", "short": "Short"}[seat.verdict]
    needed, rated = watts_text(seat.watts_needed), watts_text(seat.watts_rated)
    assert band.figures["watts"].value.text() == f"{needed} of {rated}"
    assert band.figures["headroom"].value.text() == f"{seat.headroom_db:+.1f} dB"
    assert band.figures["peak"].value.text() == f"{seat.loudest_peak_db:.1f} dB"
    assert "Small triode" in band.figures["limit"].value.text()


# A louder target costs headroom dB for dB: 7 dB to spare become 3 dB too little.
def test_that_the_verdict_follows_the_target_and_undo_brings_it_back(qtbot, band, document):
    before = band.sentence.text()
    headroom_db = document.outcome.seats[0].headroom_db
    assert headroom_db > 3.0
    with qtbot.waitSignal(document.solved):
        document.edit(PEAK, 100.0 + headroom_db + 3.0, "Change peak level")
    assert band.word.text() == "Short"
    assert band.figures["headroom"].value.text() == "−3.0 dB"
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert band.sentence.text() == before


def test_that_another_candidate_and_seat_are_looked_at_by_their_boxes(qtbot, band, document):
    band.candidates.setFocus()
    qtbot.keyClick(band.candidates, Qt.Key.Key_Down)
    assert document.candidate == 1
    qtbot.keyClick(band.seats, Qt.Key.Key_Down)
    assert document.seat == 1
    assert band.sentence.text() == verdict_sentence(document.outcome, document.outcome.seats[1])
    assert not document.history.canUndo()


def test_that_the_boxes_follow_names_and_choices_made_elsewhere(band, document):
    document.edit(("seats", 0, "name"), "Sofa by the window", "Rename")
    assert band.seats.itemText(0) == "Sofa by the window"
    document.choose(seat=1)
    assert band.seats.currentIndex() == 1


def test_that_each_candidate_carries_the_word_of_its_own_verdict(band, document):
    role = Qt.ItemDataRole.AccessibleDescriptionRole
    words = [band.candidates.itemData(index, role) for index in range(2)]
    expected = {"clears": "Clears", "tight": "Tight", "short": "Short"}
    assert words == [expected[outcome.verdict] for outcome in document.outcomes]


def test_that_the_wheel_turns_a_box_only_while_it_has_the_focus(qtbot):
    box = Chooser("Candidate", "")
    qtbot.addWidget(box)
    box.offer(["one", "two"], 0)
    box.show()
    turn = QWheelEvent(
        QPointF(5.0, 5.0),
        QPointF(5.0, 5.0),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    box.clearFocus()
    QApplication.sendEvent(box, turn)
    assert box.currentIndex() == 0
    box.activateWindow()
    box.setFocus()
    qtbot.waitUntil(box.hasFocus)
    QApplication.sendEvent(box, turn)
    assert box.currentIndex() == 1


def test_that_the_last_answer_stays_greyed_while_the_plan_contradicts_itself(qtbot, light, band, document):
    answer = band.figures["watts"].value.text()
    assert ink(band.sentence) == LIGHT.ink.lower()
    with qtbot.waitSignal(document.solved):
        document.edit(LENGTH, 3.0, "Change length")
    assert band.word.text() == "Out of date"
    assert band.figures["watts"].value.text() == answer
    assert {ink(band.word), ink(band.sentence), ink(band.figures["peak"].value)} == {LIGHT.muted.lower()}
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert band.word.text() == "Clears"
    assert ink(band.word) == LIGHT.clears.lower()


def test_that_colours_follow_the_theme(qapp, light, band):
    assert ink(band.word) == LIGHT.clears.lower()
    apply(qapp, Scheme.DARK)
    assert colours_of(band.palette()) is DARK
    assert ink(band.word) == DARK.clears.lower()
    assert ink(band.sentence) == DARK.ink.lower()


def test_that_cautions_are_counted_and_told_when_asked_for(qtbot, band, document):
    outcome = document.outcome
    texts = caution_texts(outcome, outcome.seats[0])
    assert len(texts) >= 2
    assert any("one side" in text for text in texts)
    assert band.cautions.button.text().replace("&", "") == f"{len(texts)} cautions"
    assert not band.cautions.list.isVisible()
    qtbot.mouseClick(band.cautions.button, Qt.MouseButton.LeftButton)
    assert band.cautions.list.isVisible()
    assert band.cautions.list.text().splitlines() == texts
    qtbot.mouseClick(band.cautions.button, Qt.MouseButton.LeftButton)
    assert not band.cautions.list.isVisible()


# With a stand alone there is no side; open air has no surfaces whose absorption is held flat.
def test_that_without_cautions_there_is_nothing_to_unfold(qtbot, band, document):
    band.cautions.button.click()
    with qtbot.waitSignal(document.solved):
        plan = put(put(document.plan, ("room",), None), ("stands",), document.plan.stands[:1])
        document.replace(plan, "Go out")
    assert not band.cautions.button.isVisible() and not band.cautions.list.isVisible()


def test_that_a_preview_is_asked_for_in_its_own_words_and_leaves_the_plan_alone(qtbot, band, document):
    louder = put(document.plan, PEAK, 103.0)
    with qtbot.waitSignal(document.solved):
        document.preview(louder, "Peaks of 103 dB")
    assert "103 dB" in band.asked.text()
    assert "103.0 dB" in band.sentence.text()
    with qtbot.waitSignal(document.solved):
        document.preview(None)
    assert "100 dB" in band.asked.text()


def test_that_a_plan_that_never_had_an_answer_says_so(qtbot, sample_plan):
    document = PlanDocument(put(sample_plan, LENGTH, 3.0))
    band = VerdictBand(document)
    qtbot.addWidget(band)
    assert band.word.text() == "No answer yet"
    assert band.figures["peak"].value.text() == "–"


def test_that_the_band_keeps_its_height_while_figures_grow_and_shrink(qtbot, band, document):
    band.resize(900, band.sizeHint().height())
    heights = set()
    for peak_db in (60.0, 99.5, 108.0, 139.0):
        with qtbot.waitSignal(document.solved):
            document.edit(PEAK, peak_db, "Change peak level")
        heights.add(band.heightForWidth(900))
    assert len(heights) == 1


def test_that_the_strip_lists_each_finding_in_words_and_goes_away_with_them(qtbot, strip, document):
    assert strip.isHidden()
    with qtbot.waitSignal(document.solved):
        document.edit(LENGTH, 3.0, "Change length")
    assert not strip.isHidden()
    lines = strip.list.text().splitlines()
    assert len(lines) == len(document.findings) == 2
    assert lines[0] == "Seat “Sofa”, x: expected a place in the room, 0 to 3 m; found 4.20 m"
    assert "2 findings" in strip.heading.text()
    # 3 m are 9 ft 10.1 in and 4.2 m are 13 ft 9.4 in, at 0.3048 m a foot.
    settings().units = Preference.US
    assert strip.list.text().splitlines()[0] == (
        "Seat “Sofa”, x: expected a place in the room, 0 to 9 ft 10.1 in; found 13 ft 9.4 in"
    )
    settings().units = Preference.METRIC
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert strip.isHidden()


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("seats[1].z_m", "Seat “Desk”, z"),
        ("room.surfaces.floor", "Room, Surfaces, Floor"),
        (
            "candidates[1].loudspeaker.sections[0].low_hz",
            "Candidate “Small boxes with two amplifiers”, Loudspeaker, Section “Cone”, Low edge",
        ),
        (
            "candidates[0].amplifiers[0].taps[2].watts",
            "Candidate “Horns with 2.5 W”, Amplifier “Small triode”, Tap 3, Rated power",
        ),
        ("seats", "Seats"),
        ("seats[9].x_m", "seats[9].x_m"),
        ("the file", "the file"),
    ],
)
def test_that_a_key_path_is_told_as_a_person_knows_the_thing(sample_plan, path, words):
    assert place_text(path, sample_plan) == words


def test_that_a_finding_without_a_value_ends_after_what_is_expected(sample_plan):
    assert finding_text(Finding("stands", "", "a stand")) == "stands: expected a stand"


def test_that_a_document_begun_anew_forgets_the_answer_and_the_history_of_the_old(qtbot, band, document):
    document.edit(PEAK, 99.0, "Change peak level")
    document.choose(candidate=1, seat=1)
    document.reset(put(document.plan, LENGTH, 3.0))
    assert document.outcome is None
    assert band.word.text() == "No answer yet"
    assert not document.history.canUndo()
    assert (document.candidate, document.seat) == (0, 0)
