"""The editors of the room by the user's acts: open air, faces and materials, furnishings, octaves, noise."""

import pytest
from PySide6.QtCore import Qt

from planner.desktop.editors import EditorColumn
from planner.desktop.editors.catalogue import item_entries, material_entries
from planner.desktop.editors.furnishings import ThingRow
from planner.desktop.editors.picker import Picker
from planner.desktop.editors.surfaces import FaceEditor, PatchRow
from planner.desktop.settings import settings
from planner.plan.room import OwnItem, OwnMaterial
from planner.plan.units import Preference
from planner.resources import materials
from tests.desktop.editing import button, field_at, fold, notes, open_all, type_into


@pytest.fixture
def column(qtbot, document):
    column = EditorColumn(document)
    qtbot.addWidget(column)
    open_all(column)
    with qtbot.waitActive(column):
        column.show()
        column.activateWindow()
    return column


def face(column, name):
    editors = column.findChildren(FaceEditor)
    return next(one for one in editors if one._name == name)


def picker(widget):
    (found,) = widget.findChildren(Picker)
    return found


def rows(editor, kind):
    return [row for row in editor.rows.rows if isinstance(row, kind)]


def test_that_a_size_typed_in_feet_and_inches_changes_the_room(qtbot, column, document):
    type_into(qtbot, field_at(column, "room", "length_m"), "20 ft 6 in")
    assert document.plan.room.length_m == pytest.approx(6.2484)


def test_that_volume_and_surface_follow_the_size(qtbot, column, document):
    type_into(qtbot, field_at(column, "room", "length_m"), "10")
    type_into(qtbot, field_at(column, "room", "width_m"), "5")
    type_into(qtbot, field_at(column, "room", "height_m"), "3")
    # By hand: 10 × 5 × 3 = 150; 2 × (50 + 30 + 15) = 190.
    assert fold(column, "Size").body.hint.text() == "Volume 150.0 m³, surface 190.0 m²"
    settings().units = Preference.US
    # By hand: 150 / 0.3048³ = 5297; 190 / 0.3048² = 2045.
    assert fold(column, "Size").body.hint.text() == "Volume 5297 ft³, surface 2045 ft²"


def test_that_a_room_left_for_the_open_air_comes_back_as_it_was(qtbot, column, document):
    before = document.plan.room
    place = field_at(column, "room")
    place.setFocus()
    qtbot.keyClick(place, Qt.Key.Key_Down)
    assert document.plan.room is None
    qtbot.wait(10)
    assert document.outcome.room is None
    qtbot.keyClick(place, Qt.Key.Key_Up)
    assert document.plan.room == before
    assert document.history.count() == 2
    assert field_at(column, "room", "length_m").isVisible()


def test_that_a_plan_in_the_open_air_gets_a_room_that_holds_everybody(qtbot, sample_plan):
    from planner.desktop.document import PlanDocument
    from planner.plan.reshape import open_air

    document = PlanDocument(open_air(sample_plan))
    column = EditorColumn(document)
    qtbot.addWidget(column)
    place = field_at(column, "room")
    place.setCurrentIndex(0)
    place.activated.emit(0)
    assert document.plan.room is not None
    qtbot.wait(10)
    assert document.findings == ()


def test_that_searching_narrows_the_list_and_return_takes_the_entry_looked_at(qtbot, column, document):
    ceiling = face(column, "Ceiling")
    qtbot.mouseClick(rows(ceiling, PatchRow)[0].material, Qt.MouseButton.LeftButton)
    choice = picker(ceiling)
    assert choice.looked_at.key == "plasterboard"
    qtbot.keyClicks(choice.search, "velvet CURTAIN")
    assert choice.looked_at.key == "curtains_velvet"
    assert choice.sketch.traces[0].values.tolist() == list(materials()["curtains_velvet"].absorption)
    assert "Springer" in choice.source.text()
    qtbot.keyClick(choice.search, Qt.Key.Key_Return)
    assert document.plan.room.surfaces.ceiling[0].material == "curtains_velvet"
    assert document.history.count() == 1
    assert rows(ceiling, PatchRow)[0].material.accessibleName() == "Ceiling: Tight velvet curtains"


