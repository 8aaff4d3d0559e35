"""The catalogue in the window, by what a person does there: search, put, keep, rename, remove, exchange."""

import gc
import json
import shutil
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QFileDialog, QLabel, QMessageBox, QTabBar, QWidget

from planner.desktop.catalogue import CatalogueChooser, CatalogueDialog
from planner.desktop.catalogue.exchange import FaultsDialog
from planner.desktop.catalogue.keep import KeepDialog
from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.document import PlanDocument
from planner.desktop.fields import NumberField
from planner.desktop.settings import settings
from planner.plan import Plan
from planner.plan.catalogue import (
    added,
    built_in_entries,
    entry_of,
    export_entries,
    import_entries,
    load_catalogue,
    own_path,
    title_of,
)
from planner.plan.catalogue.entry import with_title
from planner.plan.units import Preference
from tests.plans import open_air

TRIODE = "single-triode-2-5-w"


@pytest.fixture(autouse=True)
def own_file(qapp):
    """The file of own entries, not there at first."""
    shutil.rmtree(own_path().parent, ignore_errors=True)
    catalogue_store().refresh()
    yield own_path()
    shutil.rmtree(own_path().parent, ignore_errors=True)


@pytest.fixture
def opened(qtbot, document):
    """Opens the dialog for a kind, shown."""

    def open_it(kind="loudspeaker", other=None):
        dialog = CatalogueDialog(other or document, kind=kind)
        qtbot.addWidget(dialog)
        with qtbot.waitActive(dialog):
            dialog.show()
        return dialog

    return open_it


def listed(dialog, column=0):
    model = dialog.view.model
    return [model.data(model.index(row, column)) for row in range(model.rowCount())]


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def keep_own(*entries):
    for entry in entries:
        catalogue_store().change(lambda catalogue, entry=entry: added(catalogue, entry))


def built_in(entry_id):
    return next(one for one in built_in_entries() if one.id == entry_id)


def child(dialog, kind):
    found = [one for one in dialog.findChildren(kind) if one.isVisible()]
    assert len(found) == 1, f"{len(found)} {kind.__name__}"
    return found[0]


# Search.


def test_that_the_words_typed_must_all_stand_in_the_name(qtbot, opened):
    dialog = opened()
    assert dialog.view.model.rowCount() == 26
    qtbot.keyClicks(dialog.view.bar.words, "horns straight")
    assert listed(dialog)
    assert all("straight horns" in name.lower() for name in listed(dialog))
    assert dialog.view.count.text() == f"{len(listed(dialog))} of 26 entries"


def test_that_least_sensitivity_leaves_what_is_as_loud_for_a_watt_and_return_puts_nothing(
    qtbot, opened, document
):
    before = document.plan
    dialog = opened()
    type_into(qtbot, dialog.view.bar.field("least_sensitivity_db"), "100 dB")
    levels = [float(text.removesuffix(" dB")) for text in listed(dialog, 1)]
    assert len(levels) == 7
    assert min(levels) == 100.0
    assert document.plan is before


def test_that_watts_are_asked_into_the_load_and_at_the_distortion_typed(qtbot, opened):
    dialog = opened("amplifier")
    bar = dialog.view.bar
    type_into(qtbot, bar.field("least_watts"), "2,5 W")
    type_into(qtbot, bar.field("at_distortion_pct"), "1 %")
    # By the built-in entries: without feedback a single triode gives its rated watts only at 3 %.
    assert "Single triode, 2.5 W" not in listed(dialog)
    type_into(qtbot, bar.field("at_distortion_pct"), "3 %")
    assert "Single triode, 2.5 W" in listed(dialog)
    assert "Single triode, 1.6 W" not in listed(dialog)
    type_into(qtbot, bar.field("into_ohm"), "16 ohm")
    heading = dialog.view.model.headerData(1, Qt.Orientation.Horizontal)
    assert heading == "Into 16 Ω"


