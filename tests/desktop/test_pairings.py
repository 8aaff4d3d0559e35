"""The grid of all pairs in the window, by what a person does there."""

import csv
import shutil
import threading

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QFileDialog, QLabel, QWidget

from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.document import PlanDocument
from planner.desktop.fields import NumberField
from planner.desktop.pairings import PairingsDialog, answer
from planner.desktop.settings import settings
from planner.headroom import compute
from planner.plan import Plan
from planner.plan.catalogue import added, built_in_entries, own_path
from planner.plan.catalogue.entry import with_title
from planner.plan.units import Preference
from tests.desktop.freed import is_freed

BOTH = Qt.Orientation.Horizontal, Qt.Orientation.Vertical


@pytest.fixture(autouse=True)
def own_file(qapp):
    """The file of own entries, not there at first."""
    shutil.rmtree(own_path().parent, ignore_errors=True)
    catalogue_store().refresh()
    yield own_path()
    shutil.rmtree(own_path().parent, ignore_errors=True)


def settled(qtbot, panel):
    qtbot.waitUntil(lambda: panel._late.fresh and not panel._late.busy, timeout=20_000)


@pytest.fixture
def panel(qtbot, document):
    """The grid for the sample plan, shown and worked out."""
    dialog = opened(qtbot, document)
    yield dialog.panel


def opened(qtbot, document):
    dialog = PairingsDialog(document)
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.show()
    settled(qtbot, dialog.panel)
    return dialog


def loudspeakers(panel):
    return [panel.model.loudspeaker(row).name for row in range(panel.model.rowCount())]


def amplifiers(panel):
    return [panel.model.amplifier(column).name for column in range(panel.model.columnCount())]


def cell(panel, loudspeaker, amplifier):
    """The place of a pair, by the names of its parts."""
    return panel.model.index(loudspeakers(panel).index(loudspeaker), amplifiers(panel).index(amplifier))


def headrooms(panel):
    model = panel.model
    rows = range(model.rowCount())
    return np.array(
        [[model.pair(row, one).headroom_db for one in range(model.columnCount())] for row in rows]
    )


def click(qtbot, panel, index):
    panel.table.scrollTo(index)
    viewport = panel.table.viewport()
    qtbot.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=panel.table.visualRect(index).center())


def press_head(qtbot, head, section):
    x_or_y = head.sectionViewportPosition(section) + 12
    across = head.orientation() is Qt.Orientation.Horizontal
    pos = head.viewport().rect().topLeft()
    pos.setX(x_or_y if across else 20)
    pos.setY(20 if across else x_or_y)
    qtbot.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=pos)


def pick(chooser, words):
    index = chooser.findText(words)
    assert index >= 0, f"no choice {words}"
    chooser.setCurrentIndex(index)
    chooser.activated.emit(index)


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


# The pairs.


def test_that_a_cell_says_what_the_candidate_made_of_it_then_has(qtbot, panel, document):
    """The source is the full computation of one candidate, which has tests of its own."""
    for names in (
        ("Two straight horns, 103 dB", "Single triode, 2.5 W"),
        ("Vented standing two-way, 89 dB", "Transistor amplifier, 60 W"),
        ("Two-way horn", "Transistor amplifier, 100 W"),
    ):
        pair = panel.model.pair(*_at(cell(panel, *names)))
        click(qtbot, panel, cell(panel, *names))
        seats = compute(document.plan, document.candidate).seats
        worst = min(seats, key=lambda seat: seat.headroom_db)
        assert pair.headroom_db == pytest.approx(worst.headroom_db, abs=1e-9)
        assert pair.watts_needed == pytest.approx(worst.watts_needed)
        assert pair.watts_rated == worst.watts_rated
        assert pair.verdict == worst.verdict
        assert document.plan.seats[pair.seat].name == worst.name
        limited = worst.first_limit.quantity not in ("voltage", "current")
        assert pair.loudspeaker_first == limited


def _at(index):
    return index.row(), index.column()


