"""The catalogue of the running program: read once, written at every change, seen alike by all windows."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QObject, Signal

from planner.plan.catalogue import Catalogue, change_own, load_catalogue, own_path

__all__ = ["CatalogueStore", "catalogue_store"]


class CatalogueStore(QObject):
    """Holds the entries; ``changed`` fires when there are others."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stamp = _stamp()
        self.catalogue: Catalogue = load_catalogue()

    def refresh(self) -> None:
        """Read the user's file again if somebody else has written it."""
        stamp = _stamp()
        if stamp != self._stamp:
            self._stamp = stamp
            self._take(load_catalogue())

    def change(self, change: Callable[[Catalogue], Catalogue]) -> None:
        """Change the user's own entries, and write them.

        Raises
        ------
        OSError
            If the file cannot be written.
        KeyError
            If the change is about an entry that another program has taken away meanwhile.
        PlanError
            If the change makes an entry that may not be so.
        """
        after = change_own(change)
        self._stamp = _stamp()
        self._take(after)

    def _take(self, catalogue: Catalogue) -> None:
        if catalogue != self.catalogue:
            self.catalogue = catalogue
            self.changed.emit()


def catalogue_store() -> CatalogueStore:
    """The catalogue of the running application; one object for all windows."""
    application = QCoreApplication.instance()
    assert application is not None, "the catalogue belongs to a running application"
    found = application.findChild(CatalogueStore)
    return found if found is not None else CatalogueStore(application)


def _stamp() -> tuple[int, int] | None:
    """What tells that the user's file is another one than before."""
    try:
        told = own_path().stat()
    except OSError:
        return None
    return told.st_mtime_ns, told.st_size
