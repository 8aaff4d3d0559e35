"""Limits, wiring, gain, noise, source, mass, tolerances, prices and own places, by the user's acts."""

import weakref
from gc import collect

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.drawing import RoomDrawing
from planner.desktop.editors import EditorColumn
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.sections import SectionsEditor
from planner.desktop.editors.stands import StandsEditor
from planner.desktop.fields import ChoiceField, NumberField
from planner.desktop.fields.bound import Bound
from planner.desktop.settings import settings
from planner.plan import get, put
from planner.plan.model import Price, Tolerances
from planner.plan.reshape import duplicate_candidate, own_stands, remove_candidate, split_section
from planner.plan.units import Preference
from planner.report.drawing.look import Look
from planner.report.drawing.places import Place
from tests.desktop.editing import button, choose, field_at, fold, notes, open_all, type_into

SYSTEM = ("candidates", 0)
LOUDSPEAKER = (*SYSTEM, "loudspeaker")
BASS = (*LOUDSPEAKER, "sections", 0)
LIMITS = (*BASS, "limits")
AMPLIFIER = (*SYSTEM, "amplifiers", 0)
SOURCE = (*SYSTEM, "source")
OWN = (*SYSTEM, "stands")


@pytest.fixture
def column(qtbot, document):
    column = EditorColumn(document)
    qtbot.addWidget(column)
    open_all(column)
    with qtbot.waitActive(column):
        column.show()
        column.activateWindow()
    return column


def fields_below(column, *path):
    """What is shown of a part of the plan: the last steps of the paths of its fields."""
    shown = [one for one in column.findChildren(Bound) if not one._gone]
    return {one.place.path[len(path) :] for one in shown if one.place.path[: len(path)] == path}


def state(column, *path):
    return get(column._document.plan, path)


def fold_in(part, title):
    """The fold of a title inside a part of the column."""
    found = [one for one in part.findChildren(Fold) if one.heading.accessibleName() == title]
    assert len(found) == 1, f"{len(found)} headings {title}"
    return found[0]


def words(part):
    return part.hint.text().replace("\u00a0", " ")


# Limits and wiring of a section.


def test_that_limits_are_stated_and_withdrawn_in_one_step_each(qtbot, column, document):
    before = document.plan
    limits = fold(column, "Limits")
    assert limits.heading.summary == "not stated"
    choose(limits.body.stated, "Stated")
    assert state(column, *LIMITS, "long_term_w") == 50.0
    assert limits.heading.summary == "50 W"
    choose(limits.body.stated, "Not stated")
    assert document.plan == before and document.history.count() == 2
    document.history.undo()
    assert limits.heading.summary == "50 W"


def test_that_peak_power_is_four_times_the_long_term_one_unless_typed(qtbot, column):
    choose(fold(column, "Limits").body.stated, "Stated")
    peak = field_at(column, *LIMITS, "peak_w")
    # Noise of 6 dB crest factor: four times the power (AES2, IEC 60268-5).
    assert (peak.text(), peak.placeholder) == ("", "200 W by rule")
    type_into(qtbot, field_at(column, *LIMITS, "long_term_w"), "80")
    assert peak.placeholder == "320 W by rule"
    assert "320 W by rule" in peak.accessibleDescription()
    type_into(qtbot, peak, "500 W")
    assert state(column, *LIMITS, "peak_w") == 500.0
    type_into(qtbot, peak, "")
    assert state(column, *LIMITS, "peak_w") is None


def test_that_an_empty_peak_power_steps_from_the_rule(qtbot, column):
    choose(fold(column, "Limits").body.stated, "Stated")
    peak = field_at(column, *LIMITS, "peak_w")
    peak.setFocus()
    qtbot.keyClick(peak, Qt.Key.Key_Up)
    assert state(column, *LIMITS, "peak_w") == 210.0


