"""What to heed beside headroom: hours by public guides, loads on the floor, high voltage, overload."""

from functools import partial

import pytest
from PySide6.QtWidgets import QApplication

from planner.desktop.care import CarePanel
from planner.desktop.care.words import directive_text, overload_text, valve_like
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.desktop.theme import DARK, colours_of
from planner.desktop.theme.palette import palette_of
from planner.headroom.answer import answer
from planner.headroom.hearing import Hearing
from planner.plan.amplifier import Amplifier
from planner.plan.units import Preference
from planner.report.cautions import FLOOR_CAUTION, HEARING_CAUTION, HIGH_VOLTAGE_CAUTION
from tests.desktop.charts.seat_samples import demo, edit, open_air_plan
from tests.desktop.freed import is_freed
from tests.plans import amplifier, changed, open_air, plan_of

AVERAGE = ("target", "average_db")
LOUDSPEAKER = ("candidates", 0, "loudspeaker")


def put_up(qtbot, document, size=(480, 320)):
    panel = CarePanel(document)
    qtbot.addWidget(panel)
    panel.resize(*size)
    panel.show()
    QApplication.processEvents()
    return panel


@pytest.fixture
def reading_room(qtbot):
    return put_up(qtbot, demo("reading_room"))


def held(average_db):
    """A plan in open air whose average is held, with pink noise of 12 dB of crest."""
    return plan_of(changed(open_air(), "target", {"average_db": average_db}))


def hearing(peak_dbc, *cautions):
    return Hearing(80.0, 24.0, 40.0, peak_dbc, cautions)


def test_that_every_seat_has_its_average_its_hours_and_its_peak(reading_room):
    seats = answer(reading_room._document.plan, 0, with_ways=False).seats
    rows = reading_room.seats.text()
    assert [row[0] for row in rows] == [seat.outcome.name for seat in seats]
    for row, seat in zip(rows, seats, strict=True):
        assert row[1] == f"{seat.outcome.average_dba:.1f} dB(A)"
        assert row[2:4] == [f"{seat.hearing.hours_per_day:.1f} h", f"{seat.hearing.hours_per_week:.1f} h"]
        assert row[4] == f"{seat.hearing.peak_dbc:.0f} dB(C)"
    assert [bar.value for bar in reading_room.levels.bars] == pytest.approx(
        [seat.outcome.average_dba for seat in seats]
    )
    assert [bar.strong for bar in reading_room.levels.bars] == [True, False, False]


# NIOSH: 85 dB(A) for 8 hours, half as long for every 3 dB; WHO/ITU H.870: 80 dB(A) for 40 hours a week.
def test_that_hours_follow_the_guides_by_hand(qtbot):
    panel = put_up(qtbot, PlanDocument(held(90.0)))
    dba = panel._document.outcome.seats[0].average_dba
    day, week = 8.0 * 2.0 ** ((85.0 - dba) / 3.0), 40.0 * 2.0 ** ((80.0 - dba) / 3.0)
    (row,) = panel.seats.text()
    assert row[2:4] == [f"{day:.1f} h", f"{week:.1f} h"]
    assert panel.headline.text() == f"At this loudness {day:.1f} h a day or {week:.1f} h a week"


def test_that_what_is_harmless_is_told_without_hours(qtbot):
    panel = put_up(qtbot, PlanDocument(held(60.0)))
    assert panel.headline.text() == "At this loudness no limit of hours"
    assert panel.seats.text()[0][2:4] == ["all day", "all week"]


# Directive 2003/10/EC, article 3: lower and upper action value and limit of 135, 137 and 140 dB(C).
@pytest.mark.parametrize(
    ("told", "words"),
    [
        (hearing(104.0), "Peaks of 104 dB(C) stay below what directive 2003/10/EC acts on"),
        (hearing(135.4, "eu_peak_lower_action"), "Peaks of 135 dB(C) reach the lower action value"),
        (hearing(138.0, "eu_peak_upper_action"), "Peaks of 138 dB(C) reach the upper action value"),
        (hearing(141.0, "who_week", "eu_peak_limit"), "Peaks of 141 dB(C) reach the limit"),
    ],
)
def test_that_peaks_are_told_beside_the_directive(told, words):
    text = directive_text(told)
    assert text.startswith(words) and text.endswith("action from 135 and 137, limit 140 dB(C).")


def test_that_guides_are_lines_through_the_levels_and_the_caution_stands_below(reading_room):
    assert [(guide.value, guide.words) for guide in reading_room.levels.guides] == [
        (80.0, "80: 40 h a week"),
        (85.0, "85: 8 h a day"),
    ]
    assert reading_room.hearing.text() == HEARING_CAUTION and "local rules decide" in HEARING_CAUTION
    assert "Front table 85.8 dB(A)" in reading_room.levels.accessibleDescription()


def test_that_loads_stand_beside_code_values_with_their_caution(reading_room):
    loads = answer(reading_room._document.plan, 0, with_ways=False).floor_loads
    bars = reading_room.loads.bars
    assert [bar.name for bar in bars] == [load.name for load in loads]
    assert [bar.value for bar in bars] == pytest.approx([load.load_kn_m2 for load in loads])
    assert bars[0].words == f"{loads[0].load_kn_m2:.2f} kN/m² ({loads[0].load_psf:.0f} psf)"
    # 85 kg on so small a foot is above what EN 1991-1-1 asks of dwellings, the amplifiers are not.
    assert [bar.token for bar in bars] == ["tight", "series 0", "series 0"]
    assert "exceeds common floor loads" in reading_room.headline.text()
    band, line = reading_room.loads.guides
    assert (band.value, band.end) == (1.5, 2.0) and line.value == pytest.approx(1.915, abs=1e-3)
    assert "IRC table R301.5: 40 psf" in reading_room.codes.text()
    assert reading_room.floor.text() == FLOOR_CAUTION


