"""Where the panels and the window stand, by a user's acts, and that they stand there again the next time."""

import pytest
from PySide6.QtCore import QRect, Qt

from planner.desktop.settings import settings
from planner.desktop.window.docks import WIDE_PX
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


def test_that_a_narrow_window_has_the_charts_in_one_place_beside_the_drawing(qtbot, window):
    narrow(qtbot, window)
    docks = window.docks.all
    assert set(window.tabifiedDockWidgets(docks["efficiency"])) == {docks["bands"], docks["distance"]}
    assert area(window, "drawing") == Qt.DockWidgetArea.BottomDockWidgetArea
    assert docks["drawing"].geometry().right() < docks["efficiency"].geometry().left()
    assert docks["editors"].geometry().bottom() > docks["drawing"].geometry().top()


def test_that_a_wide_window_has_every_panel_side_by_side(qtbot, window):
    wide(qtbot, window)
    docks = window.docks.all
    for name in ("efficiency", "bands", "distance"):
        assert window.tabifiedDockWidgets(docks[name]) == []
    left, middle, right = (docks[name].geometry() for name in ("efficiency", "bands", "distance"))
    assert left.right() < middle.left() and middle.right() < right.left()
    assert area(window, "drawing") == Qt.DockWidgetArea.RightDockWidgetArea


def test_that_the_window_rearranges_itself_when_it_becomes_narrow_again(qtbot, window):
    wide(qtbot, window)
    narrow(qtbot, window)
    assert len(window.tabifiedDockWidgets(window.docks.all["bands"])) == 2


def test_that_panels_moved_by_hand_stay_where_they_are_until_the_layout_is_reset(qtbot, window):
    narrow(qtbot, window)
    window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, window.docks.all["editors"])
    wide(qtbot, window)
    assert area(window, "editors") == Qt.DockWidgetArea.RightDockWidgetArea
    assert area(window, "drawing") == Qt.DockWidgetArea.BottomDockWidgetArea
    window.menus.actions["reset_layout"].trigger()
    assert area(window, "editors") == Qt.DockWidgetArea.LeftDockWidgetArea
    assert area(window, "drawing") == Qt.DockWidgetArea.RightDockWidgetArea


def test_that_the_view_menu_switches_each_panel_off_and_on(window):
    toggles = {action.text().replace("&", ""): action for action in window.docks.toggles}
    assert list(toggles) == [
        *("Plan", "Room", "What Efficiency Buys", "Headroom by Band", "Level against Distance"),
    ]
    toggles["Room"].trigger()
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


def test_that_the_next_window_stands_where_the_last_one_stood_with_its_panels(
    qtbot, all_windows, sample_plan
):
    first = all_windows.show(sample_plan)
    first.make_panels()
    first.setGeometry(0, 60, 1000, 640)
    first.docks.all["drawing"].hide()
    first.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, first.docks.all["bands"])
    first.close()
    second = all_windows.show(sample_plan)
    # The offscreen screen is 800 wide and its frames are 2 wide, so only the height is exact.
    assert second.height() == 640
    assert second.y() == pytest.approx(60, abs=2)
    assert second.docks.all["drawing"].isHidden()
    assert area(second, "bands") == Qt.DockWidgetArea.RightDockWidgetArea


def test_that_stored_nonsense_leaves_the_window_as_it_belongs(all_windows, sample_plan):
    settings().keep("geometry", "nonsense")
    settings().keep("docks", b"nonsense")
    settings().keep("docks_order", "moved")
    window = all_windows.show(sample_plan)
    assert window.width() >= 800
    assert area(window, "editors") == Qt.DockWidgetArea.LeftDockWidgetArea


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