def test_that_a_box_is_of_another_kind_in_one_step_that_keeps_the_plan_valid(qtbot, column, document):
    choose(fold(column, "Limits").body.stated, "Stated")
    steps = document.history.count()
    box = field_at(column, *LIMITS, "box")
    choose(box, "Vented")
    assert ("tuning_hz",) in fields_below(column, *LIMITS)
    type_into(qtbot, field_at(column, *LIMITS, "tuning_hz"), "33")
    choose(box, "Sealed")
    assert (state(column, *LIMITS, "box"), state(column, *LIMITS, "tuning_hz")) == ("sealed", None)
    assert ("tuning_hz",) not in fields_below(column, *LIMITS)
    assert document.history.count() == steps + 3
    document.history.undo()
    assert state(column, *LIMITS, "tuning_hz") == 33.0
    qtbot.wait(10)
    assert document.findings == ()


def test_that_the_model_of_the_travel_is_said(column):
    limits = fold(column, "Limits").body
    choose(limits.stated, "Stated")
    travel = limits._parts[-1].part._parts[-1]
    said = []
    for kind in ("Sealed", "Vented", "Horn-loaded"):
        choose(field_at(column, *LIMITS, "box"), kind)
        said.append(words(travel))
    assert "1972" in said[0] and "1973" in said[1] and "not judged" in said[2]


def test_that_travel_is_asked_of_diaphragms_and_shown_where_it_is_known(qtbot, column, document):
    column.findChild(SectionsEditor).choose(1)
    horn = (*LOUDSPEAKER, "sections", 1, "limits")
    choose(fold(column, "Limits").body.stated, "Stated")
    assert fields_below(column, *horn) >= {("long_term_w",), ("peak_w",)}
    assert ("xmax_mm",) not in fields_below(column, *horn)
    document.edit((*horn, "xmax_mm"), 2.0, "From a file")
    assert ("xmax_mm",) in fields_below(column, *horn)


def test_that_the_limits_typed_are_those_that_give_out(qtbot, column, document):
    choose(fold(column, "Limits").body.stated, "Stated")
    type_into(qtbot, field_at(column, *LIMITS, "long_term_w"), "2 mW")
    qtbot.waitUntil(lambda: document.outcome.worst.first_limit.part == "Bass")
    # With 15 dB of crest factor the peaks give out, for which the rule allows 6 dB.
    assert document.outcome.worst.first_limit.quantity == "peak power"


def test_that_wiring_is_asked_only_of_several_drivers_and_told_what_it_makes(qtbot, column, document):
    assert ("wiring",) in fields_below(column, *BASS)
    wires = field_at(column, *BASS, "wiring").parentWidget().parentWidget()
    assert words(wires) == "Sensitivity and impedance are those of all drivers together."
    document.edit((*BASS, "impedance"), {"nominal_ohm": 16.0}, "Known")
    choose(field_at(column, *BASS, "wiring"), "In parallel")
    # Two drivers: 20 log 2 = 6.02 dB, and half of 16 ohm.
    assert "2 in parallel: 6.0 dB above one for the same volts, 8 Ω." in words(wires)
    choose(field_at(column, *BASS, "wiring"), "In series")
    assert words(wires).endswith("2 in series: as loud as one for the same volts, 32 Ω.")
    choose(field_at(column, *BASS, "wiring"), "Figures are of all")
    type_into(qtbot, field_at(column, *BASS, "radiator", "count"), "1")
    assert ("wiring",) not in fields_below(column, *BASS)


def test_that_wiring_of_a_single_driver_in_a_file_can_be_seen_and_mended(column, document):
    plan = put(put(document.plan, (*BASS, "wiring"), "series"), (*BASS, "radiator", "count"), 1)
    document.replace(plan, "From a file")
    choose(field_at(column, *BASS, "wiring"), "Figures are of all")
    assert ("wiring",) not in fields_below(column, *BASS)


# Mass and footprint.


