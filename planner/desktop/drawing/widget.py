"""The scale drawing as a widget: seats and stands are chosen, dragged and moved by keys."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QGuiApplication,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QToolTip, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.drawing import changes, hits, keys, picture
from planner.desktop.drawing.fan_chooser import FanChooser
from planner.desktop.drawing.ground import Ground
from planner.desktop.drawing.hand import Hand
from planner.desktop.drawing.menu import RoomMenu, tell
from planner.desktop.settings import settings
from planner.desktop.theme import colours_of
from planner.headroom.coverage import AT_HZ
from planner.plan import Plan
from planner.report.drawing.frames import ABOVE, extents
from planner.report.drawing.look import Look
from planner.report.drawing.painting import Frames, frames_for, paint_over
from planner.report.drawing.places import Place, places
from planner.report.drawing.reach import Reach, reach_of
from planner.report.drawing.sheet import stroke
from planner.report.drawing.symbols import shape_of
from planner.report.drawing.words import summary

__all__ = ["RoomDrawing"]

_NOWHERE = QPointF(-1.0, -1.0)


class RoomDrawing(QWidget):
    """The room from above and from the side, to scale.

    A click selects a seat or stand, and looks from that seat; a drag moves it within the view, in
    steps unless Alt is held. Tab goes from one to the next, arrow keys move, Page Up and Page Down lift.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.selected: Place | None = None
        self.active = ABOVE
        self.hand = Hand(self)
        self._ground = Ground()
        self._fan_hz = AT_HZ[0]
        self._reach = Reach()
        self._reached: object = None
        self._painted: tuple[object, ...] | None = None
        self._fans = FanChooser(self)
        self._shows_focus = False
        self.setAccessibleName(self.tr("Scale drawing of the room"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(220, 200)
        document.edited.connect(self._follow)
        document.solved.connect(self._take_answer)
        document.chosen.connect(self._follow)
        document.chosen.connect(self._take_answer)
        settings().units_changed.connect(self._describe)
        self._take_answer()

    def look(self) -> Look:
        """What is shown now."""
        document = self.document
        return Look(
            plan=document.plan,
            candidate=document.candidate,
            seat=document.seat,
            findings=document.findings,
            preference=settings().units,
            selected=self.selected,
            hovered=self.hand.over,
            active=self.active,
            fan_hz=self._fan_hz,
            reach=self._reach,
        )

    def frames(self) -> Frames:
        """Where the two views lie; they keep still while something is dragged."""
        whole = extents(changes.drawn(self.document))
        return self.hand.held_frames or frames_for(QSizeF(self.size()), whole, self.font())

    def select(self, place: Place | None, view: str | None = None) -> None:
        """Mark a seat or stand, for the keys and the menu to work on, in one of the views."""
        view = view or self.active
        if (place, view) != (self.selected, self.active):
            self.document.close_gesture()
            self.selected, self.active = place, view
            self._describe()

    def show_fans_at(self, frequency_hz: float) -> None:
        """Draw the coverage of the horns at a frequency, and mark the seats outside it."""
        self._fan_hz = frequency_hz
        self._fans.refresh()
        self._describe()

    def delete(self, place: Place) -> None:
        """Take a seat or stand away, unless it is the last of its kind."""
        if changes.may_delete(changes.drawn(self.document), place):
            self.select(None)
            changes.delete(self.document, place)

    def menu_at(self, point: QPointF | None) -> RoomMenu:
        """The menu for a point of the drawing, or (None) for what is selected."""
        if point is None:
            return RoomMenu(self, self.selected, None)
        look, frames = self.look(), self.frames()
        found = hits.thing_at(look, frames, point)
        return RoomMenu(self, found[0] if found else None, hits.point_in_room(look, frames, point))

    def copy_picture(self) -> None:
        """Put the drawing on the clipboard."""
        QGuiApplication.clipboard().setImage(picture.picture(self.look(), self.size(), self.font()))

    def save_picture(self, path: str) -> None:
        """Save the drawing as PNG or SVG, by the end of the file's name."""
        try:
            picture.save(path, self.look(), self.size(), self.font(), self.logicalDpiX())
        except OSError as error:
            text = self.tr("“{name}” cannot be written: {reason}. Choose a folder that you may write to.")
            tell(self, text.format(name=Path(path).name, reason=error.strerror or error))

    def tip_at(self, point: QPointF) -> str:
        """What the tooltip says at a point."""
        return hits.tip_at(self.look(), self.frames(), point)

    def _follow(self) -> None:
        known = places(changes.drawn(self.document))
        self.selected = self.selected if self.selected in known else None
        self.hand.keep_to(known)
        self._repaint()

    def _take_answer(self) -> None:
        document = self.document
        about = _of_the_room(document.plan), document.candidate
        if not document.stale and about != self._reached:
            self._reached, self._reach = about, reach_of(document.plan, document.candidate)
        self._fans.refresh()
        self._describe()

    def _describe(self) -> None:
        self._repaint()
        if self.isVisible():
            self.setAccessibleDescription(summary(self.look()))

    def _repaint(self) -> None:
        """Paint again if there is another picture: what was dragged is painted already, and most of a plan
        is not in the drawing.
        """
        if _drawn_of(self.look()) != self._painted:
            self.update()

    # Qt's own.

    def sizeHint(self) -> QSize:
        return QSize(440, 400)

    def paintEvent(self, event: QPaintEvent) -> None:
        look, frames, size = self.look(), self.frames(), QSizeF(self.size())
        colours, font = colours_of(self.palette()), self.font()
        kept_px, ratio = self._fans.kept_px, self.devicePixelRatioF()
        ground = self._ground.pixmap(size, ratio, look, frames, colours, font, kept_px)
        self._painted = _drawn_of(look)
        with QPainter(self) as painter:
            painter.drawPixmap(0, 0, ground)
            paint_over(painter, size, look, frames, colours, font)
            if self.hasFocus() and self._shows_focus and self.selected is None:
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(stroke(colours, "accent", 2.0))
                painter.drawRect(QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fans.stand_in_corner()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._describe()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self.tip_at(QPointF(event.pos())), self)
            return True
        # The window has a Copy and a Delete of its own; in here they are the drawing's.
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            event.setAccepted(keys.answers(self, event))
            return True
        return bool(super().event(event))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self._shows_focus = True
        if not keys.press(self, event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if not event.isAutoRepeat() and not self.hand.holds:
            self.document.close_gesture()
        super().keyReleaseEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        place = keys.next_place(self, forward=forward)
        if place is None:
            return bool(super().focusNextPrevChild(forward))
        self.select(place)
        return True

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._shows_focus = event.reason() is not Qt.FocusReason.MouseFocusReason
        order = places(changes.drawn(self.document))
        if event.reason() is Qt.FocusReason.TabFocusReason:
            self.select(order[0])
        elif event.reason() is Qt.FocusReason.BacktabFocusReason:
            self.select(order[-1])
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.document.close_gesture()
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        found = hits.thing_at(self.look(), self.frames(), event.position())
        if found is None:
            self.select(None)
        else:
            self.hand.take_up(*found, event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        freely = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        self.hand.move(event.position(), freely=freely)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self.hand.let_go()

    def leaveEvent(self, event: QEvent) -> None:
        if not self.hand.holds:
            self.hand.hover(_NOWHERE)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        by_key = event.reason() is QContextMenuEvent.Reason.Keyboard
        menu = self.menu_at(None if by_key else QPointF(event.pos()))
        if menu.place is not None:
            self.select(menu.place)
        menu.popup(self.mapToGlobal(self._menu_corner() if by_key else event.pos()))

    def _menu_corner(self) -> QPoint:
        if self.selected is None:
            return self.rect().center()
        frame = next(frame for frame in self.frames() if frame.view == self.active)
        return shape_of(self.look(), frame, self.selected).box.bottomRight().toPoint()


def _drawn_of(look: Look) -> tuple[object, ...]:
    """All of a look that its picture depends on."""
    rest = (getattr(look, each.name) for each in fields(Look) if each.name != "plan")
    return (*_of_the_room(look.plan), *rest)


def _of_the_room(plan: Plan) -> tuple[object, ...]:
    """What stands in the room, and the room: most edits leave it as it is."""
    return (plan.room, plan.seats, plan.stands, plan.candidates)
