"""What can be done to the user's own entries: copy, rename, note, remove, and put back what was removed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Signal

from planner.desktop.catalogue.store import catalogue_store
from planner.plan import PlanError
from planner.plan.catalogue import Catalogue, Entry, added, removed, renamed, replaced, title_of
from planner.plan.reshape.parts import changed

__all__ = ["OwnEntries"]


class OwnEntries(QObject):
    """Changes the catalogue. ``told`` brings a sentence to show, ``made`` the id of a new entry."""

    told = Signal(str)
    made = Signal(str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._removed: list[Entry] = []

    @property
    def removed(self) -> bool:
        """Whether there is an entry that can be put back."""
        return bool(self._removed)

    def copy(self, entry: Entry) -> None:
        """Make an own entry with the same figures."""
        if self._change(partial(added, entry=entry)):
            self.made.emit(catalogue_store().catalogue.own[-1].id)
            self.told.emit(self.tr("“{0}” is copied: the new one is yours.").format(title_of(entry)))

    def rename(self, entry: Entry, name: str) -> None:
        """Give an own entry another name; an empty one is not taken."""
        if not name:
            self.told.emit(self.tr("An entry needs a name; it keeps the old one."))
        else:
            self._change(partial(renamed, entry_id=entry.id, name=name))

    def note(self, entry: Entry, note: str) -> None:
        """Give an own entry another note."""
        self._change(partial(_noted, entry_id=entry.id, note=note or None))

    def remove(self, entry: Entry) -> None:
        """Take an own entry out of the catalogue; it can be put back until the window is closed."""
        self._removed.append(entry)
        if self._change(partial(removed, entry_id=entry.id)):
            self.told.emit(self.tr("“{0}” is removed.").format(title_of(entry)))
        else:
            self._removed.pop()

    def put_back(self) -> None:
        """Put back the last entry that was removed."""
        if self._removed and self._change(partial(added, entry=self._removed[-1])):
            entry = self._removed.pop()
            self.made.emit(catalogue_store().catalogue.own[-1].id)
            self.told.emit(self.tr("“{0}” is back.").format(title_of(entry)))

    def _change(self, change: Callable[[Catalogue], Catalogue]) -> bool:
        """Write a change, and say whether that could be done."""
        try:
            catalogue_store().change(change)
        except OSError as error:
            self.told.emit(self.tr("The catalogue could not be written: {0}").format(error))
        except KeyError:
            catalogue_store().refresh()
            self.told.emit(self.tr("This entry is no longer in the catalogue."))
        except PlanError as error:
            self.told.emit("; ".join(one.expected for one in error.findings))
        else:
            return True
        return False


def _noted(catalogue: Catalogue, entry_id: str, note: str | None) -> Catalogue:
    entry = catalogue.entry(entry_id)
    return replaced(catalogue, entry_id, changed(entry, note=note))