def test_that_the_load_asked_for_first_is_the_candidates(qtbot, sample_plan, opened):
    loudspeaker = sample_plan.candidates[0].loudspeaker
    four = loudspeaker.model_copy(
        update={"impedance": loudspeaker.impedance.model_copy(update={"nominal_ohm": 4.0})}
    )
    first = sample_plan.candidates[0].model_copy(update={"loudspeaker": four})
    plan = sample_plan.model_copy(update={"candidates": (first, *sample_plan.candidates[1:])})
    dialog = opened("amplifier", PlanDocument(plan))
    assert dialog.view.bar.field("into_ohm").text() == "4 Ω"


def test_that_size_and_mass_are_limits_in_either_system_of_units(qtbot, opened):
    dialog = opened()
    bar = dialog.view.bar
    type_into(qtbot, bar.field("width"), "1 ft")
    type_into(qtbot, bar.field("depth"), "0.24 m")
    # Turned either way: 0.24 m of width and 0.3048 m of depth hold 0.20 × 0.30 m and 0.17 × 0.24 m.
    assert listed(dialog) == ["Small vented two-way, 86 dB", "Small sealed shelf box, 82 dB"]
    bar.field("width").setFocus()
    bar.field("width").selectAll()
    qtbot.keyClick(bar.field("width"), Qt.Key.Key_Delete)
    qtbot.keyClick(bar.field("width"), Qt.Key.Key_Return)
    assert len(listed(dialog)) > 2
    type_into(qtbot, bar.field("most_mass_kg"), "6 kg")
    assert listed(dialog) == ["Small sealed shelf box, 82 dB"]


def test_that_what_cannot_be_read_is_said_and_asks_nothing_else(qtbot, opened):
    dialog = opened()
    type_into(qtbot, dialog.view.bar.field("least_sensitivity_db"), "loud")
    assert "loud" in dialog.view.bar.note.text()
    assert len(listed(dialog)) == 26


def test_that_one_press_asks_nothing_any_more(qtbot, opened):
    dialog = opened()
    qtbot.keyClicks(dialog.view.bar.words, "nothing of that name")
    assert listed(dialog) == []
    assert dialog.view.entry is None
    assert not dialog.put_button.isEnabled()
    press(qtbot, dialog.view.clear_button)
    assert len(listed(dialog)) == 26
    assert dialog.view.bar.words.text() == ""


def test_that_a_heading_sorts_and_what_does_not_say_comes_last(qtbot, opened):
    light = entry_of(built_in(TRIODE).data.model_copy(update={"mass_kg": None}), "No scales")
    keep_own(light)
    dialog = opened("amplifier")
    heads = dialog.view.table.horizontalHeader()
    mass = QPoint(heads.sectionViewportPosition(3) + 10, 8)
    qtbot.mouseClick(heads.viewport(), Qt.MouseButton.LeftButton, pos=mass)
    masses = listed(dialog, 3)
    figures = [float(text.removesuffix(" kg")) for text in masses[:-1]]
    assert figures == sorted(figures) and masses[-1] == "–"
    qtbot.mouseClick(heads.viewport(), Qt.MouseButton.LeftButton, pos=mass)
    assert listed(dialog, 0)[-1] == "No scales"
    assert listed(dialog, 0)[0] == "Large transistor amplifier, 200 W"


def test_that_the_keys_up_and_down_move_in_the_list_while_words_are_typed(qtbot, opened):
    dialog = opened()
    qtbot.keyClick(dialog.view.bar.words, Qt.Key.Key_Down)
    qtbot.keyClick(dialog.view.bar.words, Qt.Key.Key_Down)
    assert dialog.view.table.currentIndex().row() == 2
    assert dialog.view.details.headline.text() == listed(dialog)[2]


def test_that_own_entries_are_marked_and_can_be_listed_alone(qtbot, opened):
    keep_own(with_title(built_in(TRIODE), "The one in the shop"))
    dialog = opened("amplifier")
    assert listed(dialog, 5).count("My own") == 1
    whose = dialog.view.bar.whose
    whose.setCurrentIndex(whose.findText("My own"))
    whose.activated.emit(whose.currentIndex())
    assert listed(dialog) == ["The one in the shop"]