def test_that_a_click_makes_a_candidate_as_one_undoable_step_and_looks_at_it(qtbot, panel, document):
    before, cable = document.plan, document.plan.candidates[0].cable
    index = cell(panel, "Two straight horns, 103 dB", "Single triode, 5 W")
    click(qtbot, panel, index)
    made = document.plan.candidates[-1]
    assert made.name == "Two straight horns, 103 dB with Single triode, 5 W"
    assert made.loudspeaker.catalogue_id == "two-straight-horns-103-db"
    assert [one.catalogue_id for one in made.amplifiers] == ["single-triode-5-w"]
    assert made.cable == cable
    assert document.candidate == 2
    assert document.history.count() == 1
    assert document.history.undoText() == f"Add {made.name}"
    assert panel.model.candidate(*_at(index)) == 2
    qtbot.keyClick(panel.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert document.plan is before
    assert panel.model.candidate(*_at(index)) is None


def test_that_a_pair_that_is_a_candidate_is_only_looked_at(qtbot, panel, document):
    # The sample plan's first candidate is this pair with this cable.
    index = cell(panel, "Two-way horn", "Small triode")
    assert panel.model.candidate(*_at(index)) == 0
    assert panel.legend.made.text() == "candidates: 1"
    document.choose(candidate=1)
    document.edit(("candidates", 1, "cable"), document.plan.candidates[0].cable, "Take the same cable")
    settled(qtbot, panel)
    panel.table.setCurrentIndex(cell(panel, "Two-way horn", "Small triode"))
    assert panel.reading.make_button.text() == "Look at &It"
    qtbot.mouseClick(panel.reading.make_button, Qt.MouseButton.LeftButton)
    assert document.candidate == 0
    document.choose(candidate=1)
    click(qtbot, panel, cell(panel, "Two-way horn", "Small triode"))
    assert document.candidate == 0
    assert len(document.plan.candidates) == 2


def test_that_arrow_keys_read_and_return_makes(qtbot, panel, document):
    panel.table.setFocus()
    panel.table.setCurrentIndex(panel.model.index(0, 0))
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Right):
        qtbot.keyClick(panel.table, key)
    assert panel.reading.words.text() == panel.model.sentence(1, 2)
    assert document.history.count() == 0
    qtbot.keyClick(panel.table, Qt.Key.Key_Return)
    assert document.plan.candidates[-1].name == panel.model.name(1, 2)


def test_that_the_pointer_reads_without_choosing(qtbot, panel):
    panel.table.setCurrentIndex(panel.model.index(0, 0))
    over = panel.model.index(3, 1)
    qtbot.mouseMove(panel.table.viewport(), panel.table.visualRect(panel.model.index(2, 2)).center())
    qtbot.mouseMove(panel.table.viewport(), panel.table.visualRect(over).center())
    qtbot.waitUntil(lambda: panel.reading.words.text() == panel.model.sentence(3, 1))
    assert panel.table.currentIndex() == panel.model.index(0, 0)


def test_that_every_cell_says_its_verdict_in_a_word(panel):
    words = {"clears": "Clears", "tight": "Tight", "short": "Short"}
    seen = set()
    for row in range(panel.model.rowCount()):
        for column in range(panel.model.columnCount()):
            index = panel.model.index(row, column)
            if panel.model.why_not(row, column):
                continue
            verdict = panel.model.pair(row, column).verdict
            seen.add(verdict)
            assert panel.model.data(index).startswith(words[verdict])
            told = panel.model.data(index, Qt.ItemDataRole.AccessibleTextRole)
            assert f": {words[verdict].lower()}, " in told
    assert seen == set(words)


