"""Where the panels and the window stand, by a user's acts, and that they stand there again the next time."""

from itertools import pairwise

import pytest
from PySide6.QtCore import QByteArray, QRect, Qt
from PySide6.QtWidgets import QWidget

from planner.desktop.settings import settings
from planner.desktop.window.arrangement import WIDE_PX
from planner.desktop.window.docks import MIDDLE
from planner.desktop.window.look_bar import LookBar
from planner.desktop.window.panels import ALWAYS, LOOKS, TABLE, panels_of
from planner.desktop.window.place import on_screen

SCREENS = [QRect(0, 0, 1920, 1080), QRect(1920, 0, 1280, 1024)]


def wide(qtbot, window):
    window.resize(WIDE_PX + 200, 1000)
    qtbot.wait(20)


def narrow(qtbot, window):
    window.resize(1280, 800)
    qtbot.wait(20)


def area(window, name):
    return window.dockWidgetArea(window.docks.all[name])


def place(window, name):
    return window.docks.all[name].geometry()


def seen(window):
    """The panels that a person sees beside the editors."""
    return {name for name, dock in window.docks.all.items() if dock.in_sight and name != ALWAYS}


def look(qtbot, window, name):
    window.looks.actions[name].trigger()
    qtbot.wait(20)


def test_that_every_panel_of_the_table_can_be_made_and_stands_in_a_look(qtbot, document):
    named, holder = {look.name for look in LOOKS}, QWidget()
    qtbot.addWidget(holder)
    assert len({panel.name for panel in TABLE}) == len(TABLE)
    for panel in TABLE:
        assert panel.make(document, holder).parent() is holder
        assert set(panel.looks) <= named
        assert panel.looks or panel.name in (ALWAYS, MIDDLE)


def test_that_a_narrow_window_has_the_first_panel_apart_and_the_others_in_one_place(qtbot, window):
    narrow(qtbot, window)
    docks = window.docks.all
    assert {docks["bands"], docks["distance"]} <= set(window.tabifiedDockWidgets(docks["efficiency"]))
    assert seen(window) == {"drawing", "efficiency"}
    assert area(window, "drawing") == Qt.DockWidgetArea.BottomDockWidgetArea
    assert place(window, "drawing").right() < place(window, "efficiency").left()
    assert place(window, ALWAYS).bottom() > place(window, "drawing").top()


@pytest.mark.parametrize("name", [look.name for look in LOOKS])
def test_that_a_wide_window_has_every_panel_of_a_look_side_by_side(qtbot, window, name):
    wide(qtbot, window)
    look(qtbot, window, name)
    first, *rest = panels_of(name)
    row = [one for one in rest if one in seen(window)]
    assert seen(window) == {first, *row}
    assert len(row) >= 3
    assert area(window, first) == Qt.DockWidgetArea.RightDockWidgetArea
    for left, right in pairwise(row):
        assert place(window, left).right() < place(window, right).left()
        assert place(window, left).width() == pytest.approx(place(window, right).width(), abs=8)


def test_that_a_row_too_short_for_all_has_the_last_of_them_share_a_place(qtbot, window):
    docks, (first, *rest) = window.docks.all, panels_of("chain")
    assert len(rest) == 4
    window.resize(2000, 1000)
    look(qtbot, window, "chain")
    assert seen(window) == {first, *rest}
    window.resize(1300, 1000)
    qtbot.wait(20)
    window.resize(WIDE_PX, 1000)
    qtbot.wait(20)
    assert seen(window) == {first, *rest[:3]}
    assert docks[rest[3]] in window.tabifiedDockWidgets(docks[rest[2]])


def test_that_the_window_rearranges_itself_when_it_becomes_narrow_again(qtbot, window):
    wide(qtbot, window)
    assert seen(window) == set(panels_of("power"))
    narrow(qtbot, window)
    assert seen(window) == {"drawing", "efficiency"}


