"""What a person asks for, held so that number fields can be windows on it as on a plan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

from PySide6.QtCore import QObject, Signal

from planner.desktop.document import PlanDocument
from planner.desktop.fields import NumberField, Place
from planner.desktop.fields.bound import Read, Write
from planner.plan.edit import Path
from planner.plan.fields import Spec

__all__ = ["Asked"]


class Asked(QObject):
    """Holds a frozen dataclass of wishes; ``changed`` fires when they are others.

    Number fields know it as their document: ``plan`` are the wishes, and there is no history of them.
    """

    changed = Signal()

    def __init__(self, wishes: Any, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.plan = wishes

    def replace(self, after: Any, text: str = "", key: object = None) -> None:
        """Wish for something else from now on."""
        if after != self.plan:
            self.plan = after
            self.changed.emit()

    def change(self, **changes: Any) -> None:
        """Change some of the wishes."""
        self.replace(replace(self.plan, **changes))

    def close_gesture(self) -> None:
        """Nothing here is undone step by step."""

    def field(
        self,
        place: Place,
        spec: Spec,
        name: str,
        any_word: str = "",
        start: float | None = None,
        read: Read | None = None,
        write: Write | None = None,
    ) -> NumberField:
        """A field for one figure; with *any_word* it may be empty, which asks nothing."""
        field = NumberField(
            # A field asks its document for no more than what stands here.
            cast(PlanDocument, self),
            place,
            spec=spec,
            name=name,
            read=read or _figure,
            write=write or _with_figure,
            optional=bool(any_word),
            plain=True,
        )
        field.placeholder, field.start = any_word, start
        return field


def _figure(wishes: Any, path: Path) -> Any:
    return getattr(wishes, str(path[0]))


def _with_figure(wishes: Any, path: Path, value: Any) -> Any:
    return replace(wishes, **{str(path[0]): value})