def test_that_a_loudspeaker_that_one_amplifier_cannot_drive_is_last_and_says_why(qtbot, panel, document):
    count = panel.model.rowCount()
    assert loudspeakers(panel)[-2:] == ["Horn over two bass drivers, for two amplifiers, 99 dB", "Small box"]
    panel.bar.loudspeakers.turn.click()
    assert set(loudspeakers(panel)[-2:]) == {
        "Horn over two bass drivers, for two amplifiers, 99 dB",
        "Small box",
    }
    index = panel.model.index(count - 1, 0)
    panel.table.setCurrentIndex(index)
    assert "an amplifier for each section" in panel.reading.words.text()
    assert not panel.reading.make_button.isEnabled()
    click(qtbot, panel, index)
    assert document.history.count() == 0


def test_that_an_amplifier_whose_tap_is_none_of_its_own_is_last_and_says_why(qtbot, document):
    entry = next(one for one in built_in_entries() if one.id == "single-triode-5-w")
    odd = with_title(entry, "Odd one")
    odd = odd.model_copy(update={"data": odd.data.model_copy(update={"tap_ohm": 600.0})})
    catalogue_store().change(lambda catalogue: added(catalogue, odd))
    dialog = opened(qtbot, document)
    panel = dialog.panel
    assert amplifiers(panel)[-1] == "Odd one"
    assert "none of its taps" in panel.model.why_not(0, panel.model.columnCount() - 1)


def test_that_own_entries_take_part_as_soon_as_they_are_kept(qtbot, panel):
    entry = next(one for one in built_in_entries() if one.id == "single-triode-5-w")
    catalogue_store().change(lambda catalogue: added(catalogue, with_title(entry, "Bench amplifier")))
    settled(qtbot, panel)
    assert "Bench amplifier" in amplifiers(panel)
    pick(panel.bar.amplifiers.kind, "My own")
    assert amplifiers(panel) == ["Bench amplifier"]


# What is wanted.


def test_that_words_kind_and_watts_leave_what_is_wanted(qtbot, panel):
    qtbot.keyClicks(panel.bar.loudspeakers.words, "straight")
    assert len(loudspeakers(panel)) == 5
    pick(panel.bar.loudspeakers.kind, "Open baffles")
    assert loudspeakers(panel) == []
    assert panel.nothing.isVisible()
    assert not panel.reading.copy_button.isEnabled()
    panel.bar.loudspeakers.words.clear()
    assert all("open baffle" in name.lower() for name in loudspeakers(panel))
    type_into(qtbot, panel.bar.least, "10 W")
    type_into(qtbot, panel.bar.most, "0,03 kW")
    figures = [panel.model.figure(n, BOTH[0]) for n in range(panel.model.columnCount())]
    watts = [float(text.removesuffix(" W")) for text in figures]
    assert watts == sorted(watts) and watts[0] == 10.0 and watts[-1] == 30.0
    pick(panel.bar.amplifiers.kind, "Direct output")
    # The first of them drives one section in the sample plan; here it would drive all.
    assert amplifiers(panel) == [
        "Bass amplifier",
        "Transistors in class A, 20 W",
        "Transistors without feedback, 30 W",
    ]


def test_that_parts_of_the_plan_are_offered_beside_the_catalogue(panel):
    pick(panel.bar.loudspeakers.kind, "Of this plan")
    pick(panel.bar.amplifiers.kind, "Of this plan")
    assert set(loudspeakers(panel)) == {"Two-way horn", "Small box"}
    assert set(amplifiers(panel)) == {"Small triode", "Bass amplifier", "Treble amplifier"}


def test_that_only_what_clears_leaves_partners_that_clear(qtbot, panel):
    whole = headrooms(panel)
    qtbot.mouseClick(panel.bar.only_clear, Qt.MouseButton.LeftButton)
    left = headrooms(panel)
    assert 0 < left.size < whole.size
    assert np.all((left >= 3.0).any(axis=1))
    assert np.all((left >= 3.0).any(axis=0))
    assert (left >= 3.0).sum() == (whole >= 3.0).sum()