def test_that_a_loudspeaker_has_mass_and_footprint_and_loads_the_floor(qtbot, column, document):
    bulk = fold_in(fold(column, "Loudspeaker"), "Mass and footprint")
    assert bulk.heading.summary == "not known" and words(bulk.body) == ""
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "mass_kg"), "100")
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "footprint_m", 0), "50 cm")
    assert state(column, *LOUDSPEAKER, "footprint_m") == (0.5, 0.5)
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "footprint_m", 1), "400 mm")
    assert state(column, *LOUDSPEAKER, "footprint_m") == pytest.approx((0.5, 0.4))
    # 100 kg × 9.807 m/s² on 0.2 m² are 4.90 kN/m²; EN 1991-1-1, category A: 1.5 to 2.0.
    assert "4.90 kN/m²" in words(bulk.body) and "1.5 to 2.0 kN/m²" in words(bulk.body)
    assert "No structural check" in words(bulk.body)
    assert "engineer" in bulk.body.hint.toolTip()
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "footprint_m", 1), "")
    assert state(column, *LOUDSPEAKER, "footprint_m") is None
    assert bulk.heading.summary == "100 kg"


def test_that_loads_are_read_in_pounds_by_who_types_inches(qtbot, column, document):
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "mass_kg"), "100")
    type_into(qtbot, field_at(column, *LOUDSPEAKER, "footprint_m", 0), "0.5 m")
    settings().units = Preference.US
    bulk = fold_in(fold(column, "Loudspeaker"), "Mass and footprint")
    # 980.7 N on 0.25 m² are 3.923 kN/m², and 1 psf is 47.88 N/m²: 82 psf. IRC table R301.5: 40 psf.
    assert "82 psf" in words(bulk.body) and "40 psf" in words(bulk.body)
    field_at(column, *LOUDSPEAKER, "name").setFocus()
    assert field_at(column, *LOUDSPEAKER, "mass_kg").text() == "220 lb"
    assert field_at(column, *LOUDSPEAKER, "footprint_m", 0).text() == "19.7 in"


# Amplifiers.


def test_that_gain_overload_mass_and_footprint_belong_to_each_amplifier(qtbot, column, document):
    document.choose(candidate=1)
    path = ("candidates", 1, "amplifiers", 1)
    type_into(qtbot, field_at(column, *path, "gain_db"), "26")
    choose(field_at(column, *path, "overload"), "Soft")
    type_into(qtbot, field_at(column, *path, "mass_kg"), "40 lb")
    type_into(qtbot, field_at(column, *path, "footprint_m", 0), "30")
    amplifier = document.plan.candidates[1].amplifiers[1]
    assert (amplifier.gain_db, amplifier.overload) == (26.0, "soft")
    assert amplifier.mass_kg == pytest.approx(18.14, abs=0.01)
    assert amplifier.footprint_m == (0.3, 0.3)
    first = document.plan.candidates[1].amplifiers[0]
    assert (first.gain_db, first.overload, first.mass_kg, first.footprint_m) == (None,) * 4


def test_that_the_volts_that_drive_it_fully_follow_from_its_gain(qtbot, column, document):
    part = fold_in(fold(column, "Amplifiers"), "Gain and noise")
    assert words(part.body) == "" and part.heading.summary == "not known"
    type_into(qtbot, field_at(column, *AMPLIFIER, "gain_db"), "20 dB")
    # sqrt(2.5 W × 8 ohm) = 4.472 V at the terminals, a tenth of it at the input.
    assert words(part.body) == "Full output for 0.447 V at the input."
    assert part.heading.summary == "20.0 dB"
    type_into(qtbot, field_at(column, *AMPLIFIER, "gain_db"), "")
    assert document.plan.candidates[0].amplifiers[0].gain_db is None


def test_that_hum_and_hiss_come_together_and_are_heard_in_the_answer(qtbot, column, document):
    part = fold_in(fold(column, "Amplifiers"), "Gain and noise")
    choose(part.body.residual, "Hum and hiss")
    assert document.history.count() == 1
    type_into(qtbot, field_at(column, *AMPLIFIER, "residual", "hum_mv"), "3 mV")
    choose(field_at(column, *AMPLIFIER, "residual", "mains_hz"), "60 Hz")
    choose(field_at(column, *AMPLIFIER, "residual", "weighting"), "A-weighted")
    type_into(qtbot, field_at(column, *AMPLIFIER, "residual", "hiss_mv"), "0.05")
    residual = document.plan.candidates[0].amplifiers[0].residual
    assert residual.model_dump() == {"hum_mv": 3.0, "mains_hz": 60.0, "hiss_mv": 0.05, "weighting": "A"}
    assert part.heading.summary == "hum and hiss known"
    choose(part.body.residual, "Not known")
    assert document.plan.candidates[0].amplifiers[0].residual is None


