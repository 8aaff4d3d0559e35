"""A heading with what it folds, which is built when it is first opened."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.heading import Heading
from planner.desktop.editors.part import Editor, lies_below
from planner.desktop.fields import Note, Place
from planner.desktop.settings import settings
from planner.plan.edit import Path

__all__ = ["Fold"]

INDENTS_PX = (8, 0, 0)
OPEN, SHUT = "open", "shut"


class Fold(Editor):
    """A part of the column under a heading; whether it is open is remembered.

    ``covers`` are the places whose values are edited below, ``key`` the name that its state is kept under.
    """

    def __init__(
        self,
        document: PlanDocument,
        title: str,
        key: str,
        make: Callable[[], Editor],
        covers: Sequence[Place],
        *,
        level: int = 1,
        shut: bool = False,
        summary: Callable[[], str] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(document, parent)
        self._key, self._make, self._summary = f"fold/{key}", make, summary
        self._indent_px = INDENTS_PX[level]
        self.covers = tuple(covers)
        self.body: Editor | None = None
        self.heading = Heading(title, level)
        self.box.setSpacing(4)
        self.box.addWidget(self.heading)
        self.note = Note(*self.covers)
        self.box.addWidget(self.note)
        self.heading.setChecked(settings().value(self._key, SHUT if shut else OPEN) == OPEN)
        self.heading.toggled.connect(self._toggle)
        self.refresh_summary()

    def build(self) -> None:
        if self.body is None and self.heading.isChecked():
            self.body = self.keep(self._make())
            self.body.setContentsMargins(self._indent_px, 0, 0, 4)
            self.box.insertWidget(1, self.body)
            super().build()
            self.body.answer()
            self.announce()
        else:
            super().build()

    def open(self) -> None:
        """Open it, if it is folded."""
        self.heading.setChecked(True)

    def pull(self) -> None:
        super().pull()
        self.refresh_summary()

    def answer(self) -> None:
        super().answer()
        self.refresh_summary()

    def reveal(self, path: Path) -> None:
        if any(lies_below(path, place.path) for place in self.covers):
            self.open()
        super().reveal(path)

    def refresh_summary(self) -> None:
        """Say in the heading what is below."""
        if self._summary is not None:
            self.heading.summary = self._summary()

    def _toggle(self, opened: bool) -> None:
        settings().keep(self._key, OPEN if opened else SHUT)
        self.build()
        if self.body is not None:
            self.body.setVisible(opened)