def test_that_the_legend_counts_the_pairs_that_are_shown(qtbot, panel):
    qtbot.keyClicks(panel.bar.loudspeakers.words, "horn")
    level = headrooms(panel)
    level = level[np.isfinite(level)]
    counts = {key: int(label.text().split()[0]) for key, label in panel.legend.counts.items()}
    assert counts == {
        "clears": np.sum(level >= 3.0),
        "tight": np.sum((level >= 0.0) & (level < 3.0)),
        "short": np.sum(level < 0.0),
    }


def test_that_a_chosen_seat_is_judged_in_place_of_the_worst(panel, document):
    at_worst = headrooms(panel)
    found = panel.model.answer.pairs.headroom_db
    assert np.nanmax(np.abs(found[..., 0] - found[..., 1])) > 0.1
    for number, name in enumerate(("Sofa", "Desk")):
        pick(panel.bar.seat, name)
        level = headrooms(panel)
        known = np.isfinite(level)
        assert np.all(level[known] >= at_worst[known])
        pair = panel.model.pair(0, 0)
        assert pair.seat == number
        assert f"at {name}" in panel.model.sentence(0, 0)
    pick(panel.bar.seat, "Worst seat")
    assert np.array_equal(headrooms(panel), at_worst, equal_nan=True)


def test_that_each_side_is_sorted_as_asked_and_turned_round(qtbot, panel):
    rows = range(panel.model.rowCount() - 2)
    figures = [float(panel.model.figure(row, BOTH[1]).split()[0]) for row in rows]
    assert figures == sorted(figures, reverse=True)
    panel.bar.loudspeakers.turn.click()
    assert [float(panel.model.figure(row, BOTH[1]).split()[0]) for row in rows] == sorted(figures)
    pick(panel.bar.loudspeakers.order, "Name")
    names = [name.casefold() for name in loudspeakers(panel)[:-2]]
    assert names == sorted(names)
    pick(panel.bar.loudspeakers.order, "Watts needed")
    model, columns = panel.model, range(panel.model.columnCount())
    needed = [min(model.pair(row, column).watts_needed for column in columns) for row in rows]
    assert needed == sorted(needed)
    pick(panel.bar.amplifiers.order, "Best headroom")
    best = np.nanmax(headrooms(panel)[:-2], axis=0)
    assert np.all(np.diff(best) <= 0.0)


def test_that_a_pressed_name_sorts_by_the_headroom_with_it_and_again_the_other_way(qtbot, panel):
    wanted = panel.model.amplifier(4).key
    press_head(qtbot, panel.table.horizontalHeader(), 4)
    column = next(n for n in range(panel.model.columnCount()) if panel.model.amplifier(n).key == wanted)
    assert np.all(np.diff(headrooms(panel)[:-2, column]) <= 0.0)
    assert panel.bar.loudspeakers.order.currentText().startswith("Headroom with")
    press_head(qtbot, panel.table.horizontalHeader(), column)
    assert np.all(np.diff(headrooms(panel)[:-2, column]) >= 0.0)
    loudspeaker = panel.model.loudspeaker(0).key
    press_head(qtbot, panel.table.verticalHeader(), 0)
    row = next(n for n in range(panel.model.rowCount()) if panel.model.loudspeaker(n).key == loudspeaker)
    assert np.all(np.diff(headrooms(panel)[row]) <= 0.0)


def test_that_the_menu_of_a_pair_does_by_keyboard_what_names_do_when_pressed(qtbot, panel, document):
    index = cell(panel, "Two-way horn", "Single triode, 5 W")
    panel.table.setCurrentIndex(index)
    menu = panel.table.made_menu(index)
    by_amplifier = next(one for one in menu.actions() if "Single triode, 5 W" in one.text())
    by_amplifier.trigger()
    column = amplifiers(panel).index("Single triode, 5 W")
    assert np.all(np.diff(headrooms(panel)[:-2, column]) <= 0.0)
    assert panel.table.keys == panel.model.keys(cell(panel, "Two-way horn", "Single triode, 5 W"))
    next(one for one in menu.actions() if "Candidate" in one.text()).trigger()
    assert document.plan.candidates[-1].name == "Two-way horn with Single triode, 5 W"
    menu.close()