def test_that_other_mains_are_still_named_by_the_chooser(column, document):
    known = {"hum_mv": 1.0, "mains_hz": 400.0, "hiss_mv": 0.1, "weighting": "Z"}
    document.edit((*AMPLIFIER, "residual"), known, "From a file")
    mains = field_at(column, *AMPLIFIER, "residual", "mains_hz")
    assert mains.currentText() == "400 Hz" and mains.count() == 3


def test_that_who_reads_feet_begins_with_mains_of_sixty_hertz(column, document):
    settings().units = Preference.US
    choose(fold_in(fold(column, "Amplifiers"), "Gain and noise").body.residual, "Hum and hiss")
    assert document.plan.candidates[0].amplifiers[0].residual.mains_hz == 60.0


# The source.


def test_that_a_source_is_none_line_or_a_cartridge(qtbot, column, document):
    source = fold_in(fold(column, "With what"), "Source")
    assert source.heading.summary == "none"
    choose(source.body.kind, "Line level")
    type_into(qtbot, field_at(column, *SOURCE, "volts"), "1.5 V")
    assert (document.plan.candidates[0].source.kind, source.heading.summary) == ("line", "1.5 V")
    choose(source.body.kind, "Cartridge and phono stage")
    assert fields_below(column, *SOURCE) >= {("cartridge_mv",), ("phono_noise_uv",), ("phono_overload_v",)}
    type_into(qtbot, field_at(column, *SOURCE, "cartridge_mv"), "0,5")
    type_into(qtbot, field_at(column, *SOURCE, "phono_gain_db"), "60")
    type_into(qtbot, field_at(column, *SOURCE, "phono_noise_uv"), "0.4 µV")
    known = document.plan.candidates[0].source
    assert (known.cartridge_mv, known.phono_gain_db, known.phono_noise_uv) == (0.5, 60.0, 0.4)
    type_into(qtbot, field_at(column, *SOURCE, "phono_noise_uv"), "")
    assert document.plan.candidates[0].source.phono_noise_uv is None
    choose(source.body.kind, "None")
    assert document.plan.candidates[0].source is None


def test_that_the_peaks_of_a_record_are_told_against_the_overload_of_the_phono_stage(qtbot, column):
    source = fold_in(fold(column, "With what"), "Source").body
    choose(source.kind, "Cartridge and phono stage")
    # 4 mV at 5 cm/s, 12.04 dB more at the highest peaks (20 cm/s), 40 dB of gain: 0.004 × 4 × 100 = 1.6 V.
    assert words(source).endswith("leave the phono stage at 1.6 V.")
    type_into(qtbot, field_at(column, *SOURCE, "phono_overload_v"), "16")
    assert words(source).endswith("That is 20.0 dB below its overload.")
    type_into(qtbot, field_at(column, *SOURCE, "phono_overload_v"), "0.8 V")
    assert words(source).endswith("That is 6.0 dB above its overload.")


# How sure.


def test_that_usual_tolerances_are_shown_in_grey_and_said_to_be_common_practice(column, document):
    sure = fold(column, "How sure")
    shown = {key: field.placeholder for key, field in sure.body.fields.items()}
    # The defaults of the plan's own description, each by hand in its unit.
    assert shown == {
        "sensitivity_db": "0.75 dB as usual",
        "low_room_gain_db": "2.0 dB as usual",
        "t60_pct": "15 % as usual",
        "distance_m": "5 cm as usual",
        "transient_ratio": "1.6 as usual",
        "crest_db": "1.0 dB as usual",
        "rating_pct": "5 % as usual",
        "impedance_pct": "5 % as usual",
    }
    assert set(shown) == set(Tolerances.model_fields)
    assert all(field.text() == "" for field in sure.body.fields.values())
    assert any("common practice" in part.text() for part in sure.body.children() if hasattr(part, "say"))
    assert sure.heading.summary == "usual values" and not sure.body.back.isEnabled()


