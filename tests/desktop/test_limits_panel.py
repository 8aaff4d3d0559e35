"""What gives out first, bar by bar, and the taps: each press one undoable step."""

from functools import partial

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from planner.desktop.charts.axes import LONGEST_NAME_SHARE
from planner.desktop.document import PlanDocument
from planner.desktop.limits import LimitsPanel
from planner.desktop.limits import panel as panel_module
from planner.desktop.limits.graph import MOST_DB
from planner.desktop.triode import TriodeDialog
from planner.headroom.outcome import verdict_of
from planner.headroom.taps import tap_choices
from planner.plan import get
from planner.report.words import limit_text
from tests.desktop.charts.samples import press
from tests.desktop.charts.seat_samples import PEAK, demo, edit, open_air_plan, put_up, words_of
from tests.desktop.freed import is_freed

SMALL = (480, 320)
TAP = ("candidates", 0, "amplifiers", 0, "tap_ohm")


@pytest.fixture
def map_room(qtbot):
    return put_up(qtbot, LimitsPanel, demo("map_room"), (640, 440))


@pytest.fixture
def two_amplifiers(qtbot):
    return put_up(qtbot, LimitsPanel, demo("reading_room"), (640, 440))


def bars(chart) -> list[tuple[float, float]]:
    """Row and end of each bar, from the top."""
    rects = sorted(
        (rect for group in chart.bars._rects.values() for rect in group), key=lambda r: -r.center().y()
    )
    return [
        (round(-rect.center().y()), rect.right() if rect.right() > 0.0 else rect.left()) for rect in rects
    ]


def tile(panel, ohm):
    (found,) = (one for one in panel.taps.tiles if one.ohm == ohm)
    return found


def test_that_every_limit_has_a_bar_the_least_headroom_on_top(map_room):
    limits = map_room.chart.sight.seat.limits
    headroom = [one.headroom_db for one in limits]
    assert headroom == sorted(headroom)
    assert [end for _, end in bars(map_room.chart)] == pytest.approx(np.minimum(headroom, MOST_DB))
    assert [row for row, _ in bars(map_room.chart)] == list(range(len(limits)))


def test_that_each_bar_says_part_quantity_band_and_headroom(map_room):
    chart, limits = map_room.chart, map_room.chart.sight.seat.limits
    names = chart.table().columns[0].values
    assert names[0] == f"{limits[0].quantity}, {limits[0].part}"
    assert words_of(chart.captions)[0] == f"+{limits[0].headroom_db:.1f} dB at 250 Hz"
    assert len(words_of(chart.captions)) == len(limits)
    assert chart.headline() == (
        f"V{limit_text(limits[0])[1:]} gives out first, with {limits[0].headroom_db:.1f} dB to spare"
    )


def test_that_words_of_the_bars_find_room_right_of_them(qtbot, map_room):
    for size in (SMALL, (640, 440), (900, 600)):
        map_room.resize(*size)
        for candidate in range(len(map_room._document.outcomes)):
            map_room._document.choose(candidate=candidate)
            QApplication.processEvents()
            chart = map_room.chart
            ends = {caption.y: box.left() for caption, box in chart.captions.placed}
            for row, end in bars(chart):
                if row in ends:
                    right = chart.scales.x.share(max(end, 0.0)) * chart.scales.width_px
                    assert ends[row] >= right - 1.0
            assert chart._left._breadth <= LONGEST_NAME_SHARE * chart.width() + 20.0


def test_that_a_short_seat_is_told_in_the_colours_of_its_verdict(qtbot, map_room):
    map_room._document.choose(candidate=2)
    chart, limits = map_room.chart, map_room.chart.sight.seat.limits
    short = [one for one in limits if one.headroom_db < 0.0]
    assert len(chart.bars._rects["short"]) == len(short) == 2
    assert chart.headline().endswith(f"gives out first, {-limits[0].headroom_db:.1f} dB short")
    assert chart.zones["short"].rect().right() == pytest.approx(0.0)
    assert chart.zones["tight"].rect().right() == pytest.approx(3.0)