def test_that_the_list_is_walked_by_keys_from_the_search_box_and_escape_changes_nothing(
    qtbot, column, document
):
    ceiling = face(column, "Ceiling")
    rows(ceiling, PatchRow)[0].material.click()
    choice = picker(ceiling)
    qtbot.keyClicks(choice.search, "curtain")
    first = choice.looked_at.key
    qtbot.keyClick(choice.search, Qt.Key.Key_Down)
    assert choice.looked_at.key != first
    qtbot.keyClick(choice.search, Qt.Key.Key_Up)
    assert choice.looked_at.key == first
    qtbot.keyClick(choice.search, Qt.Key.Key_Escape)
    assert document.history.count() == 0


def test_that_a_search_without_a_match_offers_nothing(qtbot, column):
    ceiling = face(column, "Ceiling")
    rows(ceiling, PatchRow)[0].material.click()
    choice = picker(ceiling)
    qtbot.keyClicks(choice.search, "xyzzy")
    assert choice.looked_at is None
    assert not choice.take.isEnabled()
    choice.search.clear()
    assert choice.looked_at is not None
    choice.close()


def test_that_a_material_added_to_a_face_leaves_the_rest_to_the_others(qtbot, column, document):
    ceiling = face(column, "Ceiling")
    button(ceiling, "Add a material to: Ceiling").click()
    choice = picker(ceiling)
    qtbot.keyClicks(choice.search, "velvet")
    choice.take.click()
    new, old = document.plan.room.surfaces.ceiling
    # By hand: a quarter of 6.0 × 4.4 m².
    assert (new.material, new.area_m2, old.area_m2) == ("curtains_velvet", 6.6, None)
    shown = rows(ceiling, PatchRow)
    assert [row.area.text() for row in shown] == ["6.6 m²", ""]
    assert [row.area.placeholder for row in shown] == ["the rest", "the rest"]
    shown[0].remove.click()
    assert len(document.plan.room.surfaces.ceiling) == 1
    assert not rows(ceiling, PatchRow)[0].area.isVisible()


def test_that_areas_that_do_not_fit_a_face_are_said_below_it(qtbot, column, document):
    type_into(qtbot, field_at(column, "room", "surfaces", "floor", 0, "area_m2"), "40")
    qtbot.waitUntil(lambda: document.stale)
    qtbot.wait(10)
    assert any(
        "areas of at most 26.4 m², the size of this face" in note for note in notes(face(column, "Floor"))
    )


def test_that_a_material_of_ones_own_begins_with_the_one_looked_at(qtbot, column, document):
    ceiling = face(column, "Ceiling")
    rows(ceiling, PatchRow)[0].material.click()
    choice = picker(ceiling)
    qtbot.keyClicks(choice.search, "velvet")
    choice.own.click()
    own = document.plan.room.surfaces.ceiling[0].material
    assert isinstance(own, OwnMaterial)
    assert own.absorption["1000"] == materials()["curtains_velvet"].absorption[3]
    assert document.history.count() == 1
    type_into(qtbot, field_at(column, "room", "surfaces", "ceiling", 0, "material", "name"), "Heavy curtain")
    assert document.plan.room.surfaces.ceiling[0].material.name == "Heavy curtain"


def test_that_octaves_of_a_material_are_typed_one_by_one_and_may_be_left_out(qtbot, column, document):
    back = face(column, "Back wall")
    grid = rows(back, PatchRow)[0]._parts[-1].part._grid
    assert grid.fields["125"].text() == "0.2"
    type_into(qtbot, grid.fields["500"], "0,28")
    assert document.plan.room.surfaces.back[0].material.absorption["500"] == 0.28
    type_into(qtbot, grid.fields["125"], "")
    assert "125" not in document.plan.room.surfaces.back[0].material.absorption
    type_into(qtbot, grid.fields["250"], "1.5")
    assert "too much" in grid.fields["250"].fault
    assert grid.fields["250"].text() == "1.5"