def test_that_a_tolerance_is_ones_own_until_it_is_emptied(qtbot, column, document):
    sure = fold(column, "How sure")
    field = sure.body.fields["sensitivity_db"]
    type_into(qtbot, field, "1.25")
    assert document.plan.tolerances == Tolerances(sensitivity_db=1.25)
    assert sure.heading.summary == "1 of your own"
    sure.body.fields["crest_db"].setFocus()
    assert field.text() == "1.25 dB"
    type_into(qtbot, sure.body.fields["distance_m"], "12 cm")
    assert document.plan.tolerances.distance_m == pytest.approx(0.12)
    type_into(qtbot, field, "")
    assert document.plan.tolerances == Tolerances(distance_m=0.12)


def test_that_one_button_brings_the_usual_tolerances_back_in_one_step(qtbot, column, document):
    sure = fold(column, "How sure")
    for key in ("t60_pct", "rating_pct"):
        type_into(qtbot, sure.body.fields[key], "30")
    steps = document.history.count()
    sure.body.back.click()
    assert document.plan.tolerances is None and document.history.count() == steps + 1
    assert sure.body.fields["t60_pct"].text() == ""
    document.history.undo()
    assert document.plan.tolerances == Tolerances(t60_pct=30.0, rating_pct=30.0)


def test_that_a_usual_tolerance_is_read_in_the_units_in_use(column):
    settings().units = Preference.US
    assert fold(column, "How sure").body.fields["distance_m"].placeholder == "1.97 in as usual"


def test_that_stepping_a_usual_tolerance_begins_at_it(qtbot, column, document):
    field = fold(column, "How sure").body.fields["t60_pct"]
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Up)
    assert document.plan.tolerances == Tolerances(t60_pct=20.0)


# Candidates and the plan itself.


def test_that_a_candidate_moves_up_and_down_and_stays_the_one_looked_at(qtbot, column, document):
    group = column.groups[3].body
    assert not group.up.isEnabled() and group.down.isEnabled()
    group.down.click()
    assert [one.name for one in document.plan.candidates][1] == "Horns with 2.5 W"
    assert document.candidate == 1 and group.name.text() == "Horns with 2.5 W"
    assert group.up.isEnabled() and not group.down.isEnabled()
    group.up.click()
    assert document.candidate == 0 and document.history.count() == 2
    document.history.undo()
    document.history.undo()
    assert document.plan.candidates[0].name == "Horns with 2.5 W"


def test_that_a_nameless_candidate_is_refused_beside_its_name(qtbot, column, document):
    type_into(qtbot, field_at(column, *SYSTEM, "name"), "")
    assert any(note.startswith("Not taken") for note in notes(column))
    assert document.plan.candidates[0].name == "Horns with 2.5 W"


def test_that_title_and_notes_of_the_plan_stand_at_the_top(qtbot, column, document):
    assert column.about.heading.summary == "Sample room"
    type_into(qtbot, field_at(column, "title"), "The library")
    remark = field_at(column, "notes")
    remark.setFocus()
    qtbot.keyClicks(remark, "Heard it twice")
    field_at(column, "title").setFocus()
    assert (document.plan.title, document.plan.notes) == ("The library", "Heard it twice")
    assert document.history.count() == 2
    assert column.about.heading.summary == "The library"
    assert column.about.mapTo(column, column.about.rect().topLeft()).y() < 20


