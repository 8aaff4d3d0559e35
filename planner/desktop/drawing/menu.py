"""The drawing's own menu: add, duplicate, delete, copy and save."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QFileDialog, QMenu, QMessageBox

from planner.desktop.drawing import changes, picture
from planner.headroom.coverage import AT_HZ
from planner.report.drawing.painting import has_fans
from planner.report.drawing.places import Place, Position
from planner.report.drawing.words import frequency_text

if TYPE_CHECKING:
    from planner.desktop.drawing.widget import RoomDrawing

__all__ = ["RoomMenu", "SaveDialog", "tell"]


class RoomMenu(QMenu):
    """What can be done at one point of the drawing, or to what stands there."""

    def __init__(self, drawing: RoomDrawing, place: Place | None, position_m: Position | None) -> None:
        super().__init__(drawing)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAccessibleName(self.tr("Drawing menu"))
        self._drawing, self.place, self._position_m = drawing, place, position_m
        adds = self.tr("&Add a seat here") if position_m is not None else self.tr("&Add a seat")
        self.addAction(adds).triggered.connect(self._add)
        if place is not None:
            self._offer_changes(place)
        self._offer_fans()
        self.addSeparator()
        copies = self.addAction(self.tr("&Copy picture"))
        # The drawing itself answers these keys; here they are only shown.
        copies.setShortcut(QKeySequence.StandardKey.Copy)
        copies.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copies.triggered.connect(drawing.copy_picture)
        self.addAction(self.tr("&Save picture as…")).triggered.connect(self._ask_where)

    def _offer_changes(self, place: Place) -> None:
        plan = self._drawing.look().plan
        # An ampersand in a name would make an access key.
        name = place.of(plan).name.replace("&", "&&")
        self.addAction(self.tr("&Duplicate {name}").format(name=name)).triggered.connect(self._duplicate)
        if plan.room is not None:
            finds = self.addAction(self.tr("&Find a better place for {name}…").format(name=name))
            finds.triggered.connect(self._find_place)
        deletes = self.addAction(self.tr("De&lete {name}").format(name=name))
        deletes.setShortcut(QKeySequence.StandardKey.Delete)
        deletes.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        deletes.setEnabled(changes.may_delete(plan, place))
        deletes.triggered.connect(self._delete)

    def _offer_fans(self) -> None:
        """The frequencies at which some horn plays, the one in use ticked."""
        look = self._drawing.look()
        played = [hz for hz in AT_HZ if has_fans(look, hz)]
        if not played:
            return
        menu = self.addMenu(self.tr("Co&verage at"))
        for hz in played:
            action = menu.addAction(f"&{frequency_text(hz)}")
            action.setCheckable(True)
            action.setChecked(hz == look.fan_hz)
            action.setData(hz)
        menu.triggered.connect(self._show_fans)

    def _show_fans(self, action: QAction) -> None:
        self._drawing.show_fans_at(action.data())

    def _add(self) -> None:
        self._drawing.select(changes.seat_at(self._drawing.document, self._position_m))

    def _duplicate(self) -> None:
        if self.place is not None:
            self._drawing.select(changes.duplicate(self._drawing.document, self.place))

    def _find_place(self) -> None:
        # The dialog brings the slow library of the charts with it.
        from planner.desktop.placing import PlacingDialog

        PlacingDialog(self._drawing.document, self._drawing, self.place).open()

    def _delete(self) -> None:
        if self.place is not None:
            self._drawing.delete(self.place)

    def _ask_where(self) -> None:
        SaveDialog(self._drawing).open()


class SaveDialog(QFileDialog):
    """Asks where the drawing goes and as what, then has it saved."""

    def __init__(self, drawing: RoomDrawing) -> None:
        super().__init__(drawing, self.tr("Save the drawing"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        self.setNameFilters(picture.filters())
        self.filterSelected.connect(self._take_filter)
        self.fileSelected.connect(drawing.save_picture)
        self._take_filter(self.selectedNameFilter())

    def _take_filter(self, chosen: str) -> None:
        self.setDefaultSuffix("svg" if "svg" in chosen else "png")


def tell(drawing: RoomDrawing, message: str) -> None:
    """Show a fault without holding anything up."""
    box = QMessageBox(QMessageBox.Icon.Warning, drawing.tr("Save the drawing"), message, parent=drawing)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.open()
