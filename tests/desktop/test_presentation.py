"""The presentation: a buyer's way through it by keys, sliders that harm nothing, the plan's own figures."""

import gc
import statistics
import time
import weakref
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QAccessible, QFontInfo, QImage, QPainter, QWheelEvent
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.presentation import Presentation
from planner.desktop.presentation.case import Case
from planner.desktop.presentation.page import Mark, Scale
from planner.desktop.presentation.pages import PAGES
from planner.desktop.presentation.skyline import heights
from planner.desktop.presentation.slider import BigSlider
from planner.desktop.settings import settings
from planner.desktop.theme import DARK, LIGHT, Scheme, apply, base_font
from planner.headroom import compute
from planner.plan import load, put
from planner.plan.units import Preference
from planner.report.cautions import HEARING_CAUTION
from planner.report.words import watts_text
from planner.resources import demo_rooms
from tests.plans import amplifier, candidate, changed, in_room, open_air, plan_of

LOUDNESS, MUSIC, WATTS, QUIET, SAFETY = range(5)
RESIDUAL = {"hum_mv": 0.5, "mains_hz": 50.0, "hiss_mv": 0.1, "weighting": "Z"}
SIZES = [(1280, 800), (1920, 1080)]
FILES = sorted(Path(str(demo_rooms())).glob("*.json"))
# Words of the trade that a buyer who is no engineer cannot be asked to know.
JARGON = ("headroom", "crest", "SPL", "RMS", "rms", "re 20", "µPa", "impedance", "sensitivity", "residual")


@pytest.fixture
def quiet_document(qapp):
    """A room whose noise is known, with an amplifier whose hum and hiss are."""
    noisy = candidate(amplifiers=[amplifier(residual=RESIDUAL)])
    return PlanDocument(plan_of(changed(in_room(candidates=[noisy]), "room.noise", {"nc": 20.0})))


@pytest.fixture
def show(qtbot):
    """Show a presentation of a document in a window of a given size, and close it in the end."""
    shown = []

    def begin(document, size=SIZES[0], page=0):
        window = Presentation(document)
        shown.append(window)
        window.begin()
        window.showNormal()
        window.resize(*size)
        qtbot.waitUntil(window.isActiveWindow)
        window.turn_to(page)
        QCoreApplication.processEvents()
        return window

    yield begin
    for window in shown:
        window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        window.close()
        window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def undressed(qapp):
    """Give the program its own theme and text size back in the end."""
    yield qapp
    apply(qapp, Scheme.SYSTEM)
    qapp.setFont(base_font())


def press(qtbot, key, times=1):
    """Press a key where the keyboard is, as a person does."""
    for _ in range(times):
        qtbot.keyClick(QApplication.focusWidget(), key)


def move_to(window, value):
    """Move the slider to a value, and let the answer follow."""
    window.slider.setValue(window.slider.measure.position_of(value))
    QCoreApplication.processEvents()


def texts(window):
    """Everything that is said on a page, in sight or to a screen reader."""
    said = [label.text() for label in window.findChildren(QLabel) if label is not window.keys]
    marks = window.slider.measure.marks if window.slider.measure else ()
    words = [mark.words for mark in marks]
    return " ".join([*said, *words, window.picture.accessibleDescription(), window.slider.accessibleName()])


def card(picture, background):
    """The card as an image of numbers (height, width, 3) on a ground that is no colour of the theme."""
    image = QImage(picture.size(), QImage.Format.Format_RGB888)
    image.fill(background)
    picture.render(image)
    lines = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return lines[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).copy()


# A first-time buyer's way through it, by keys alone.


def test_that_a_buyer_reads_all_five_questions_by_pressing_enter_and_is_out_at_the_end(qtbot, document, show):
    window = show(document)
    seen = []
    window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    while window.isVisible():
        seen.append(window.question.text())
        press(qtbot, Qt.Key.Key_Return)
    assert seen == [
        "How loud will it play for you?",
        "What does the music ask?",
        "Why so few watts?",
        "How quiet is it?",
        "Is it safe?",
    ]