def test_that_undo_opens_the_fold_of_what_it_changed(qtbot, document):
    column = EditorColumn(document)
    qtbot.addWidget(column)
    column.show()
    for path, value in (
        (("tolerances",), {"crest_db": 2.0}),
        ((*SYSTEM, "source"), {"kind": "line", "volts": 2.0}),
        ((*SYSTEM, "price"), {"amount": 5.0, "currency": "EUR"}),
        (("notes",), "Something"),
    ):
        document.edit(path, value, "From elsewhere")
        qtbot.wait(10)
        document.history.undo()
        qtbot.wait(10)
    opened = {one.heading.accessibleName() for one in column.findChildren(Fold) if one.heading.isChecked()}
    assert {"How sure", "Source", "Price", "Plan"} <= opened


# The price.


def test_that_a_price_is_typed_taken_away_and_told_nowhere(qtbot, column, document):
    price = fold_in(fold(column, "With what"), "Price")
    assert price.heading.summary == "none"
    type_into(qtbot, price.body.amount, "14500.50")
    assert document.plan.candidates[0].price == Price(amount=14500.5, currency="EUR")
    currency = field_at(column, *SYSTEM, "price", "currency")
    type_into(qtbot, currency, "chf")
    assert document.plan.candidates[0].price.currency == "CHF"
    type_into(qtbot, currency, "francs")
    assert any("three capital letters" in note for note in notes(price))
    assert document.plan.candidates[0].price.currency == "CHF"
    assert price.body.amount.text() == "14500.5"
    # Whoever looks over the designer's shoulder reads headings.
    assert not any("145" in one.heading.summary for one in column.findChildren(Fold))
    type_into(qtbot, price.body.amount, "")
    assert document.plan.candidates[0].price is None


# Places of its own.


def own_cards(column):
    """The cards of the candidate's own stands."""
    inside = fold(column, "Its places in the room").body.findChildren(StandsEditor)
    return [row for editor in inside if not editor.isHidden() for row in editor.rows.rows]


def test_that_a_candidate_gets_places_of_its_own_as_a_copy_of_the_plans(qtbot, column, document):
    before, places = document.plan, fold(column, "Its places in the room")
    assert places.heading.summary == "the plan's" and own_cards(column) == []
    choose(places.body.kind, "In places of its own")
    assert document.plan.candidates[0].stands == before.stands
    assert [card.name.text() for card in own_cards(column)] == ["Left", "Right"]
    assert document.history.count() == 1 and places.heading.summary == "Left, Right"
    choose(places.body.kind, "On the plan's stands")
    assert document.plan == before and own_cards(column) == []


def test_that_its_own_places_are_edited_in_cards_and_the_plans_stay(qtbot, column, document):
    choose(fold(column, "Its places in the room").body.kind, "In places of its own")
    common, others = document.plan.stands, document.plan.candidates[1:]
    type_into(qtbot, field_at(column, *OWN, 0, "x_m"), "1.3 m")
    type_into(qtbot, field_at(column, *OWN, 0, "name"), "Corner")
    choose(field_at(column, *OWN, 1, "aim"), "Desk")
    own_cards(column)[1].buttons["double"].click()
    own_cards(column)[2].buttons["up"].click()
    own_cards(column)[0].buttons["remove"].click()
    button(fold(column, "Its places in the room").body, "Add stand").click()
    names = [stand.name for stand in document.plan.candidates[0].stands]
    assert names == ["Right 2", "Right", "Right 3"]
    assert document.plan.candidates[0].stands[1].aim.seat == "Desk"
    assert document.plan.stands == common and document.plan.candidates[1:] == others
    assert document.history.count() == 8


def test_that_its_own_stand_carries_what_is_chosen(column, document):
    choose(fold(column, "Its places in the room").body.kind, "In places of its own")
    carries = own_cards(column)[0].carries
    carries._fill()
    next(action for action in carries.menu.actions() if action.text() == "Bass").trigger()
    assert document.plan.candidates[0].stands[0].carries == ("Bass",)
    assert document.plan.stands[0].carries is None
    assert carries.text() == "Bass"


def test_that_the_stands_of_the_plan_say_when_the_candidate_is_not_on_them(column, document):
    told = fold(column, "Loudspeaker stands").body.elsewhere
    assert not told.isVisible()
    choose(fold(column, "Its places in the room").body.kind, "In places of its own")
    assert told.isVisible() and told.text().startswith("Horns with 2.5 W does not stand here")
    document.choose(candidate=1)
    assert not told.isVisible()