def test_that_figures_follow_the_units_preferred(qtbot, opened):
    dialog = opened()
    settings().units = Preference.US
    assert listed(dialog, 3)[0].endswith("lb")
    # 2.45 m are 8 ft 0.46 in, 2.60 m are 8 ft 6.36 in.
    assert listed(dialog, 4)[0] == "8 ft 0 in × 8 ft 6 in"


def test_that_the_details_say_that_a_built_in_entry_is_invented(opened):
    dialog = opened("amplifier")
    assert dialog.view.details.origin.text() == "Built in"
    assert dialog.view.details.words.text().startswith("Invented")
    assert not dialog.view.details.name.isVisible()


# Into the plan.


def test_that_return_on_an_entry_puts_it_into_the_plan_as_one_undoable_step(qtbot, opened, document):
    before = document.plan
    dialog = opened()
    dialog.view.choose("two-straight-horns-103-db")
    qtbot.keyClick(dialog.view.table, Qt.Key.Key_Return)
    assert document.plan.candidates[0].loudspeaker.catalogue_id == "two-straight-horns-103-db"
    assert document.plan.candidates[0].loudspeaker.name == "Two straight horns, 103 dB"
    assert document.history.undoText() == "Put Two straight horns, 103 dB into Horns with 2.5 W"
    assert document.history.count() == 1
    assert not dialog.put_button.isEnabled()
    qtbot.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert document.plan is before
    assert dialog.put_button.isEnabled()


def test_that_the_verdict_beside_the_button_follows(qtbot, opened, document):
    dialog = opened()
    before = dialog.target.answer.text()
    dialog.view.choose("small-sealed-shelf-box-82-db")
    press(qtbot, dialog.put_button)
    qtbot.waitUntil(lambda: dialog.target.answer.text() != before)
    assert dialog.target.answer.text().startswith("Short: −")
    assert dialog.target.answer.text().endswith("at Sofa")


def test_that_an_amplifier_takes_the_place_of_the_one_that_is_named(qtbot, opened, document):
    document.choose(candidate=1)
    dialog = opened("amplifier")
    places = dialog.target.places
    assert [places.itemText(n) for n in range(places.count())] == [
        "each amplifier",
        "Bass amplifier",
        "Treble amplifier",
    ]
    places.setCurrentIndex(2)
    places.activated.emit(2)
    dialog.view.choose(TRIODE)
    press(qtbot, dialog.put_button)
    bass, treble = document.plan.candidates[1].amplifiers
    assert (bass.name, bass.catalogue_id) == ("Bass amplifier", None)
    assert (treble.catalogue_id, treble.drives, treble.trim_db) == (TRIODE, "Dome", -1.0)


def test_that_another_candidate_can_be_chosen_and_is_looked_at(qtbot, opened, document):
    dialog = opened("cable")
    into = dialog.target.candidates
    into.setCurrentIndex(1)
    into.activated.emit(1)
    assert document.candidate == 1
    press(qtbot, dialog.put_button)
    assert document.plan.candidates[0].cable.catalogue_id is None
    assert document.plan.candidates[1].cable.catalogue_id == dialog.view.entry.id


def test_that_a_source_goes_where_there_was_none(qtbot, opened, document):
    dialog = opened("source")
    dialog.view.choose("radio-tuner-1-v")
    press(qtbot, dialog.put_button)
    assert document.plan.candidates[0].source.volts == 1.0


def test_that_a_material_goes_to_the_surface_that_is_chosen(qtbot, opened, document):
    dialog = opened("material")
    places = dialog.target.places
    index = next(n for n in range(places.count()) if places.itemText(n).startswith("Ceiling"))
    places.setCurrentIndex(index)
    places.activated.emit(index)
    dialog.view.choose("rough-lime-plaster-on-stone")
    press(qtbot, dialog.put_button)
    surfaces = document.plan.room.surfaces
    assert surfaces.ceiling[0].material.name == "Rough lime plaster on stone"
    assert surfaces.floor[0].material == "carpet_tufted_9m"


def test_that_in_the_open_air_there_is_no_surface_and_the_button_says_so(qtbot, opened):
    dialog = opened("material", PlanDocument(Plan.model_validate(open_air())))
    assert not dialog.put_button.isEnabled()
    assert "open air" in dialog.put_button.toolTip()


