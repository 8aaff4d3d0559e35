"""What a person has chosen for the program itself: units, theme, recent files, the window's place."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from platformdirs import user_config_path
from PySide6.QtCore import QCoreApplication, QLocale, QObject, QSettings, Signal

from planner.plan.units import Preference
from planner.report.maker import Maker, kept_maker

__all__ = ["MOST_RECENT", "Settings", "settings"]

MOST_RECENT = 10
SCHEMES = ("system", "light", "dark")


class Settings(QObject):
    """Kept in an INI file of the user's configuration folder; signals tell of changes at once."""

    units_changed = Signal()
    scheme_changed = Signal()
    recent_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        file = user_config_path("fewwatts") / "fewwatts.ini"
        self._store = QSettings(str(file), QSettings.Format.IniFormat, self)

    @property
    def units(self) -> Preference:
        """Metric or US customary; by the system's locale until somebody chooses."""
        stored = self._store.value("units")
        if stored in [one.value for one in Preference]:
            return Preference(stored)
        us = QLocale.system().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
        return Preference.US if us else Preference.METRIC

    @units.setter
    def units(self, preference: Preference) -> None:
        if preference is not self.units:
            self._store.setValue("units", preference.value)
            self.units_changed.emit()

    @property
    def scheme(self) -> str:
        """``system``, ``light`` or ``dark``."""
        stored = self._store.value("scheme")
        return stored if stored in SCHEMES else "system"

    @scheme.setter
    def scheme(self, scheme: str) -> None:
        if scheme != self.scheme:
            self._store.setValue("scheme", scheme)
            self.scheme_changed.emit()

    @property
    def maker(self) -> Maker:
        """Who hands reports out; empty until somebody says so."""
        return kept_maker(self._store.value)

    @maker.setter
    def maker(self, maker: Maker) -> None:
        for key, value in asdict(maker).items():
            self._store.setValue(f"maker/{key}", value)

    @property
    def recent(self) -> list[Path]:
        """Plan files opened or saved lately, the newest first, also those that are gone."""
        stored = self._store.value("recent", [])
        return [Path(one) for one in ([stored] if isinstance(stored, str) else stored or [])]

    def remember(self, file: Path) -> None:
        """Put a file first in the recent list."""
        file = file.resolve()
        kept = [file, *(one for one in self.recent if one != file)][:MOST_RECENT]
        self._store.setValue("recent", [str(one) for one in kept])
        self.recent_changed.emit()

    def forget_recent(self) -> None:
        """Empty the recent list."""
        self._store.remove("recent")
        self.recent_changed.emit()

    def value(self, key: str, default: Any = None) -> Any:
        """A stored value, such as the geometry of the window."""
        return self._store.value(f"window/{key}", default)

    def keep(self, key: str, value: Any) -> None:
        """Store a value under *key*."""
        self._store.setValue(f"window/{key}", value)


def settings() -> Settings:
    """The settings of the running application; one object for all windows."""
    application = QCoreApplication.instance()
    assert application is not None, "settings belong to a running application"
    found = application.findChild(Settings)
    return found if found is not None else Settings(application)