def test_that_what_finds_no_room_stays_in_the_table_and_is_told(qtbot, two_amplifiers):
    two_amplifiers.resize(*SMALL)
    QApplication.processEvents()
    chart = two_amplifiers.chart
    shown = len(chart.scales.y.picked)
    count = len(chart.sight.seat.limits)
    assert shown < count == len(chart.table())
    assert f"{count - shown} more in the table" in [words for _, words in chart.key_entries()]
    verdicts = [verdict_of(one.headroom_db) for one in chart.sight.seat.limits]
    assert list(chart.table().columns[3].values) == verdicts


def test_that_sections_without_limits_are_named(qtbot):
    panel = put_up(qtbot, LimitsPanel, PlanDocument(open_air_plan()))
    assert [words for _, words in panel.chart.key_entries()] == ["No limits in the plan for full"]
    assert "No limits in the plan for full." in panel.chart.summary()


def test_that_a_row_is_read_by_keys(map_room):
    press(map_room.chart, Qt.Key.Key_Down)
    press(map_room.chart, Qt.Key.Key_Down)
    second = map_room.chart.sight.seat.limits[1]
    (entry,) = map_room.chart.reading_entries(1)
    assert map_room.chart.row_read == 1
    assert entry[1] == f"current, Single triode, 2.5 W: +{second.headroom_db:.1f} dB at 160 Hz, clears"
    assert map_room.chart.reading() == map_room.chart.table().reading(1)


def test_that_every_tap_shows_its_rating_and_what_it_would_leave(map_room):
    (found,) = tap_choices(map_room._document.plan, 0)
    assert [one.ohm for one in map_room.taps.tiles] == [tap.ohm for tap in found.taps]
    for tap in found.taps:
        words = tile(map_room, tap.ohm).accessibleDescription()
        assert f"2.5 W at 3 %, output impedance {tap.rating.output_ohm:g} Ω" in words
        assert f"headroom +{tap.headroom_db[0]:.1f} dB, {verdict_of(tap.headroom_db[0])}" in words
    assert [one.isChecked() for one in map_room.taps.tiles] == [False, True, False]
    assert tile(map_room, 8.0).accessibleName() == "The 8 Ω tap is in use"
    assert "the rule takes this one" in tile(map_room, 8.0).accessibleDescription()
    assert map_room.taps.why.text().startswith("8 Ω by the rule, nearest to 8 Ω nominal")


@pytest.mark.parametrize("press_it", ["click", "space"])
def test_that_pressing_a_tap_uses_it_as_one_step_that_can_be_undone(qtbot, map_room, press_it):
    document, before = map_room._document, map_room._document.plan
    expected = tap_choices(before, 0)[0].taps[2].headroom_db[0]
    with qtbot.waitSignal(document.solved):
        if press_it == "click":
            qtbot.mouseClick(tile(map_room, 16.0), Qt.MouseButton.LeftButton)
        else:
            tile(map_room, 16.0).setFocus()
            qtbot.keyClick(tile(map_room, 16.0), Qt.Key.Key_Space)
    assert get(document.plan, TAP) == 16.0
    assert document.history.count() == 1 and document.history.undoText() == "Use the 16 Ω tap"
    assert map_room.chart.sight.seat.headroom_db == pytest.approx(expected)
    assert tile(map_room, 16.0).isChecked() and not tile(map_room, 8.0).isChecked()
    assert "16 Ω by the plan; the rule would take 8 Ω" in map_room.taps.why.text()
    assert "8 Ω would give" in map_room.taps.why.text()
    with qtbot.waitSignal(document.solved):
        document.history.undo()
    assert document.plan is before and tile(map_room, 8.0).isChecked()