def test_that_going_from_one_kind_to_another_asks_for_the_places_of_that_kind(qtbot, opened):
    dialog = opened("amplifier")
    for kind in ("material", "loudspeaker", "material", "cable"):
        dialog.view.show_kind(kind)
        assert dialog.view.entry.kind == kind
        assert dialog.put_button.isEnabled()


# Own entries.


def keep(qtbot, dialog, begins):
    dialog.keep_menu.aboutToShow.emit()
    action = next(one for one in dialog.keep_menu.actions() if one.text().startswith(begins))
    action.trigger()
    return child(dialog, KeepDialog)


def test_that_a_part_of_the_candidate_is_kept_under_a_name_of_its_own(qtbot, opened, document):
    dialog = opened()
    asked = keep(qtbot, dialog, "Amplifier: Small triode")
    asked.name.selectAll()
    qtbot.keyClicks(asked.name, "Workshop triode")
    qtbot.keyClicks(asked.note, "Measured last winter")
    press(qtbot, asked.keep_button)
    kept = load_catalogue().own
    assert [(one.kind, title_of(one), one.note) for one in kept] == [
        ("amplifier", "Workshop triode", "Measured last winter")
    ]
    assert kept[0].data.taps == document.plan.candidates[0].amplifiers[0].taps
    assert dialog.view.kind == "amplifier"
    assert title_of(dialog.view.entry) == "Workshop triode"
    assert "Workshop triode" in dialog.notice.message.text()


def test_that_only_parts_that_the_candidate_has_are_offered(opened, document):
    dialog = opened()
    dialog.keep_menu.aboutToShow.emit()
    assert [one.text() for one in dialog.keep_menu.actions()] == [
        "Loudspeaker: Two-way horn…",
        "Amplifier: Small triode…",
        "Cable: 2.5 mm², 4 m…",
    ]


def test_that_a_changed_part_can_take_the_place_of_the_entry_it_came_from(qtbot, opened, document):
    keep_own(with_title(built_in(TRIODE), "Mine"))
    own_id = load_catalogue().own[0].id
    dialog = opened("amplifier")
    dialog.view.choose(own_id)
    press(qtbot, dialog.put_button)
    document.edit(("candidates", 0, "amplifiers", 0, "gain_db"), 21.5, "Change gain")
    asked = keep(qtbot, dialog, "Amplifier: Mine")
    assert asked.in_place.isChecked()
    press(qtbot, asked.keep_button)
    assert [(one.id, one.data.gain_db) for one in load_catalogue().own] == [(own_id, 21.5)]


def test_that_an_entry_is_kept_as_a_new_one_where_that_is_wanted(qtbot, opened, document):
    keep_own(with_title(built_in(TRIODE), "Mine"))
    dialog = opened("amplifier")
    dialog.view.choose(load_catalogue().own[0].id)
    press(qtbot, dialog.put_button)
    asked = keep(qtbot, dialog, "Amplifier: Mine")
    asked.as_new.click()
    press(qtbot, asked.keep_button)
    assert [title_of(one) for one in load_catalogue().own] == ["Mine", "Mine 2"]


def test_that_nothing_is_kept_without_a_name(qtbot, opened):
    dialog = opened()
    asked = keep(qtbot, dialog, "Cable")
    asked.name.clear()
    assert not asked.keep_button.isEnabled()
    asked.reject()
    assert load_catalogue().own == ()


def test_that_a_built_in_entry_is_copied_renamed_and_noted(qtbot, opened):
    dialog = opened("amplifier")
    dialog.view.choose(TRIODE)
    press(qtbot, dialog.copy_button)
    details = dialog.view.details
    assert title_of(dialog.view.entry) == "Single triode, 2.5 W 2"
    qtbot.keyClick(dialog.view.table, Qt.Key.Key_F2)
    assert details.name.hasFocus()
    qtbot.keyClicks(details.name, "Bench amplifier")
    qtbot.keyClick(details.name, Qt.Key.Key_Return)
    details.note.setFocus()
    details.note.selectAll()
    qtbot.keyClicks(details.note, "On loan")
    dialog.view.table.setFocus()
    own = load_catalogue().own
    assert [(title_of(one), one.note) for one in own] == [("Bench amplifier", "On loan")]
    assert listed(dialog)[dialog.view.table.currentIndex().row()] == "Bench amplifier"