@pytest.mark.parametrize(
    ("onward", "back"),
    [
        pytest.param(Qt.Key.Key_Right, Qt.Key.Key_Left, id="arrow keys"),
        pytest.param(Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, id="page keys"),
        pytest.param(Qt.Key.Key_Down, Qt.Key.Key_Up, id="arrows up and down"),
    ],
)
def test_that_keys_turn_the_pages_and_stop_at_both_ends(qtbot, document, show, onward, back):
    window = show(document)
    press(qtbot, onward, 7)
    assert window.number == SAFETY
    press(qtbot, back, 3)
    assert window.number == MUSIC
    press(qtbot, back, 3)
    assert window.number == LOUDNESS


def test_that_home_and_end_go_to_the_first_and_the_last_question(qtbot, document, show):
    window = show(document)
    press(qtbot, Qt.Key.Key_End)
    assert window.number == SAFETY
    press(qtbot, Qt.Key.Key_Home)
    assert window.number == LOUDNESS


def test_that_tab_reaches_the_slider_and_every_button_that_can_be_pressed(qtbot, document, show):
    window = show(document, page=WATTS)
    move_to(window, 90.0)
    reached = set()
    for _ in range(20):
        reached.add(QApplication.focusWidget())
        press(qtbot, Qt.Key.Key_Tab)
    dot = window.dots.dots[WATTS]
    assert reached == {window.slider, window.reset, window.back, dot, window.onward, window.leave}


def test_that_arrows_move_the_slider_where_it_has_the_keyboard_and_page_keys_still_turn(
    qtbot, document, show
):
    window = show(document)
    window.onward.setFocus()
    while QApplication.focusWidget() is not window.slider:
        press(qtbot, Qt.Key.Key_Tab)
    before = window.slider.value()
    press(qtbot, Qt.Key.Key_Right, 3)
    assert (window.number, window.slider.value()) == (LOUDNESS, before + 3)
    assert "move the slider" in window.keys.text()
    press(qtbot, Qt.Key.Key_PageDown)
    assert window.number == MUSIC
    assert QApplication.focusWidget() is window.slider