def test_that_keys_tabs_and_menu_choose_the_same_look(qtbot, window):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    bar = window.findChild(LookBar)
    qtbot.keyClick(window, Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    assert window.looks.current == "chain"
    assert bar.tabs.tabText(bar.tabs.currentIndex()) == "Chain"
    assert bar.question.text() == LOOKS[2].tip
    bar.tabs.setFocus()
    qtbot.keyClick(bar.tabs, Qt.Key.Key_Left)
    assert window.looks.current == "room"
    assert window.looks.actions["room"].isChecked() and not window.looks.actions["chain"].isChecked()
    assert "floor_map" in seen(window) and "limits" not in seen(window)


def test_that_a_panel_out_of_sight_is_hidden_also_where_only_a_tab_covers_it(qtbot, window):
    narrow(qtbot, window)
    docks = window.docks.all
    assert docks["efficiency"].panel.isVisible()
    assert not docks["bands"].panel.isVisible()
    docks["bands"].raise_()
    qtbot.waitUntil(docks["bands"].panel.isVisible)
    assert not docks["efficiency"].panel.isVisible()
    look(qtbot, window, "room")
    assert not docks["bands"].panel.isVisible()


def test_that_a_panel_is_made_when_it_is_first_seen_and_not_before(qtbot, all_windows, sample_plan):
    window = all_windows.show(sample_plan)
    narrow(qtbot, window)
    qtbot.waitUntil(lambda: window.is_complete)
    docks = window.docks.all
    assert docks["bands"].panel is None and docks["floor_map"].panel is None
    look(qtbot, window, "room")
    qtbot.waitUntil(lambda: docks["floor_map"].panel is not None)
    assert docks["bands"].panel is None


def test_that_each_look_comes_back_as_it_was_left(qtbot, window):
    narrow(qtbot, window)
    docks = window.docks.all
    docks["drawing"].hide()
    docks["distance"].raise_()
    qtbot.wait(20)
    look(qtbot, window, "room")
    assert seen(window) == {"drawing", "floor_map"}
    window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, docks["floor_map"])
    look(qtbot, window, "power")
    assert seen(window) == {"distance"}
    look(qtbot, window, "room")
    assert area(window, "floor_map") == Qt.DockWidgetArea.RightDockWidgetArea


def test_that_the_editors_keep_their_place_while_looks_change(qtbot, window):
    narrow(qtbot, window)
    editors = window.docks.all[ALWAYS]
    window.resizeDocks([editors], [420], Qt.Orientation.Horizontal)
    qtbot.wait(20)
    assert editors.width() == 420
    look(qtbot, window, "room")
    assert editors.width() == 420
    window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, editors)
    look(qtbot, window, "power")
    assert area(window, ALWAYS) == Qt.DockWidgetArea.RightDockWidgetArea
    editors.hide()
    look(qtbot, window, "room")
    assert editors.isHidden()


def test_that_a_panel_of_another_look_can_be_had_here_too(qtbot, window):
    narrow(qtbot, window)
    docks = window.docks.all
    docks["limits"].toggleViewAction().trigger()
    docks["limits"].raise_()
    qtbot.wait(20)
    assert docks["limits"].panel.isVisible()
    wide(qtbot, window)
    assert seen(window) == {*panels_of("power"), "limits"}
    look(qtbot, window, "room")
    assert "limits" not in seen(window)
    look(qtbot, window, "power")
    assert "limits" in seen(window)


def test_that_panels_moved_by_hand_stay_where_they_are_until_the_layout_is_reset(qtbot, window):
    narrow(qtbot, window)
    window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, window.docks.all[ALWAYS])
    wide(qtbot, window)
    assert area(window, ALWAYS) == Qt.DockWidgetArea.RightDockWidgetArea
    assert area(window, "drawing") == Qt.DockWidgetArea.BottomDockWidgetArea
    window.menus.actions["reset_layout"].trigger()
    assert area(window, ALWAYS) == Qt.DockWidgetArea.LeftDockWidgetArea
    assert area(window, "drawing") == Qt.DockWidgetArea.RightDockWidgetArea