def test_that_escape_gives_the_old_name_back_and_an_empty_one_is_not_taken(qtbot, opened):
    keep_own(with_title(built_in(TRIODE), "Mine"))
    dialog = opened("amplifier")
    dialog.view.choose(load_catalogue().own[0].id)
    name = dialog.view.details.name
    name.setFocus()
    name.selectAll()
    qtbot.keyClicks(name, "Other")
    qtbot.keyClick(name, Qt.Key.Key_Escape)
    assert name.text() == "Mine"
    name.selectAll()
    qtbot.keyClick(name, Qt.Key.Key_Delete)
    qtbot.keyClick(name, Qt.Key.Key_Return)
    assert name.text() == "Mine"
    assert "needs a name" in dialog.notice.message.text()
    assert title_of(load_catalogue().own[0]) == "Mine"


def test_that_a_removed_entry_can_be_put_back(qtbot, opened):
    keep_own(with_title(built_in(TRIODE), "Mine"), with_title(built_in("single-triode-5-w"), "Also mine"))
    before = load_catalogue().own
    dialog = opened("amplifier")
    dialog.view.choose(before[0].id)
    press(qtbot, dialog.remove_button)
    assert load_catalogue().own == before[1:]
    assert dialog.back_button.isVisible()
    press(qtbot, dialog.back_button)
    assert set(one.id for one in load_catalogue().own) == set(one.id for one in before)
    assert dialog.view.entry == before[0]
    assert not dialog.back_button.isVisible()


def test_that_built_in_entries_cannot_be_removed_or_renamed(qtbot, opened):
    dialog = opened("amplifier")
    assert not dialog.remove_button.isEnabled()
    qtbot.keyClick(dialog.view.table, Qt.Key.Key_F2)
    assert not dialog.view.details.name.isVisible()


def test_that_two_open_windows_show_the_same_catalogue(qtbot, opened):
    first, second = opened("amplifier"), opened("amplifier")
    first.view.choose(TRIODE)
    press(qtbot, first.copy_button)
    assert "Single triode, 2.5 W 2" in listed(second)


def test_that_a_catalogue_that_cannot_be_written_is_told_and_stays_as_it_was(qtbot, opened, own_file):
    own_file.parent.parent.mkdir(parents=True, exist_ok=True)
    own_file.parent.write_text("a file where a folder should be")
    dialog = opened("amplifier")
    press(qtbot, dialog.copy_button)
    assert "could not be written" in dialog.notice.message.text()
    assert catalogue_store().catalogue.own == ()
    own_file.parent.unlink()


def test_that_what_cannot_be_read_of_the_own_file_is_told_and_not_lost(qtbot, opened, own_file):
    keep_own(with_title(built_in(TRIODE), "Mine"))
    data = json.loads(own_file.read_text())
    data["entries"].append({"id": "own-odd", "kind": "amplifier", "data": {"name": "Odd"}})
    own_file.write_text(json.dumps(data))
    dialog = opened("amplifier")
    assert "Not all of your own entries could be read" in dialog.notice.message.text()
    press(qtbot, dialog.unread_button)
    faults = child(dialog, FaultsDialog)
    assert "entries[1].data.drives" in faults.model.data(faults.model.index(0, 0))
    faults.reject()
    press(qtbot, dialog.copy_button)
    kept = json.loads(own_file.read_text())["entries"]
    assert {"id": "own-odd", "kind": "amplifier", "data": {"name": "Odd"}} in kept
    assert len(kept) == 3


# Files.


def choose_file(dialog, path):
    """Do what a person does in the file dialog that is open."""
    asked = child(dialog, QFileDialog)
    asked.setDirectory(str(path.parent))
    asked.selectFile(str(path))
    asked.accept()


def export(dialog, action, path):
    dialog.export_menu.aboutToShow.emit()
    assert action.isEnabled()
    action.trigger()
    choose_file(dialog, path)