def test_that_cards_follow_the_candidate_that_is_looked_at(qtbot, column, document):
    plan = own_stands(own_stands(document.plan, 0, True), 1, True)
    plan = put(plan, ("candidates", 1, "stands"), plan.stands[:1])
    document.replace(put(plan, ("candidates", 1, "stands", 0, "x_m"), 2.25), "From a file")
    assert len(own_cards(column)) == 2
    document.choose(candidate=1)
    assert [card.fields[0].text() for card in own_cards(column)] == ["2.25 m"]
    type_into(qtbot, field_at(column, "candidates", 1, "stands", 0, "y_m"), "1.9")
    assert document.plan.candidates[1].stands[0].y_m == 1.9
    assert document.plan.candidates[0].stands == document.plan.stands


def test_that_what_is_wrong_with_its_places_stands_beside_them(qtbot, column, document):
    document.replace(own_stands(document.plan, 0, True), "Own")
    document.edit((*OWN, 1, "y_m"), 9.0, "Move out")
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    places = fold(column, "Its places in the room")
    assert places.heading.count == 1 and fold(column, "Loudspeaker stands").heading.count == 0
    assert any("a place in the room, 0 to 4.4 m" in note for note in notes(own_cards(column)[1]))
    document.choose(candidate=1)
    qtbot.wait(10)
    assert "in Horns with 2.5 W" in column.rest.text()


# The drawing.


@pytest.fixture
def drawing(qtbot, document):
    """The drawing of a room in which the first candidate stands elsewhere, and in one place only."""
    plan = own_stands(document.plan, 0, True)
    plan = put(plan, OWN, (put(plan.stands[0], ("x_m",), 2.0),))
    document.replace(plan, "Own")
    widget = RoomDrawing(document)
    qtbot.addWidget(widget)
    widget.resize(640, 560)
    widget.show()
    widget.setFocus(Qt.FocusReason.OtherFocusReason)
    return widget


def drag(drawing, place, across_m):
    """Take a thing up in the view from above and bring it so far along the room."""
    frame = drawing.frames()[0]
    start = frame.to_px(place.of(drawing.look().plan).position_m)
    kinds = QEvent.Type.MouseButtonPress, QEvent.Type.MouseMove, QEvent.Type.MouseButtonRelease
    for kind, share in zip(kinds, (0.0, 1.0, 1.0), strict=True):
        point = start + QPointF(across_m * share * frame.px_per_m, 0.0)
        held = Qt.MouseButton.NoButton if kind is kinds[2] else Qt.MouseButton.LeftButton
        pressed = Qt.MouseButton.NoButton if kind is kinds[1] else Qt.MouseButton.LeftButton
        event = QMouseEvent(
            kind, point, drawing.mapToGlobal(point), pressed, held, Qt.KeyboardModifier.NoModifier
        )
        QApplication.sendEvent(drawing, event)


def test_that_the_drawing_shows_the_stands_of_the_candidate_looked_at(drawing, document):
    assert [stand.x_m for stand in drawing.look().plan.stands] == [2.0]
    document.choose(candidate=1)
    assert [stand.x_m for stand in drawing.look().plan.stands] == [0.9, 0.9]


def test_that_a_drag_moves_its_own_stand_in_one_step(drawing, document):
    before = document.plan
    drag(drawing, Place("stands", 0), 0.5)
    assert document.plan.candidates[0].stands[0].x_m == pytest.approx(2.5)
    assert document.plan.stands == before.stands
    assert document.history.count() == 2
    document.history.undo()
    assert document.plan is before


def test_that_keys_and_menu_change_its_own_stands_too(qtbot, drawing, document):
    drawing.select(Place("stands", 0))
    qtbot.keyClick(drawing, Qt.Key.Key_Right)
    assert document.plan.candidates[0].stands[0].x_m == pytest.approx(2.05)
    menu = drawing.menu_at(None)
    assert not next(one for one in menu.actions() if "De&lete" in one.text()).isEnabled()
    menu._duplicate()
    assert len(document.plan.candidates[0].stands) == 2 and len(document.plan.stands) == 2
    assert document.history.undoText() == "Duplicate Left"
    drawing.delete(Place("stands", 1))
    assert len(document.plan.candidates[0].stands) == 1