def test_that_the_menu_switches_each_panel_off_and_on(qtbot, window):
    panels = window.menus.panels.actions()
    toggles = {action.text().replace("&", ""): action for action in panels if action.isCheckable()}
    assert len(toggles) == len(window.docks.all)
    sections = [action.text() for action in panels if action.isSeparator()]
    assert sections == ["Power", "Room", "Chain", "Decision"]
    toggles["Drawing"].trigger()
    assert window.docks.all["drawing"].isHidden()
    window.menus.actions["reset_layout"].trigger()
    assert not window.docks.all["drawing"].isHidden()


def test_that_a_tab_is_title_enough_for_a_panel_and_one_alone_has_its_own(qtbot, window):
    narrow(qtbot, window)
    docks = window.docks.all
    assert docks["bands"].titleBarWidget() is not None
    assert docks["drawing"].titleBarWidget() is None
    wide(qtbot, window)
    assert docks["bands"].titleBarWidget() is None


def test_that_the_next_window_stands_where_the_last_one_stood_with_its_look(qtbot, all_windows, sample_plan):
    first = all_windows.show(sample_plan)
    first.setGeometry(0, 60, 1000, 640)
    first.docks.all["drawing"].hide()
    first.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, first.docks.all["bands"])
    look(qtbot, first, "decision")
    first.close()
    second = all_windows.show(sample_plan)
    # The offscreen screen is 800 wide and its frames are 2 wide, so only the height is exact.
    assert second.height() == 640
    assert second.y() == pytest.approx(60, abs=2)
    assert second.looks.current == "decision"
    assert second.findChild(LookBar).tabs.currentIndex() == 3
    look(qtbot, second, "power")
    assert second.docks.all["drawing"].isHidden()
    assert area(second, "bands") == Qt.DockWidgetArea.RightDockWidgetArea


def test_that_stored_nonsense_leaves_the_window_as_it_belongs(all_windows, sample_plan):
    settings().keep("geometry", "nonsense")
    settings().keep("look", "nonsense")
    settings().keep("docks_power", QByteArray(b"nonsense"))
    settings().keep("docks_power_order", "moved")
    window = all_windows.show(sample_plan)
    assert window.width() >= 800
    assert window.looks.current == "power"
    assert area(window, ALWAYS) == Qt.DockWidgetArea.LeftDockWidgetArea
    assert "drawing" in seen(window)


def test_that_a_second_window_does_not_hide_the_first(all_windows, sample_plan):
    settings().keep("geometry", "")
    first, second = all_windows.show(sample_plan), all_windows.show(sample_plan)
    assert first.pos() != second.pos() or first.size() != second.size()


@pytest.mark.parametrize(
    "place",
    [
        pytest.param(QRect(100, 100, 1280, 800), id="on the first screen"),
        pytest.param(QRect(1950, 50, 1200, 900), id="on the second"),
        pytest.param(QRect(1500, 300, 1280, 800), id="across both"),
    ],
)
def test_that_a_window_that_can_be_reached_stays_where_it_is(place):
    assert on_screen(place, SCREENS) == place


@pytest.mark.parametrize(
    "place",
    [
        pytest.param(QRect(5000, 100, 1280, 800), id="on a screen that is gone"),
        pytest.param(QRect(100, -900, 1280, 800), id="with its title bar above the screen"),
        pytest.param(QRect(-1270, 100, 1280, 800), id="all but out on the left"),
        pytest.param(QRect(9000, 9000, 4000, 3000), id="larger than any screen"),
    ],
)
def test_that_a_window_out_of_reach_comes_back_whole(place):
    moved = on_screen(place, SCREENS)
    assert SCREENS[0].contains(moved)