@pytest.mark.parametrize("suffix", ["json", "csv"])
def test_that_what_is_listed_goes_to_a_file_and_comes_back_whole(qtbot, opened, tmp_path, suffix):
    dialog = opened()
    qtbot.keyClicks(dialog.view.bar.words, "open baffle")
    shown = dialog.view.listed
    path = tmp_path / f"baffles.{suffix}"
    export(dialog, dialog.export_menu.listed, path)
    assert import_entries(path) == shown
    assert str(path) in dialog.notice.message.text()


def test_that_entries_of_a_file_are_taken_once(qtbot, opened, tmp_path):
    path = tmp_path / "friends.json"
    export_entries([built_in(TRIODE), with_title(built_in(TRIODE), "From a friend")], path)
    dialog = opened()
    press(qtbot, dialog.import_button)
    choose_file(dialog, path)
    assert [title_of(one) for one in load_catalogue().own] == ["From a friend"]
    assert dialog.notice.message.text() == "Entries taken: 1 new, 1 here already."
    assert title_of(dialog.view.entry) == "From a friend"
    press(qtbot, dialog.import_button)
    choose_file(dialog, path)
    assert len(load_catalogue().own) == 1


def test_that_all_faults_of_a_file_are_listed_and_nothing_of_it_is_taken(qtbot, opened, tmp_path, own_file):
    path = tmp_path / "faulty.csv"
    export_entries([built_in(TRIODE), built_in("single-triode-5-w")], path)
    # Rows are those of a spreadsheet, headings being row 1.
    text = path.read_text(encoding="utf-8-sig").replace("2.5,", "-2.5,", 1)
    path.write_text(text.replace(",transformer,", ",valve,"), encoding="utf-8-sig")
    dialog = opened()
    press(qtbot, dialog.import_button)
    choose_file(dialog, path)
    faults = child(dialog, FaultsDialog)
    rows = [faults.model.data(faults.model.index(row, 0)) for row in range(faults.model.rowCount())]
    assert "Row 2, column data.output" in rows
    assert "Row 3, column data.output" in rows
    assert any(one.startswith("Row 2, column data.taps") for one in rows)
    assert "faulty.csv was not taken" in faults.heading.text()
    assert any(str(path) in one.text() for one in faults.findChildren(QLabel))
    press(qtbot, faults.copy_button)
    assert f"{path}: row 3, column data.output" in QCoreApplication.instance().clipboard().text()
    assert not own_file.exists()


def test_that_a_file_that_is_no_catalogue_is_told(qtbot, opened, tmp_path):
    path = tmp_path / "other.json"
    path.write_text('{"format": "something else"}')
    dialog = opened()
    press(qtbot, dialog.import_button)
    choose_file(dialog, path)
    faults = child(dialog, FaultsDialog)
    assert faults.model.data(faults.model.index(0, 0)) == "format"


@pytest.mark.parametrize(
    ("answer", "names", "watts"),
    [
        pytest.param("Keep Both", ["Mine", "Mine 2"], [2.5, 9.0], id="both are kept"),
        pytest.param("Replace Mine", ["Mine"], [9.0], id="the new one takes the place"),
        pytest.param("Cancel", ["Mine"], [2.5], id="nothing is taken"),
    ],
)
def test_that_another_version_of_an_own_entry_is_asked_about(qtbot, opened, tmp_path, answer, names, watts):
    tap = built_in(TRIODE).data.taps[0].model_copy(update={"watts": 2.5})
    mine = with_title(built_in(TRIODE), "Mine")
    mine = mine.model_copy(update={"data": mine.data.model_copy(update={"taps": (tap,)})})
    keep_own(mine)
    own = load_catalogue().own[0]
    other = tap.model_copy(update={"watts": 9.0})
    path = tmp_path / "other.json"
    export_entries([own.model_copy(update={"data": own.data.model_copy(update={"taps": (other,)})})], path)
    dialog = opened("amplifier")
    press(qtbot, dialog.import_button)
    choose_file(dialog, path)
    box = child(dialog, QMessageBox)
    press(qtbot, next(one for one in box.buttons() if one.text().replace("&", "") == answer))
    kept = load_catalogue().own
    assert [title_of(one) for one in kept] == names
    assert [one.data.taps[0].watts for one in kept] == watts