def test_that_the_rule_takes_the_choice_back_as_one_step(qtbot, map_room):
    document = map_room._document
    assert not map_room.taps.rule.isEnabled()
    edit(qtbot, document, TAP, 4.0)
    assert map_room.taps.rule.isEnabled()
    with qtbot.waitSignal(document.solved):
        qtbot.mouseClick(map_room.taps.rule, Qt.MouseButton.LeftButton)
    assert get(document.plan, TAP) is None and document.history.undoText() == "Choose the tap by rule"
    assert document.history.count() == 2 and not map_room.taps.rule.isEnabled()


def test_that_pressing_the_tap_in_use_states_it_and_keeps_it_marked(qtbot, map_room):
    qtbot.mouseClick(tile(map_room, 8.0), Qt.MouseButton.LeftButton)
    assert get(map_room._document.plan, TAP) == 8.0
    assert tile(map_room, 8.0).isChecked()
    qtbot.waitUntil(lambda: "8 Ω by the plan; the rule would take it too" in map_room.taps.why.text())


def test_that_with_several_amplifiers_a_chooser_tells_whose_taps_are_shown(qtbot, two_amplifiers):
    panel = two_amplifiers
    names = [one.name for one in panel._document.plan.candidates[0].amplifiers]
    assert [panel.taps.chooser.itemText(index) for index in range(2)] == names
    panel.taps.chooser.setFocus()
    qtbot.keyClick(panel.taps.chooser, Qt.Key.Key_Down)
    assert [one.ohm for one in panel.taps.tiles] == [4.0, 8.0, 16.0]
    qtbot.mouseClick(tile(panel, 4.0), Qt.MouseButton.LeftButton)
    taps = [get(panel._document.plan, ("candidates", 0, "amplifiers", index, "tap_ohm")) for index in (0, 1)]
    assert taps == [None, 4.0]
    qtbot.waitUntil(lambda: tile(panel, 4.0).isChecked())
    assert panel.taps.chooser.currentIndex() == 1


def test_that_taps_are_reckoned_only_while_somebody_sees_them(qtbot, monkeypatch):
    asked = []
    real = panel_module.tap_choices
    monkeypatch.setattr(panel_module, "tap_choices", lambda *args: asked.append(args) or real(*args))
    document = demo("map_room")
    panel = LimitsPanel(document)
    qtbot.addWidget(panel)
    edit(qtbot, document, PEAK, 99.0)
    assert asked == []
    panel.show()
    assert len(asked) == 1 and len(panel.taps.tiles) == 3
    edit(qtbot, document, PEAK, 98.0)
    assert len(asked) == 2


def test_that_nothing_can_be_pressed_while_the_answer_is_out_of_date(qtbot, map_room):
    edit(qtbot, map_room._document, ("seats", 0, "x_m"), 90.0)
    assert map_room.chart.stale_look and not tile(map_room, 4.0).isEnabled()
    qtbot.mouseClick(tile(map_room, 4.0), Qt.MouseButton.LeftButton)
    assert get(map_room._document.plan, TAP) is None
    edit(qtbot, map_room._document, ("seats", 0, "x_m"), 3.0)
    assert tile(map_room, 4.0).isEnabled()


def test_that_the_valve_button_opens_the_dialog_for_the_amplifier_looked_at(qtbot, two_amplifiers):
    panel = two_amplifiers
    panel.taps.chooser.setFocus()
    qtbot.keyClick(panel.taps.chooser, Qt.Key.Key_Down)
    qtbot.mouseClick(panel.taps.valve, Qt.MouseButton.LeftButton)
    (dialog,) = panel.window().findChildren(TriodeDialog)
    assert dialog.isVisible() and dialog.amplifiers.currentText() == "Single triode, 2.5 W"
    dialog.reject()


def test_that_another_seat_is_followed(map_room):
    before = tile(map_room, 4.0).accessibleDescription()
    map_room._document.choose(seat=1)
    assert map_room.chart.sight.seat.name == map_room._document.plan.seats[1].name
    assert tile(map_room, 4.0).accessibleDescription() != before


def test_that_a_closed_panel_is_freed(qapp):
    document = demo("reading_room")
    assert is_freed(partial(LimitsPanel, document))
    document.solved.emit()
