"""What editors are made of: parts that pull what they show from the plan, lists and variants of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol, TypeVar

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields import Place
from planner.desktop.fields.bound import Bound
from planner.plan import Plan, get
from planner.plan.edit import Path

__all__ = ["Editor", "Offer", "Pulls", "Root", "Rows", "Variant", "lies_below", "row_of"]

Offer = Callable[[str, int], None]
"""Offers entries of the catalogue: of which kind, and for which of the amplifiers."""


class Pulls(Protocol):
    """Whatever shows a value of the plan when told to."""

    def pull(self) -> None:
        """Show what the plan holds now."""


Kept = TypeVar("Kept", bound=Pulls)


class Root:
    """What holds all editors, and hears when one of them has built or dropped widgets."""

    catalogue: Offer | None = None
    """What is called where somebody would take a part from the catalogue, if there is anything."""

    def rearranged(self) -> None:
        """Put the order of the Tab key and the findings right, soon."""


class Editor(QWidget):
    """A part of the column, laid out from top to bottom.

    ``pull`` follows every edit, ``answer`` every new outcome. Both go down the tree, so that a part sees
    to it that its rows are there before they are pulled.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._parts: list[Pulls] = []
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(0, 0, 0, 0)
        self.box.setSpacing(6)

    def keep(self, part: Kept) -> Kept:
        """Have *part* pulled with this one."""
        self._parts.append(part)
        return part

    def pull(self) -> None:
        """Show what the plan holds now."""
        for part in self._parts:
            part.pull()

    def answer(self) -> None:
        """Show what the latest outcome says."""
        for part in self._parts:
            if isinstance(part, Editor):
                part.answer()

    def build(self) -> None:
        """Make what is only made once this stands in its place.

        From the top down, since Qt goes through all that is inside a widget whenever that gets a parent.
        """
        for part in list(self._parts):
            if isinstance(part, Editor):
                part.build()

    def reveal(self, path: Path) -> None:
        """Bring up whatever shows the value at *path*."""
        for part in list(self._parts):
            if isinstance(part, Editor):
                part.reveal(path)

    def change(self, after: Plan, text: str) -> None:
        """Put *after* in place of the plan as an undoable step of its own."""
        self._document.close_gesture()
        self._document.replace(after, text)
        self._document.close_gesture()

    def announce(self) -> None:
        """Tell the root that widgets have come or gone."""
        root = self.root()
        if root is not None:
            root.rearranged()

    def root(self) -> Root | None:
        """What holds all editors; None before this stands in its place."""
        above = self.parentWidget()
        while above is not None and not isinstance(above, Root):
            above = above.parentWidget()
        return above

    def _place_part(self, part: Editor) -> None:
        """Lay out a part; if this stands in its place already, so does the part from now on."""
        self.box.addWidget(part)
        if self.parentWidget() is not None:
            part.build()

    def _drop(self, part: Editor) -> None:
        """Take a part away; it may be the one whose button was pressed, so it goes a little later."""
        self._parts.remove(part)
        self.box.removeWidget(part)
        for field in part.findChildren(QObject):
            if isinstance(field, Bound):
                field.let_go()
        part.hide()
        part.deleteLater()


class Rows(Editor):
    """As many rows as the plan has entries; only what is added or taken away is built anew.

    A row belongs to its number, not to its entry: when entries move, rows show other values.
    """

    def __init__(
        self,
        document: PlanDocument,
        place: Place,
        make: Callable[[int], Editor],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(document, parent)
        self._place, self._make = place, make
        self.rows: list[Editor] = []
        self.pull()

    def pull(self) -> None:
        count, before = len(get(self._document.plan, self._place.path) or ()), len(self.rows)
        while len(self.rows) > count:
            last = self.rows[-1]
            had_focus = _holds_focus(last)
            self._drop(self.rows.pop())
            if had_focus and self.rows:
                _focus_like(self.rows[-1], last)
        for row in self.rows:
            row.pull()
        while len(self.rows) < count:
            row = self.keep(self._make(len(self.rows)))
            self.rows.append(row)
            self._place_part(row)
        if count != before:
            self.announce()


class Variant(Editor):
    """One of several parts, by what the plan holds; built anew when that is of another kind."""

    def __init__(
        self,
        document: PlanDocument,
        kind: Callable[[], Any],
        make: Callable[[Any], Editor | None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(document, parent)
        self._kind_now, self._make = kind, make
        self._kind: Any = object()
        self.part: Editor | None = None
        self._empty = False
        self.pull()

    def pull(self) -> None:
        kind = self._kind_now()
        if kind == self._kind:
            super().pull()
            return
        self._kind = kind
        old, self.part = self.part, self._make(kind)
        if self.part is not None:
            self._place_part(self.keep(self.part))
        if old is not None:
            if self.part is not None and _holds_focus(old):
                _focus_like(self.part, old)
            self._drop(old)
        self._show_or_hide()
        self.announce()

    def _show_or_hide(self) -> None:
        # A part without a parent must not be shown, or it would be a window of its own.
        if self.part is None:
            self._empty = True
            self.hide()
        elif self._empty:
            self._empty = False
            self.show()


def lies_below(path: Path, place: Path) -> bool:
    """Whether a path leads to a place or to something in it."""
    return path[: len(place)] == place


def row_of(*widgets: QWidget, stretch: int = 0) -> QHBoxLayout:
    """Widgets side by side; the one with the number *stretch* takes what room there is."""
    line = QHBoxLayout()
    line.setSpacing(5)
    for number, widget in enumerate(widgets):
        line.addWidget(widget, int(number == stretch))
    return line


def _focused(part: QWidget) -> QWidget | None:
    """What has the focus in the window of a part, whether or not it is in the part."""
    focused: QWidget | None = part.window().focusWidget()
    return focused


def _holds_focus(part: QWidget) -> bool:
    focused = _focused(part)
    return focused is not None and part.isAncestorOf(focused)


def _focus_like(part: QWidget, old: QWidget) -> None:
    """Give the focus to what in *part* has the name, or the same place, of what has it in *old*."""
    focused = _focused(old)
    if focused is None:
        return
    now, before = _focusable(part), _focusable(old)
    same = [widget for widget in now if widget.accessibleName() == focused.accessibleName()]
    if not same and type(part) is type(old) and focused in before:
        same = now[before.index(focused) :][:1]
    if same:
        same[0].setFocus()


def _focusable(part: QWidget) -> list[QWidget]:
    return [one for one in part.findChildren(QWidget) if one.focusPolicy() & Qt.FocusPolicy.TabFocus]