def test_that_nothing_stays_chosen_that_another_candidate_does_not_have(drawing, document):
    document.choose(candidate=1)
    drawing.select(Place("stands", 1))
    document.choose(candidate=0)
    assert drawing.selected is None


def test_that_the_drawing_marks_what_is_wrong_with_the_stands_it_shows(qtbot, drawing, document):
    document.edit((*OWN, 0, "y_m"), 9.0, "Move out")
    qtbot.waitUntil(lambda: document.stale)
    assert drawing.look().at_fault == {Place("stands", 0)}
    document.choose(candidate=1)
    assert drawing.look().at_fault == set()


def test_that_a_look_at_a_plan_is_told_once(document):
    plan = own_stands(document.plan, 0, True)
    again = Look(Look(plan).plan)
    assert again == Look(plan)


# The way to the catalogue.


def offers(column):
    shown = [one for one in column.findChildren(QPushButton) if one.text().startswith("Take from")]
    return [one for one in shown if one.isVisibleTo(column)]


def test_that_no_button_leads_nowhere(column):
    assert offers(column) == []


def test_that_each_part_asks_for_entries_of_its_kind(qtbot, document):
    document.choose(candidate=1)
    column = EditorColumn(document)
    qtbot.addWidget(column)
    column.show()
    asked = []
    column.offer_catalogue(lambda kind, number: asked.append((kind, number)))
    # Some are there already, the others come with what is unfolded later.
    open_all(column)
    for one in offers(column):
        one.click()
    assert asked == [
        ("loudspeaker", 0),
        ("amplifier", 0),
        ("amplifier", 1),
        ("cable", 0),
        ("source", 0),
    ]
    assert document.history.count() == 0


# All of them together.


def test_that_the_column_keeps_up_when_systems_and_sections_come_and_go(qtbot, column, document):
    document.replace(own_stands(document.plan, 0, True), "Own")
    for reshape in (
        lambda plan: duplicate_candidate(plan, 0),
        lambda plan: split_section(plan, 0, 0),
        lambda plan: remove_candidate(plan, 0),
    ):
        document.replace(reshape(document.plan), "Reshape")
        qtbot.wait(10)
    while document.history.canUndo():
        document.history.undo()
        qtbot.wait(5)
    assert field_at(column, *SYSTEM, "name").text() == "Horns with 2.5 W"


def test_that_larger_letters_still_leave_every_field_its_room(qtbot, column):
    before = column.widget().minimumSizeHint().width()
    font = column.font()
    font.setPointSizeF(font.pointSizeF() * 1.3)
    column.setFont(font)
    qtbot.waitUntil(lambda: column.widget().minimumSizeHint().width() > 1.1 * before)
    column.resize(column.minimumSizeHint().width(), 800)
    qtbot.waitUntil(lambda: column.widget().width() <= column.viewport().width())
    narrow = [
        one
        for one in column.findChildren(NumberField)
        if one.isVisibleTo(column) and one.width() < one.minimumSizeHint().width()
    ]
    assert narrow == []


def test_that_a_closed_column_with_places_of_its_own_is_freed(qapp, sample_plan):
    document = PlanDocument(own_stands(sample_plan, 0, True))
    column = EditorColumn(document)
    open_all(column)
    column.offer_catalogue(print)
    column.show()
    ref = weakref.ref(column)
    column.close()
    column.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del column
    collect()
    document.edit(("title",), "Another", "Rename")
    assert ref() is None


def test_that_every_chooser_here_says_what_it_is_for(column):
    choosers = [one for one in column.findChildren(ChoiceField) if one.isVisibleTo(column)]
    assert len(choosers) > 15
    assert all(one.accessibleName() and one.toolTip() for one in choosers)