def test_that_a_folder_that_cannot_be_written_is_told(qtbot, opened, tmp_path):
    dialog = opened()
    dialog.files.ask_export([built_in(TRIODE)], "one")
    child(dialog, QFileDialog).reject()
    dialog.files.write(str(tmp_path / "nowhere" / "one.json"))
    assert "could not be written" in dialog.notice.message.text()


# For editors.


def test_that_the_chooser_takes_an_entry_into_the_place_it_was_opened_for(qtbot, document):
    document.choose(candidate=1)
    chooser = CatalogueChooser(document, "amplifier", amplifier=0)
    qtbot.addWidget(chooser)
    chooser.show()
    qtbot.keyClicks(chooser.view.bar.words, "single triode, 8")
    qtbot.keyClick(chooser.view.bar.words, Qt.Key.Key_Return)
    assert document.history.count() == 0
    qtbot.keyClick(chooser.view.table, Qt.Key.Key_Return)
    assert [one.catalogue_id for one in document.plan.candidates[1].amplifiers] == ["single-triode-8-w", None]
    assert document.history.count() == 1


def test_that_the_chooser_begins_at_the_entry_that_the_plan_has_and_changes_nothing_when_left(
    qtbot, document
):
    document.replace(
        document.plan.model_copy(
            update={
                "candidates": (
                    document.plan.candidates[0].model_copy(
                        update={
                            "loudspeaker": built_in("two-straight-horns-103-db").data.model_copy(
                                update={"catalogue_id": "two-straight-horns-103-db"}
                            )
                        }
                    ),
                )
            }
        ),
        "Take horns",
    )
    before = document.plan
    chooser = CatalogueChooser(document, "loudspeaker")
    qtbot.addWidget(chooser)
    chooser.show()
    assert chooser.view.entry.id == "two-straight-horns-103-db"
    press(qtbot, chooser.cancel_button)
    assert document.plan is before


def test_that_the_chooser_puts_a_material_on_its_surface(qtbot, document):
    chooser = CatalogueChooser(document, "material", surface=("room", "surfaces", "floor", 1))
    qtbot.addWidget(chooser)
    chooser.show()
    chooser.view.choose("thick-wool-rug-on-felt")
    press(qtbot, chooser.take_button)
    assert document.plan.room.surfaces.floor[1].material.name == "Thick wool rug on felt"
    assert document.plan.room.surfaces.floor[0].area_m2 == 8.0


# All over.


def test_that_no_access_key_is_given_twice_and_every_widget_with_focus_has_a_name(qtbot, opened):
    for kind in ("loudspeaker", "amplifier", "material"):
        dialog = opened(kind)
        seen = [one for one in dialog.findChildren(QWidget) if one.isVisibleTo(dialog)]
        texts = [one.text() for one in seen if isinstance(one, QAbstractButton | QLabel)]
        texts += [bar.tabText(n) for bar in seen if isinstance(bar, QTabBar) for n in range(bar.count())]
        keys = [text.replace("&&", "").partition("&")[2][:1].upper() for text in texts]
        keys = [key for key in keys if key]
        assert sorted(keys) == sorted(set(keys))
        focusable = [one for one in seen if one.focusPolicy() & Qt.FocusPolicy.TabFocus]
        # The line inside a number field is part of it, and told by its name.
        focusable = [one for one in focusable if not isinstance(one.parentWidget(), NumberField)]
        unnamed = [one for one in focusable if not (one.accessibleName() or getattr(one, "text", str)())]
        assert [type(one).__name__ for one in unnamed] == []


def test_that_a_closed_dialog_is_freed(qtbot, document):
    dialog = CatalogueDialog(document)
    dialog.show()
    refs = [weakref.ref(dialog), weakref.ref(dialog.view), weakref.ref(dialog.view.details)]
    dialog.close()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    del dialog
    gc.collect()
    settings().units = Preference.US
    document.edit(("target", "peak_db"), 99.0, "Change the target")
    qtbot.wait(20)
    assert [ref() for ref in refs] == [None] * 3