def test_that_the_keyboard_never_gets_lost_on_a_button_that_can_no_longer_be_pressed(qtbot, document, show):
    window = show(document, page=MUSIC)
    window.back.setFocus()
    press(qtbot, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is window.onward
    window.slider.setFocus()
    press(qtbot, Qt.Key.Key_Left)
    QCoreApplication.processEvents()
    window.reset.setFocus()
    press(qtbot, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is window.slider


def test_that_escape_leaves_and_f11_fills_the_screen_and_gives_it_back(qtbot, document, show):
    window = show(document)
    window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    press(qtbot, Qt.Key.Key_F11)
    assert window.isFullScreen()
    press(qtbot, Qt.Key.Key_F11)
    assert not window.isFullScreen()
    press(qtbot, Qt.Key.Key_Escape)
    assert not window.isVisible()


def test_that_a_dot_shows_its_question_and_the_arrows_go_on_from_it(qtbot, document, show):
    window = show(document)
    qtbot.mouseClick(window.dots.dots[QUIET], Qt.MouseButton.LeftButton)
    assert window.number == QUIET
    press(qtbot, Qt.Key.Key_Right)
    assert window.number == SAFETY
    assert QApplication.focusWidget() is window.dots.dots[SAFETY]
    assert [dot.isChecked() for dot in window.dots.dots] == [False, False, False, False, True]


# Nothing there can damage the plan.


def test_that_no_slider_anywhere_touches_the_plan_its_history_or_its_outcomes(quiet_document, show):
    plan, outcomes = quiet_document.plan, quiet_document.outcomes
    window = show(quiet_document)
    for number in range(len(PAGES)):
        window.turn_to(number)
        for position in (0, window.slider.maximum()):
            window.slider.setValue(position)
            QCoreApplication.processEvents()
    assert quiet_document.plan is plan
    assert quiet_document.outcomes is outcomes
    assert quiet_document.history.count() == 0


@pytest.mark.parametrize("page", range(5))
def test_that_back_to_the_plan_says_again_what_the_page_said_first(qtbot, quiet_document, show, page):
    window = show(quiet_document, page=page)
    before = texts(window)
    assert not window.reset.isEnabled()
    window.slider.setValue(0)
    QCoreApplication.processEvents()
    assert texts(window) != before
    qtbot.mouseClick(window.reset, Qt.MouseButton.LeftButton)
    assert texts(window) == before
    assert not window.reset.isEnabled()


def test_that_a_page_remembers_what_was_tried_on_it_until_it_is_taken_back(document, show):
    window = show(document)
    move_to(window, 112.0)
    window.turn_to(SAFETY)
    window.turn_to(LOUDNESS)
    assert window.value.text() == "112 dB"


# The figures are those of the plan, computed anew.


def test_that_a_louder_wish_asks_what_a_plan_with_that_target_asks(document, show):
    window = show(document)
    move_to(window, 106.0)
    seat = compute(put(document.plan, ("target", "peak_db"), 106.0)).seats[0]
    assert watts_text(seat.watts_needed).removesuffix(" W") in window.sentence.text()
    assert f"{seat.loudest_peak_db:.1f} dB" in window.sentence.text()
    verdict = {"clears": "Clears", "tight": "Tight", "short": "Short"}[seat.verdict]
    assert f"Verdict: {verdict}" in window.picture.accessibleDescription()


def test_that_livelier_music_at_the_same_average_asks_more_watts(document, show):
    window = show(document, page=MUSIC)
    average_db = document.outcome.seats[0].average_db
    move_to(window, 18.0)
    plan = put(document.plan, ("target",), {"average_db": average_db})
    seat = compute(put(plan, ("programme", "crest_db"), 18.0)).seats[0]
    assert watts_text(seat.watts_needed).removesuffix(" W") in window.sentence.text()
    # By hand: 18 dB are 10^1.8 = 63 times the power.
    assert "63 times the power" in window.sentence.text()


def test_that_watts_halvings_and_heat_are_those_worked_by_hand(qapp, show):
    # By hand: 100 dB of peaks at 4 m from 100 dB a watt are 12.04 dB less 3.01 dB for a peak over its sine:
    # 9.03 dB over a watt, 8.0 W, and up to 0.2 dB for the air. One channel in class A draws four times that.
    document = PlanDocument(plan_of(open_air()))
    window = show(document, page=WATTS)
    watts = document.outcome.seats[0].watts_needed
    assert watts == pytest.approx(8.0, rel=0.047)
    said = window.picture.accessibleDescription()
    assert f"Chosen: 100 dB, {watts:.1f} watts, {4 * watts:.1f} watts of heat" in said
    # 8 dB up leave 10^-0.8 of it, 16 %; 16 dB down take 10^1.6 times as much.
    move_to(window, 108.0)
    assert f"108 dB, {watts * 10**-0.8:.1f} watts" in window.picture.accessibleDescription()
    assert f"84 dB: {watts * 10**1.6:.0f} watts" in window.picture.accessibleDescription()
    assert "16 % as much" in window.sentence.text()


def test_that_each_stand_and_each_amplifier_adds_to_the_heat(document, show):
    # The second candidate has an amplifier a section, and two stands: four channels, each drawing four times
    # its watts (25 %, common practice, no published source).
    document.choose(candidate=1)
    window = show(document, page=WATTS)
    asked = document.outcome.seats[0].amplifiers
    heat = 4.0 * 2.0 * sum(one.watts_needed for one in asked)
    assert len(asked) == 2
    assert f"{watts_text(heat).removesuffix(' W')} watts of heat" in window.picture.accessibleDescription()


def test_that_an_amplifier_made_noisy_enough_is_heard_and_made_quiet_is_not(quiet_document, show):
    window = show(quiet_document, page=QUIET)
    move_to(window, 20.0)
    assert "you will hear the amplifier" in window.sentence.text()
    assert "rises above the hush" in window.picture.accessibleDescription()
    loud = window.picture.accessibleDescription()
    move_to(window, -20.0)
    assert "you will not hear the amplifier" in window.sentence.text()
    assert "stays hidden" in window.picture.accessibleDescription()
    # Hum and hiss are 40 dB apart at the two ends, and so is what arrives of them.
    noise = [
        float(text.split("where you sit: ")[1].split(" dB")[0].replace("−", "-"))
        for text in (loud, window.picture.accessibleDescription())
    ]
    assert noise[0] - noise[1] == pytest.approx(40.0, abs=0.11)


def test_that_a_plan_without_the_amplifiers_noise_says_so_and_promises_nothing(document, show):
    window = show(document, page=QUIET)
    assert "does not say how much this amplifier hums and hisses" in window.sentence.text()
    assert not window.slider.isEnabled()
    assert "does not say how quiet the room is" in window.note.text()


@pytest.mark.parametrize(
    ("level_dba", "words"),
    [
        # NIOSH 98-126, table 1-1.
        pytest.param(85.0, "8 hours a day (NIOSH)", id="85 dBA"),
        pytest.param(88.0, "4 hours a day (NIOSH)", id="88 dBA"),
        pytest.param(100.0, "15 minutes a day (NIOSH)", id="100 dBA"),
        # WHO / ITU-T H.870, adults: 80 dBA for 40 hours a week, half for each 3 dB.
        pytest.param(80.0, "40 hours a week (WHO/ITU)", id="80 dBA"),
        pytest.param(83.0, "20 hours a week (WHO/ITU)", id="83 dBA"),
    ],
)
def test_that_the_hours_are_those_of_the_published_guides(document, show, level_dba, words):
    window = show(document, page=SAFETY)
    move_to(window, level_dba)
    assert words in window.sentence.text()
    assert HEARING_CAUTION in window.note.text()


def test_that_safety_says_where_the_system_cannot_play_that_loud(document, show):
    window = show(document, page=SAFETY)
    assert "without strain" not in window.sentence.text()
    move_to(window, 105.0)
    assert document.outcome.seats[0].headroom_db < 105.0 - document.outcome.seats[0].average_dba
    assert "does not play that loud without strain" in window.sentence.text()


@pytest.mark.parametrize("crest_db", [6.0, 10.0, 14.0, 17.5, 20.0])
def test_that_the_bars_of_the_music_have_the_average_and_the_peak_they_stand_for(crest_db):
    bars = heights(crest_db)
    assert 10.0 * np.log10(np.mean(bars**2)) == pytest.approx(0.0, abs=0.05)
    assert 20.0 * np.log10(bars.max()) == pytest.approx(crest_db)


# It follows what is looked at.


def test_that_it_shows_the_candidate_and_the_seat_that_are_looked_at(document, show):
    window = show(document)
    document.choose(candidate=1, seat=1)
    QCoreApplication.processEvents()
    seat = document.outcomes[1].seats[1]
    assert window.who.text() == f"Small boxes with two amplifiers  ·  Desk, {seat.distance_m:.1f} m away"
    assert f"{seat.loudest_peak_db:.1f} dB" in window.sentence.text()


def test_that_it_follows_an_edit_and_keeps_the_last_answer_while_there_is_none(qtbot, document, show):
    window = show(document)
    with qtbot.waitSignal(document.solved):
        document.edit(("target", "peak_db"), 97.0, "Change target")
    QCoreApplication.processEvents()
    assert window.value.text() == "97 dB"
    with qtbot.waitSignal(document.solved):
        document.edit(("seats", 0, "x_m"), 60.0, "Leave the room")
    QCoreApplication.processEvents()
    assert document.stale
    assert window.value.text() == "97 dB"
    assert window.slider.isEnabled()


def test_that_a_plan_without_any_answer_says_so_on_every_page(qapp, show):
    document = PlanDocument(plan_of(changed(in_room(), "seats.0.x_m", 60.0)))
    window = show(document)
    for number in range(len(PAGES)):
        window.turn_to(number)
        assert "no answer yet" in window.sentence.text()
        assert not window.slider.isEnabled()


def test_that_distances_are_in_feet_for_whom_prefers_them(document, show):
    window = show(document)
    assert "m away" in window.who.text()
    settings().units = Preference.US
    QCoreApplication.processEvents()
    feet = document.outcome.seats[0].distance_m / 0.3048
    assert f"{feet:.0f} ft away" in window.who.text()
    assert "3.3 ft" in texts(window)


# Words.


@pytest.mark.parametrize("file", FILES, ids=[file.stem for file in FILES])
def test_that_no_page_of_any_sample_room_speaks_in_jargon(qapp, file):
    plan = load(file)
    for candidate_index in range(len(plan.candidates)):
        case = Case(plan, candidate_index, 0)
        for page in PAGES:
            scale = page.scale(case, Preference.METRIC)
            for value in (None,) if scale is None else (None, scale.low, scale.high):
                answer = page.answer(case, value, Preference.METRIC)
                marks = " ".join(mark.words for mark in scale.marks) if scale is not None else ""
                told = (page.question, page.tries, page.note(case, Preference.METRIC), marks)
                said = " ".join([*told, answer.value, answer.sentence, answer.picture])
                assert [word for word in JARGON if word in said] == []
                assert "{" not in said
                assert all(len(line) <= 110 for line in answer.sentence.split("\n"))


def test_that_whatever_takes_the_keyboard_and_the_picture_have_names(quiet_document, show):
    window = show(quiet_document)
    for number in range(len(PAGES)):
        window.turn_to(number)
        assert window.slider.accessibleName() == PAGES[number].tries
        assert window.slider.accessibleDescription() == window.value.text()
        assert window.picture.accessibleName() == PAGES[number].question
        assert len(window.picture.accessibleDescription()) > 40
        assert window.windowTitle().startswith(PAGES[number].question)
    assert [dot.accessibleName() for dot in window.dots.dots] == [page.question for page in PAGES]


# How it looks.


@pytest.mark.parametrize("size", SIZES, ids=["1280 × 800", "1920 × 1080"])
@pytest.mark.parametrize("text", [1.0, 2.0], ids=["text as it is", "text twice as large"])
@pytest.mark.parametrize(("scheme", "colours"), [(Scheme.LIGHT, LIGHT), (Scheme.DARK, DARK)])
def test_that_nothing_is_cut_off_at_any_size(undressed, quiet_document, show, size, text, scheme, colours):
    apply(undressed, scheme)
    font = base_font()
    font.setPointSizeF(font.pointSizeF() * text)
    undressed.setFont(font)
    window = show(quiet_document, size)
    for number in range(len(PAGES)):
        window.turn_to(number)
        QCoreApplication.processEvents()
        assert window.size().toTuple() == size
        for label in (one for one in window.findChildren(QLabel) if one.text()):
            needed = label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
            assert label.height() >= needed, label.text()
            assert label.wordWrap() or label.width() >= label.sizeHint().width(), label.text()
            assert QFontInfo(label.font()).pointSizeF() >= QFontInfo(font).pointSizeF()
        painted = card(window.picture, colours.pick("clears"))
        edge = np.concatenate(
            [
                painted[30:-30, 2:6].reshape(-1, 3),
                painted[2:6, 30:-30].reshape(-1, 3),
                painted[30:-30, -6:-2].reshape(-1, 3),
                painted[-6:-2, 30:-30].reshape(-1, 3),
            ]
        )
        surface = colours.pick("surface")
        assert np.all(edge == (surface.red(), surface.green(), surface.blue()))
        assert np.any(painted[30:-30, 30:-30] != painted[30, 2])


def test_that_type_grows_with_the_window(document, show):
    window = show(document)
    small = window.question.font().pointSizeF()
    window.resize(1920, 1080)
    assert window.question.font().pointSizeF() == pytest.approx(small * 1080.0 / 800.0, rel=0.01)


def test_that_the_picture_changes_with_every_step_of_the_slider(quiet_document, show):
    window = show(quiet_document)
    for number in range(len(PAGES)):
        window.turn_to(number)
        first = card(window.picture, LIGHT.pick("clears"))
        window.slider.triggerAction(window.slider.SliderAction.SliderSingleStepAdd)
        QCoreApplication.processEvents()
        assert np.any(card(window.picture, LIGHT.pick("clears")) != first), PAGES[number].question


def test_that_names_under_a_slider_never_touch(qapp, show, document):
    crowded = Scale(0.0, 100.0, 1.0, 50.0, tuple(Mark(value, "a long name") for value in range(0, 101, 4)))
    slider = BigSlider(show(document).look())
    slider.resize(700, 60)
    slider.show_scale(crowded, 50.0)
    boxes = []
    for x in (slider.x_of(mark.value) for mark in crowded.marks):
        box = slider._free_box(slider.look.box(QPointF(x, 30.0), "a long name", "small", 0.5, 0.0), x, boxes)
        boxes += [box] if box is not None else []
    assert 3 <= len(boxes) < len(crowded.marks)
    assert all(QRectF(0.0, 0.0, 700.0, 60.0).contains(box) for box in boxes)
    assert not any(one.intersects(other) for one in boxes for other in boxes if one is not other)


# The slider.


def test_that_a_press_on_the_groove_takes_the_handle_there_and_a_drag_goes_on(qtbot, document, show):
    window = show(document)
    slider = window.slider
    middle = slider.height() // 3
    qtbot.mousePress(slider, Qt.MouseButton.LeftButton, pos=QPoint(round(slider.x_of(90.0)), middle))
    assert slider.measure.value_at(slider.value()) == 90.0
    qtbot.mouseMove(slider, QPoint(round(slider.x_of(115.0)), middle))
    qtbot.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=QPoint(round(slider.x_of(115.0)), middle))
    QCoreApplication.processEvents()
    assert window.value.text() == "115 dB"


def test_that_a_wheel_moves_the_slider_only_where_it_has_the_keyboard(document, show):
    window = show(document)
    slider = window.slider
    before = slider.value()

    def turn_wheel():
        place = QPointF(slider.rect().center())
        event = QWheelEvent(
            place,
            slider.mapToGlobal(place),
            QPoint(),
            QPoint(0, 120),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QCoreApplication.sendEvent(slider, event)

    turn_wheel()
    assert slider.value() == before
    slider.setFocus()
    turn_wheel()
    assert slider.value() > before


def test_that_the_plans_own_value_comes_back_to_the_last_digit():
    scale = Scale(65.0, 105.0, 1.0, 88.3127)
    assert scale.value_at(scale.position_of(88.3127)) == 88.3127
    assert scale.value_at(scale.position_of(90.0)) == 90.0
    assert scale.value_at(0) == 65.0
    assert scale.value_at(scale.last) == 105.0


def test_that_many_moves_in_one_turn_are_answered_once(document, show, monkeypatch):
    window = show(document)
    asked = []
    answer = type(PAGES[LOUDNESS]).answer
    monkeypatch.setattr(
        type(PAGES[LOUDNESS]), "answer", lambda *words: asked.append(words[2]) or answer(*words)
    )
    for position in range(30):
        window.slider.setValue(position)
    QCoreApplication.processEvents()
    assert asked == [window.slider.measure.value_at(29)]


def test_that_a_drag_is_answered_and_painted_within_a_frame(document, show):
    window = show(document, SIZES[1])
    for number in (LOUDNESS, MUSIC, WATTS, SAFETY):
        window.turn_to(number)
        QCoreApplication.processEvents()
        frames_s = []
        for position in range(0, window.slider.maximum(), max(1, window.slider.maximum() // 25)):
            began = time.perf_counter()
            window.slider.setValue(position)
            QCoreApplication.processEvents()
            window.picture.repaint()
            frames_s.append(time.perf_counter() - began)
        assert statistics.median(frames_s) < 0.033


def test_that_a_closed_presentation_is_freed_while_the_window_it_came_from_lives_on(qtbot, document):
    main = QWidget()
    qtbot.addWidget(main)
    window = Presentation(document, main)
    window.begin()
    for number in range(len(PAGES)):
        window.turn_to(number)
    gone = weakref.ref(window)
    window.close()
    del window
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    document.choose(candidate=1)
    with qtbot.waitSignal(document.solved):
        document.edit(("target", "peak_db"), 99.0, "Change target")
    assert gone() is None
    assert main.findChildren(QWidget) == []


def test_that_a_screen_reader_is_told_what_the_picture_now_says(document, show, monkeypatch):
    window = show(document)
    told = []
    monkeypatch.setattr(QAccessible, "isActive", lambda: True)
    monkeypatch.setattr(QAccessible, "updateAccessibility", lambda event: told.append(event.message()))
    move_to(window, 107.0)
    assert told == [window.sentence.text()]
    assert "107 dB" in told[0]


def test_that_every_picture_can_be_painted_in_a_narrow_space(quiet_document, show):
    window = show(quiet_document)
    case = Case(quiet_document.plan, 0, 0)
    for page in PAGES:
        answer = page.answer(case, None, Preference.METRIC)
        image = QImage(120, 60, QImage.Format.Format_RGB888)
        image.fill(Qt.GlobalColor.white)
        with QPainter(image) as painter:
            answer.paint(painter, QRectF(0.0, 0.0, 120.0, 60.0), window.look())