# By hand: 85 kg × 9.80665 on 0.6 × 0.5 m are 2.779 kN/m², on twice the area half of it.
def test_that_a_larger_foot_takes_the_warning_away_and_undo_brings_it_back(qtbot, reading_room):
    document = reading_room._document
    width, depth = document.plan.candidates[0].loudspeaker.footprint_m
    before = reading_room.loads.bars[0].value
    edit(qtbot, document, (*LOUDSPEAKER, "footprint_m"), (2.0 * width, depth))
    assert reading_room.loads.bars[0].value == pytest.approx(before / 2.0)
    assert "exceeds" not in reading_room.headline.text()
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert reading_room.loads.bars[0].value == before


def test_that_pounds_come_first_for_those_who_read_in_them(reading_room):
    settings().units = Preference.US
    load = answer(reading_room._document.plan, 0, with_ways=False).floor_loads[0]
    assert reading_room.loads.bars[0].words == f"{load.load_psf:.0f} psf ({load.load_kn_m2:.2f} kN/m²)"


def test_that_what_has_no_mass_is_named_and_nothing_is_drawn(qtbot):
    panel = put_up(qtbot, PlanDocument(open_air_plan()))
    assert not panel.loads.isVisible() and panel.codes.text() == panel.floor.text() == ""
    assert panel.unweighed.text() == "No mass or footprint in the plan for Loudspeaker, Triode."


@pytest.mark.parametrize(
    ("changes", "shown"),
    [
        pytest.param({}, True, id="an output transformer is the default"),
        pytest.param({"output": "direct", "overload": "soft"}, True, id="soft overload hints at valves"),
        pytest.param({"output": "direct", "overload": "hard"}, False, id="direct and hard"),
        pytest.param({"output": "direct"}, False, id="direct and nothing said"),
    ],
)
def test_that_high_voltage_is_warned_of_where_valves_may_be(qtbot, changes, shown):
    plan = plan_of(changed(open_air(), "candidates.0.amplifiers", [amplifier(**changes)]))
    panel = put_up(qtbot, PlanDocument(plan), (480, 900))
    assert panel.voltage.isVisible() is panel.voltage_title.isVisible() is shown
    assert (panel.voltage.text() == HIGH_VOLTAGE_CAUTION) is shown
    assert valve_like(plan.candidates[0].amplifiers[0]) is shown


def test_that_overload_is_told_in_words_with_the_ratings_of_one_tap():
    taps = [
        {"ohm": 4.0, "watts": 2.4, "distortion_pct": 3.0, "output_ohm": 1.0},
        {"ohm": 8.0, "watts": 3.4, "distortion_pct": 10.0, "output_ohm": 2.0},
        {"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 2.0},
    ]
    soft, hard, unsaid = (
        overload_text(Amplifier.model_validate(amplifier(taps=taps, overload=kind)))
        for kind in ("soft", "hard", None)
    )
    assert soft == (
        "Triode overloads softly: its distortion grows well before its peaks are cut off. "
        "Rated 2.5 W at 3 %, 3.4 W at 10 % into 8 Ω."
    )
    assert hard == "Triode overloads hard: clean up to its limit, beyond it the peaks are cut off."
    assert unsaid == "Triode: the plan does not say whether it overloads softly or hard."


def test_that_every_amplifier_is_told_of(reading_room):
    names = [one.name for one in reading_room._document.plan.candidates[0].amplifiers]
    lines = reading_room.overload.text().split("\n")
    assert len(lines) == len(names) == 2
    assert all(line.startswith(name) for line, name in zip(lines, names, strict=True))


def test_that_a_small_panel_scrolls_and_cuts_no_words(reading_room):
    bar = reading_room.area.verticalScrollBar()
    assert bar.maximum() > 0
    for label in (reading_room.peaks, reading_room.hearing, reading_room.floor, reading_room.voltage):
        assert label.height() >= label.heightForWidth(label.width())
        assert label.width() <= reading_room.area.viewport().width()


def test_that_another_seat_is_followed(reading_room):
    before = reading_room.headline.text()
    reading_room._document.choose(seat=1)
    assert reading_room.headline.text() != before
    assert [bar.strong for bar in reading_room.levels.bars] == [False, True, False]


def test_that_a_hidden_panel_waits_until_it_is_seen(qtbot):
    document = PlanDocument(held(90.0))
    panel = CarePanel(document)
    qtbot.addWidget(panel)
    edit(qtbot, document, AVERAGE, 96.0)
    assert panel.seats.text() == []
    panel.show()
    assert panel.headline.text().startswith("At this loudness")


def test_that_an_answer_out_of_date_is_dimmed_and_kept(qtbot, reading_room):
    before = reading_room.seats.text()
    edit(qtbot, reading_room._document, ("seats", 0, "x_m"), 90.0)
    assert not reading_room.inside.isEnabled() and reading_room.seats.text() == before
    edit(qtbot, reading_room._document, ("seats", 0, "x_m"), 3.0)
    assert reading_room.inside.isEnabled()


def test_that_it_is_drawn_in_the_colours_of_the_night(reading_room):
    reading_room.setPalette(palette_of(DARK))
    assert colours_of(reading_room.palette()) is DARK
    assert reading_room.grab().toImage().pixelColor(20, 6).name() == DARK.surface.lower()


def test_that_a_closed_panel_is_freed(qapp):
    document = demo("reading_room")
    assert is_freed(partial(CarePanel, document))
    document.solved.emit()
    settings().units_changed.emit()