# Beside the window.


def test_that_the_window_goes_on_while_pairs_are_worked_out_and_the_newest_plan_wins(
    qtbot, panel, document, monkeypatch
):
    gate, begun = threading.Event(), []
    true_pairings = answer.pairings

    def slow(plan, *rest):
        begun.append((threading.get_ident(), plan.target.peak_db))
        assert gate.wait(20.0)
        return true_pairings(plan, *rest)

    monkeypatch.setattr(answer, "pairings", slow)
    shown = headrooms(panel)
    document.edit(("target", "peak_db"), 101.0, "Change the target")
    qtbot.waitUntil(lambda: len(begun) == 1)
    for level in (102.0, 103.0, 104.0):
        document.edit(("target", "peak_db"), level, "Change the target")
        qtbot.wait(5)
    assert panel.table.delegate.stale
    assert np.array_equal(headrooms(panel), shown, equal_nan=True)
    gate.set()
    settled(qtbot, panel)
    assert [level for _, level in begun] == [101.0, 104.0]
    assert threading.get_ident() not in [thread for thread, _ in begun]
    known = np.isfinite(shown)
    assert headrooms(panel)[known] == pytest.approx(shown[known] - 4.0, abs=1e-6)
    assert not panel.table.delegate.stale


def test_that_what_does_not_bear_on_the_pairs_asks_for_nothing_new(qtbot, panel, document, monkeypatch):
    monkeypatch.setattr(answer, "pairings", lambda *_: pytest.fail("worked out again"))
    document.edit(("title",), "Another title", "Change the title")
    click(qtbot, panel, cell(panel, "Two straight horns, 103 dB", "Single triode, 5 W"))
    qtbot.wait(400)
    assert panel._late.fresh


def test_that_another_cable_is_another_answer(qtbot, panel, document):
    before = panel.model.pair(0, 0).headroom_db
    document.edit(("candidates", 0, "cable", "length_m"), 100.0, "Change the length")
    settled(qtbot, panel)
    assert panel.model.pair(0, 0).headroom_db < before - 0.1
    assert "100 m" in panel.legend.meaning.text()


def test_that_a_room_that_contradicts_itself_is_said_in_place_of_the_grid(qtbot, panel, document):
    document.edit(("seats", 0, "x_m"), 9.0, "Move the seat")
    settled(qtbot, panel)
    assert not panel.table.isVisible()
    assert "Sofa" in panel.nothing.text()
    document.history.undo()
    settled(qtbot, panel)
    assert panel.table.isVisible()


def test_that_stands_with_named_sections_leave_out_loudspeakers_that_have_others(qtbot, sample_plan):
    stands = tuple(one.model_copy(update={"carries": ("Bass", "Horn")}) for one in sample_plan.stands)
    candidates = sample_plan.candidates[:1]
    plan = sample_plan.model_copy(update={"stands": stands, "candidates": candidates})
    dialog = opened(qtbot, PlanDocument(Plan.model_validate(plan.model_dump())))
    panel = dialog.panel
    reasons = [panel.model.loudspeaker_reason(row) for row in range(panel.model.rowCount())]
    for row, reason in enumerate(reasons):
        sections = {one.name for one in panel.model.loudspeaker(row).thing.sections}
        assert ("stands carry sections by name" in reason) == (sections != {"Bass", "Horn"})
    assert reasons[loudspeakers(panel).index("Two-way horn")] == ""


# Numbers out of the window.


