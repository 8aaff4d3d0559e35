"""Where a window stands on the screens: as it was last, and always where it can be reached."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QPoint, QRect, QSize
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.settings import settings

__all__ = ["keep_place", "on_screen", "restore_place"]

FIRST_SIZE = QSize(1280, 800)
WIDE_SIZE = QSize(1760, 980)
STEP_PX = 28
LEAST_SEEN_PX = 80


def keep_place(window: QWidget) -> None:
    """Store size and place of a window."""
    settings().keep("geometry", window.saveGeometry())


def restore_place(window: QWidget, number: int) -> None:
    """Give a window the size and place of the last one; the *number*-th stands a step further down."""
    room = QGuiApplication.primaryScreen().availableGeometry()
    stored = settings().value("geometry")
    if not (isinstance(stored, QByteArray) and window.restoreGeometry(stored)):
        wish = (
            WIDE_SIZE
            if room.width() > WIDE_SIZE.width() and room.height() > WIDE_SIZE.height()
            else FIRST_SIZE
        )
        window.resize(wish.boundedTo(room.size()))
    if window.isMaximized() or window.isFullScreen():
        return
    if number:
        window.move(window.pos() + QPoint(STEP_PX, STEP_PX) * number)
    screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
    window.setGeometry(on_screen(window.geometry(), screens))


def on_screen(place: QRect, screens: list[QRect]) -> QRect:
    """The same place, or if it could not be reached there, one on the first screen, and no larger than it.

    Parameters
    ----------
    place : QRect
        Where a window would stand [px].
    screens : list of QRect
        The free part of every screen [px].
    """
    title_bar = QRect(place.left(), place.top(), place.width(), LEAST_SEEN_PX)
    for screen in screens:
        seen = screen.intersected(title_bar)
        if seen.width() >= LEAST_SEEN_PX and seen.height() >= LEAST_SEEN_PX // 2:
            return place
    home = screens[0]
    moved = QRect(home.topLeft(), place.size().boundedTo(home.size()))
    moved.moveCenter(home.center())
    return moved
