"""The editors of a candidate by the user's acts: loudspeaker, sections, impedances, amplifiers, cable."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planner.desktop.editors import EditorColumn
from planner.desktop.editors.amplifiers import AmplifierCard
from planner.desktop.editors.sections import SectionsEditor
from planner.desktop.fields import ChoiceField, NumberField
from tests.desktop.editing import button, choose, field_at, fold, notes, open_all, type_into

SYSTEM = ("candidates", 0)
LOUDSPEAKER = (*SYSTEM, "loudspeaker")
SECTIONS = (*LOUDSPEAKER, "sections")


@pytest.fixture
def column(qtbot, document):
    column = EditorColumn(document)
    qtbot.addWidget(column)
    open_all(column)
    with qtbot.waitActive(column):
        column.show()
        column.activateWindow()
    return column


@pytest.fixture
def sections(column):
    return column.findChild(SectionsEditor)


def cards(column):
    return fold(column, "Amplifiers").body.rows.rows


def taps(card):
    return [[field.text() for field in row.fields] for row in card.taps.rows.rows]


def test_that_another_candidate_is_shown_when_it_is_looked_at(qtbot, column, document):
    document.choose(candidate=1)
    assert field_at(column, "candidates", 1, "name").text() == "Small boxes with two amplifiers"
    assert [card.name.text() for card in cards(column)] == ["Bass amplifier", "Treble amplifier"]
    width = field_at(column, "candidates", 1, "loudspeaker", "baffle_width_m", kind=NumberField)
    assert width.text() == "0.22 m"
    document.choose(candidate=0)
    assert [card.name.text() for card in cards(column)] == ["Small triode"]


def test_that_a_candidate_is_chosen_doubled_renamed_and_taken_away(qtbot, column, document):
    group = column.groups[3].body
    group.chooser.setFocus()
    qtbot.keyClick(group.chooser, Qt.Key.Key_Down)
    assert document.candidate == 1
    button(group, "Double this candidate").click()
    assert document.candidate == 2
    type_into(qtbot, field_at(column, "candidates", 2, "name"), "A third")
    assert [one.name for one in document.plan.candidates][2] == "A third"
    assert group.chooser.currentText() == "A third"
    group.remove.click()
    assert len(document.plan.candidates) == 2
    group.remove.click()
    assert not group.remove.isEnabled()


def test_that_choosing_a_row_shows_its_section(qtbot, column, document, sections):
    assert field_at(column, *SECTIONS, 0, "name").text() == "Bass"
    sections.rows.rows[1].button.click()
    assert field_at(column, *SECTIONS, 1, "name").text() == "Horn"
    assert field_at(column, *SECTIONS, 1, "radiator", "mouth_width_m").text() == "60 cm"
    sections.rows.rows[1].button.setFocus()
    qtbot.keyClick(sections.rows.rows[1].button, Qt.Key.Key_Up)
    assert sections.chosen == 0
    assert sections.rows.rows[0].button.hasFocus()
    qtbot.keyClick(sections.rows.rows[0].button, Qt.Key.Key_Up)
    assert sections.chosen == 0
    assert document.history.count() == 0


def test_that_a_renamed_section_takes_stands_and_amplifiers_along(qtbot, column, document, sections):
    document.choose(candidate=1)
    type_into(qtbot, field_at(column, "candidates", 1, "loudspeaker", "sections", 0, "name"), "Woofer")
    assert document.plan.candidates[1].amplifiers[0].drives == "Woofer"
    assert cards(column)[0].drives.text() == "Drives Woofer"
    assert document.history.count() == 1


def test_that_a_shared_edge_moves_for_both_sections_unless_told_otherwise(qtbot, column, document, sections):
    type_into(qtbot, field_at(column, *SECTIONS, 0, "high_hz"), "600")
    assert document.plan.candidates[0].loudspeaker.sections[1].low_hz == 600.0
    assert document.history.count() == 1
    sections.editor.together.click()
    type_into(qtbot, field_at(column, *SECTIONS, 0, "high_hz"), "550")
    assert document.plan.candidates[0].loudspeaker.sections[1].low_hz == 600.0
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    assert any("no gap between sections" in note for note in notes(column))


def test_that_both_sides_of_an_edge_take_a_slope(qtbot, column, document):
    type_into(qtbot, field_at(column, *SECTIONS, 0, "slopes_db_per_octave", 1), "12 dB/oct")
    slopes = [one.slopes_db_per_octave for one in document.plan.candidates[0].loudspeaker.sections]
    assert slopes == [(24.0, 12.0), (12.0, 24.0)]


def test_that_sections_are_split_added_and_taken_away(qtbot, column, document, sections):
    sections.split.click()
    names = [one.name for one in document.plan.candidates[0].loudspeaker.sections]
    assert names == ["Bass", "Bass 2", "Horn"]
    assert len(sections.rows.rows) == 3
    sections.choose(1)
    sections.remove.click()
    assert [one.name for one in document.plan.candidates[0].loudspeaker.sections] == ["Bass", "Horn"]
    sections.add.click()
    added = document.plan.candidates[0].loudspeaker.sections
    # From 16 to 20 kHz is too narrow to count as open; from 20 to 40 Hz is not.
    assert (added[0].low_hz, added[0].high_hz) == (20.0, 40.0)
    assert sections.chosen == 0
    qtbot.wait(10)
    assert document.findings == ()


def test_that_radiators_have_the_fields_of_their_kind(qtbot, column, document):
    radiator = (*SECTIONS, 0, "radiator")
    type_into(qtbot, field_at(column, *radiator, "diameter_m"), "15 in")
    assert document.plan.candidates[0].loudspeaker.sections[0].radiator.diameter_m == pytest.approx(0.381)
    choose(field_at(column, *radiator), "Horn")
    type_into(qtbot, field_at(column, *radiator, "horizontal_deg"), "80")
    assert document.plan.candidates[0].loudspeaker.sections[0].radiator.horizontal_deg == 80.0
    choose(field_at(column, *radiator), "Open baffle (dipole)")
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    assert any("free_field" in note for note in notes(fold(column, "Loudspeaker").body))


def test_that_a_baffle_is_as_wide_as_typed_or_flush_in_a_wall(qtbot, column, document):
    kind = field_at(column, *LOUDSPEAKER, "baffle_width_m", kind=ChoiceField)
    choose(kind, "Flush in a wall")
    assert document.plan.candidates[0].loudspeaker.baffle_width_m == "wall"
    choose(kind, "Of its own")
    assert document.plan.candidates[0].loudspeaker.baffle_width_m == 0.5


def test_that_a_note_may_be_written_and_left_out(qtbot, column, document):
    note = field_at(column, *LOUDSPEAKER, "note")
    note.setFocus()
    qtbot.keyClicks(note, "Invented")
    field_at(column, *LOUDSPEAKER, "name").setFocus()
    assert document.plan.candidates[0].loudspeaker.note == "Invented"


def test_that_the_impedance_curve_is_drawn_and_follows_the_driver(qtbot, column, document):
    editor = fold(column, "Impedance of the whole").body
    assert field_at(column, *LOUDSPEAKER, "impedance", "table").rowCount() == 4
    choose(editor.kind, "Driver parameters")
    given = editor._parts[-1].part
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "impedance", "driver", "dc_ohm"), "6")
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "impedance", "driver", "inductance_h"), "0.4 mH")
    assert document.plan.candidates[0].loudspeaker.impedance.driver.inductance_h == pytest.approx(0.0004)
    phase, magnitude = given.sketch.traces
    assert phase.right and not magnitude.right
    # By hand at resonance, 50 Hz: 6 × (1 + 5 / 0.4) = 81 ohm.
    assert np.max(magnitude.values) == pytest.approx(81.0, rel=0.02)
    assert "Ω" in given.sketch.accessibleDescription()


def test_that_an_impedance_may_not_be_given_where_nothing_drives_it(qtbot, column, document):
    editor = fold(column, "Impedance of the whole").body
    choose(editor.kind, "Not given")
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    assert any("which one amplifier drives" in note for note in notes(fold(column, "Impedance of the whole")))


def test_that_a_response_begins_flat_over_the_band_of_the_section(qtbot, column, document):
    choose(fold(column, "Response").body._parts[0], "A table")
    assert document.plan.candidates[0].loudspeaker.sections[0].response == ((40.0, 0.0), (500.0, 0.0))
    assert fold(column, "Response").heading.summary == "2 points"


def test_that_one_switch_gives_each_section_an_amplifier_and_undo_takes_them_back(qtbot, column, document):
    before = document.plan
    kind = fold(column, "Amplifiers").body.kind
    choose(kind, "One per section")
    assert [one.drives for one in document.plan.candidates[0].amplifiers] == ["Bass", "Horn"]
    assert len(cards(column)) == 2
    qtbot.wait(10)
    assert document.findings == ()
    assert document.history.count() == 1
    document.history.undo()
    assert document.plan is before
    assert len(cards(column)) == 1
    assert kind.currentText() == "One for the whole"


def test_that_taps_are_rows_with_their_units(column):
    assert taps(cards(column)[0]) == [
        ["4 Ω", "2.5 W", "3 %", "1.1 Ω"],
        ["8 Ω", "2.5 W", "3 %", "2.2 Ω"],
        ["8 Ω", "3.1 W", "10 %", "2.2 Ω"],
    ]


def test_that_taps_are_changed_added_and_taken_away(qtbot, column, document):
    card = cards(column)[0]
    type_into(qtbot, card.taps.rows.rows[0].fields[1], "250 mW")
    assert document.plan.candidates[0].amplifiers[0].taps[0].watts == 0.25
    type_into(qtbot, card.taps.rows.rows[0].fields[1], "0")
    assert any("too little" in note for note in notes(card))
    button(card, "Add rating").click()
    assert taps(card)[-1] == ["16 Ω", "3.1 W", "10 %", "4.4 Ω"]
    card.taps.rows.rows[0].remove.click()
    assert len(document.plan.candidates[0].amplifiers[0].taps) == 3


def test_that_the_tap_in_use_is_said_with_its_reason(qtbot, column, document):
    card = cards(column)[0]
    words = card.why.text().replace("\u00a0", " ")
    # The one of 10 % is above the 3 % that count.
    assert words == "In use: 8 Ω, nearest to 8 Ω nominal; 2.5 W at 3 %."
    choose(card.tap, "4 Ω")
    assert document.plan.candidates[0].amplifiers[0].tap_ohm == 4.0
    assert card.why.text().startswith("Chosen: 4")
    type_into(qtbot, field_at(column, "at_distortion_pct"), "10")
    choose(card.tap, "By itself")
    assert "3.1 W at 10 %" in card.why.text().replace("\u00a0", " ")


def test_that_a_tap_that_is_gone_is_still_named_by_the_chooser(qtbot, column, document):
    from planner.plan import put

    document.replace(put(document.plan, (*SYSTEM, "amplifiers", 0, "tap_ohm"), 6.0), "From a file")
    assert cards(column)[0].tap.currentText() == "6 Ω"
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    assert any("a tap of Small triode" in note for note in notes(cards(column)[0]))


def test_that_output_and_trim_belong_to_each_amplifier(qtbot, column, document):
    document.choose(candidate=1)
    path = ("candidates", 1, "amplifiers", 1)
    choose(field_at(column, *path, "output"), "Direct output")
    type_into(qtbot, field_at(column, *path, "trim_db"), "-3")
    amplifier = document.plan.candidates[1].amplifiers[1]
    assert (amplifier.output, amplifier.trim_db) == ("direct", -3.0)
    assert document.plan.candidates[1].amplifiers[0].trim_db == 0.0


def test_that_a_cable_is_given_in_one_of_three_ways_or_not_at_all(qtbot, column, document):
    editor = fold(column, "Cable").body
    type_into(qtbot, field_at(column, *SYSTEM, "cable", "length_m"), "20 ft")
    assert document.plan.candidates[0].cable.length_m == pytest.approx(6.096)
    choose(editor.kind, "Wire gauge and length")
    type_into(qtbot, field_at(column, *SYSTEM, "cable", "gauge_awg"), "12 AWG")
    cable = document.plan.candidates[0].cable
    assert (cable.gauge_awg, cable.area_mm2, cable.length_m) == (12, None, pytest.approx(6.096))
    # 12 AWG has 5.211 milliohm per metre (ASTM B258); 2 × 6.096 m of it are 0.0635 ohm.
    assert editor.hint.text() == "0.0635 Ω there and back"
    choose(editor.kind, "Loop resistance")
    type_into(qtbot, field_at(column, *SYSTEM, "cable", "loop_ohm"), "100 mΩ".replace("Ω", "ohm"))
    assert document.plan.candidates[0].cable.loop_ohm == pytest.approx(0.1)
    choose(editor.kind, "None")
    assert document.plan.candidates[0].cable is None


def test_that_every_card_of_an_amplifier_belongs_to_one_amplifier(column, document):
    document.choose(candidate=1)
    assert all(isinstance(card, AmplifierCard) for card in cards(column))
    assert [card.place.path[-1] for card in cards(column)] == [0, 1]
