"""The columns in which entries of a kind are listed: the figures that one chooses by."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from planner.desktop.catalogue.figures import absorption_at
from planner.desktop.catalogue.words import size_text, source_words
from planner.headroom.catalogue_search import Found, Wants
from planner.headroom.drive import cable_ohm
from planner.plan.amplifier import Cable, LineSource, PhonoSource
from planner.plan.catalogue import title_of
from planner.plan.loudspeaker import Loudspeaker
from planner.plan.room import OwnMaterial
from planner.plan.units import Preference, show
from planner.report.words import watts_text

__all__ = ["Column", "columns_of"]

Key = float | str
NOT_SAID = "–"


@dataclass(frozen=True, slots=True)
class Column:
    """A heading, the text of a cell, and what the rows are sorted by; entries that do not say come last."""

    text: object
    show: Callable[[Found, Preference], str | None]
    key: Callable[[Found], Key | None]
    right: bool = True

    def title(self, wants: Wants) -> str:
        """The heading; that of the watts says into what and at which distortion."""
        given = {"ohm": f"{wants.into_ohm:g}", "pct": f"{wants.at_distortion_pct:g}"}
        return QCoreApplication.translate("Catalogue", str(self.text)).format(**given)

    def cell(self, found: Found, units: Preference) -> str:
        """The text of a cell, a dash where the entry does not say."""
        return self.show(found, units) or NOT_SAID


def columns_of(kind: str) -> tuple[Column, ...]:
    """The columns for a kind; the first is the name."""
    return _COLUMNS[kind]


def _title(found: Found, units: Preference | None = None) -> str:
    return title_of(found.entry)


def _name_key(found: Found) -> str:
    return _title(found).casefold()


def _level(found: Found, units: Preference) -> str | None:
    return None if found.sensitivity_db is None else show(found.sensitivity_db, "dB")


def _level_key(found: Found) -> float | None:
    return found.sensitivity_db


def _nominal(found: Found) -> float | None:
    data = found.entry.data
    whole = data.impedance if isinstance(data, Loudspeaker) else None
    return None if whole is None else whole.nominal_ohm


def _nominal_text(found: Found, units: Preference) -> str | None:
    nominal = _nominal(found)
    return None if nominal is None else show(nominal, "ohm")


def _watts(found: Found, units: Preference) -> str | None:
    return None if found.watts is None else watts_text(found.watts)


def _watts_key(found: Found) -> float | None:
    return found.watts


def _distortion(found: Found, units: Preference) -> str | None:
    return None if found.distortion_pct is None else show(found.distortion_pct, "%")


def _distortion_key(found: Found) -> float | None:
    return found.distortion_pct


def _mass(found: Found, units: Preference) -> str | None:
    return None if found.mass_kg is None else show(found.mass_kg, "kg", units)


def _mass_key(found: Found) -> float | None:
    return found.mass_kg


def _size(found: Found, units: Preference) -> str | None:
    return None if found.footprint_m is None else size_text(found.footprint_m, units)


def _size_key(found: Found) -> float | None:
    return None if found.footprint_m is None else found.footprint_m[0] * found.footprint_m[1]


def _gives(found: Found, units: Preference) -> str:
    data = found.entry.data
    assert isinstance(data, LineSource | PhonoSource)
    return source_words(data)


def _gives_key(found: Found) -> float:
    """Volts of line level, or of the phono stage for its cartridge's stated output."""
    data = found.entry.data
    assert isinstance(data, LineSource | PhonoSource)
    if isinstance(data, LineSource):
        return data.volts
    return float(1e-3 * data.cartridge_mv * 10.0 ** (data.phono_gain_db / 20.0))


def _loop_key(found: Found) -> float:
    data = found.entry.data
    assert isinstance(data, Cable)
    return cable_ohm(data)


def _loop(found: Found, units: Preference) -> str:
    return show(_loop_key(found), "ohm")


def _absorption(hertz: float) -> tuple[Callable[[Found, Preference], str], Callable[[Found], float]]:
    """Text and key of the absorption at a frequency."""

    def value(found: Found) -> float:
        assert isinstance(found.entry.data, OwnMaterial)
        return absorption_at(found.entry.data, [hertz])[0]

    def text(found: Found, units: Preference) -> str:
        return f"{value(found):.2f}"

    return text, value


_NAME = Column(QT_TRANSLATE_NOOP("Catalogue", "Name"), _title, _name_key, right=False)
_MASS = Column(QT_TRANSLATE_NOOP("Catalogue", "Mass"), _mass, _mass_key)
_SIZE = Column(QT_TRANSLATE_NOOP("Catalogue", "Width × depth"), _size, _size_key)

_COLUMNS: dict[str, tuple[Column, ...]] = {
    "loudspeaker": (
        _NAME,
        Column(QT_TRANSLATE_NOOP("Catalogue", "1 W at 1 m"), _level, _level_key),
        Column(QT_TRANSLATE_NOOP("Catalogue", "Nominal"), _nominal_text, _nominal),
        _MASS,
        _SIZE,
    ),
    "amplifier": (
        _NAME,
        Column(QT_TRANSLATE_NOOP("Catalogue", "Into {ohm} Ω"), _watts, _watts_key),
        Column(QT_TRANSLATE_NOOP("Catalogue", "Distortion"), _distortion, _distortion_key),
        _MASS,
        _SIZE,
    ),
    "source": (_NAME, Column(QT_TRANSLATE_NOOP("Catalogue", "Gives"), _gives, _gives_key)),
    "cable": (_NAME, Column(QT_TRANSLATE_NOOP("Catalogue", "There and back"), _loop, _loop_key)),
    "material": (
        _NAME,
        Column(QT_TRANSLATE_NOOP("Catalogue", "At 125 Hz"), *_absorption(125.0)),
        Column(QT_TRANSLATE_NOOP("Catalogue", "At 500 Hz"), *_absorption(500.0)),
        Column(QT_TRANSLATE_NOOP("Catalogue", "At 2 kHz"), *_absorption(2000.0)),
    ),
}