def test_that_furnishings_are_added_counted_and_taken_away(qtbot, column, document):
    editor = fold(column, "Furnishings").body
    editor.add.click()
    choice = picker(editor)
    qtbot.keyClicks(choice.search, "armchair")
    choice.take.click()
    assert document.plan.room.furnishings[-1].item == "armchair"
    type_into(qtbot, field_at(column, "room", "furnishings", 2, "count"), "4")
    assert document.plan.room.furnishings[2].count == 4
    type_into(qtbot, field_at(column, "room", "furnishings", 2, "count"), "4.5")
    assert document.plan.room.furnishings[2].count == 4
    assert any("not a whole number" in note for note in notes(editor))
    button(rows(editor, ThingRow)[2], "Take this row away").click()
    assert len(document.plan.room.furnishings) == 2


def test_that_one_figure_for_an_item_can_be_given_by_octave(qtbot, column, document):
    editor = fold(column, "Furnishings").body
    type_into(qtbot, field_at(column, "room", "furnishings", 1, "item", "area_m2"), "1.2 m2")
    assert document.plan.room.furnishings[1].item.area_m2 == 1.2
    button(editor, "Give it by octave").click()
    item = document.plan.room.furnishings[1].item
    assert isinstance(item, OwnItem)
    assert set(item.area_m2.values()) == {1.2}


def test_that_a_measured_reverberation_time_takes_the_place_of_the_computed_one(qtbot, column, document):
    grid = fold(column, "Reverberation").body.grid
    computed = grid.fields["500"].placeholder
    assert computed.endswith(" s")
    type_into(qtbot, grid.fields["500"], "0.35")
    assert dict(document.plan.room.measured_t60_s) == {"500": 0.35}
    qtbot.waitUntil(lambda: grid.fields["1000"].placeholder == "0.35 s")
    assert "0.35 s" in fold(column, "Reverberation").heading.summary
    type_into(qtbot, grid.fields["500"], "")
    assert document.plan.room.measured_t60_s is None
    qtbot.waitUntil(lambda: grid.fields["500"].placeholder == computed)


def test_that_an_empty_octave_is_stepped_from_the_value_in_use(qtbot, column, document):
    grid = fold(column, "Reverberation").body.grid
    field = grid.fields["500"]
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Up)
    in_use = float(field.placeholder.split()[0])
    assert document.plan.room.measured_t60_s["500"] > in_use


def test_that_room_noise_is_given_by_one_of_two_measures(qtbot, column, document):
    kind = field_at(column, "room", "noise")
    kind.setFocus()
    qtbot.keyClick(kind, Qt.Key.Key_Down)
    assert document.plan.room.noise.nc is not None
    type_into(qtbot, field_at(column, "room", "noise", "nc"), "25")
    qtbot.keyClick(kind, Qt.Key.Key_Down)
    type_into(qtbot, field_at(column, "room", "noise", "dba"), "31 dBA")
    assert (document.plan.room.noise.nc, document.plan.room.noise.dba) == (None, 31.0)


def test_that_air_and_leak_are_numbers_like_all_others(qtbot, column, document):
    type_into(qtbot, field_at(column, "room", "temperature_c"), "68 °F".replace("°", "deg"))
    assert document.plan.room.temperature_c == pytest.approx(20.0)
    type_into(qtbot, field_at(column, "room", "humidity_pct"), "101")
    assert document.plan.room.humidity_pct == 50.0
    type_into(qtbot, field_at(column, "room", "leak_hz"), "30")
    assert document.plan.room.leak_hz == 30.0


@pytest.mark.parametrize("entries", [material_entries(), item_entries()], ids=["materials", "furnishings"])
def test_that_every_entry_to_pick_tells_its_values_and_who_says_so(entries):
    assert len({entry.key for entry in entries}) == len(entries)
    assert all(len(entry.values) == 7 and entry.words and entry.group and entry.source for entry in entries)