def test_that_the_grid_is_copied_as_it_is_shown(qtbot, panel):
    qtbot.keyClicks(panel.bar.loudspeakers.words, "straight")
    panel.table.setFocus()
    qtbot.keyClick(panel.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    rows = list(csv.reader(QGuiApplication.clipboard().text().splitlines(), delimiter="\t"))
    assert rows[0][1:] == [f"{name} (dB)" for name in amplifiers(panel)]
    assert [row[0] for row in rows[1:]] == loudspeakers(panel)
    levels = np.array([[float(cell) for cell in row[1:]] for row in rows[1:]])
    assert levels == pytest.approx(headrooms(panel))


@pytest.mark.parametrize(("choice", "mark", "point"), [(0, ",", "."), (1, ";", ",")])
def test_that_every_pair_shown_goes_to_a_file_with_all_seats(qtbot, panel, tmp_path, choice, mark, point):
    pick(panel.bar.loudspeakers.kind, "Of this plan")
    qtbot.mouseClick(panel.reading.save_button, Qt.MouseButton.LeftButton)
    asked = next(one for one in panel.findChildren(QFileDialog) if one.isVisible())
    asked.selectNameFilter(asked.nameFilters()[choice])
    asked.filterSelected.emit(asked.nameFilters()[choice])
    asked.setDirectory(str(tmp_path))
    asked.selectFile(str(tmp_path / "pairs.csv"))
    asked.accept()
    lines = (tmp_path / "pairs.csv").read_text(encoding="utf-8-sig").splitlines()
    assert lines[0] == "# Sample room"
    table = list(csv.DictReader([one for one in lines if not one.startswith("#")], delimiter=mark))
    assert len(table) == panel.model.rowCount() * panel.model.columnCount()
    found = panel.model.answer
    row = next(
        one
        for one in table
        if (one["Loudspeaker"], one["Amplifier"]) == ("Two-way horn", "Transistor amplifier, 60 W")
    )
    places = (
        [one.name for one in found.loudspeakers].index("Two-way horn"),
        [one.name for one in found.amplifiers].index("Transistor amplifier, 60 W"),
    )
    for number, seat in enumerate(("Sofa", "Desk")):
        level = float(row[f"Headroom at {seat} (dB)"].replace(point, "."))
        assert level == pytest.approx(found.pairs.headroom_db[(*places, number)])
    out = [one for one in table if one["Loudspeaker"] == "Small box"]
    assert out and all("each section" in one["Why not"] and not one["Watts rated (W)"] for one in out)
    assert str(tmp_path / "pairs.csv") in panel.reading.words.text()


def test_that_a_file_that_cannot_be_written_is_told(panel, tmp_path):
    panel.files.write(str(tmp_path / "nowhere" / "pairs.csv"))
    assert "could not be written" in panel.reading.words.text()


# All over.


def test_that_names_and_figures_stay_in_sight_while_the_grid_is_scrolled(qtbot, panel):
    bar = panel.table.verticalScrollBar()
    bar.setValue(bar.value() + 17)
    across = panel.table.horizontalScrollBar()
    across.setValue(23)
    assert (bar.value(), across.value()) == (17, 23)
    for head in (panel.table.horizontalHeader(), panel.table.verticalHeader()):
        assert head.isVisible()


def test_that_no_access_key_is_given_twice_and_every_widget_with_focus_has_a_name(qtbot, document):
    dialog = opened(qtbot, document)
    seen = [one for one in dialog.findChildren(QWidget) if one.isVisibleTo(dialog)]
    texts = [one.text() for one in seen if isinstance(one, QAbstractButton | QLabel)]
    keys = [text.replace("&&", "").partition("&")[2][:1].upper() for text in texts]
    keys = [key for key in keys if key]
    assert sorted(keys) == sorted(set(keys))
    focusable = [one for one in seen if one.focusPolicy() & Qt.FocusPolicy.TabFocus]
    # The line inside a number field is part of it, and told by its name.
    focusable = [one for one in focusable if not isinstance(one.parentWidget(), NumberField)]
    unnamed = [one for one in focusable if not (one.accessibleName() or getattr(one, "text", str)())]
    assert [type(one).__name__ for one in unnamed] == []


def test_that_a_closed_grid_is_freed_even_while_it_is_worked_out(qtbot, document):
    assert is_freed(lambda: PairingsDialog(document))
    settings().units = Preference.US
    document.edit(("target", "peak_db"), 99.0, "Change the target")
    qtbot.wait(20)
    QCoreApplication.processEvents()
