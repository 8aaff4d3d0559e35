"""What kinds of entries are called, and short words for sources and cables, which a plan does not name."""

from __future__ import annotations

import re

from PySide6.QtCore import QCoreApplication

from planner.headroom.drive import cable_ohm
from planner.plan.amplifier import Cable, LineSource, PhonoSource
from planner.plan.units import Preference, show

__all__ = ["cable_words", "kind_title", "kind_word", "origin_word", "size_text", "source_words", "unbroken"]

translate = QCoreApplication.translate
NO_BREAK = "\u00a0"
_BREAKS = re.compile(r"(?<=\d) (?=[^\W\d]|[%°×])|(?<=×) (?=\d)")


def kind_title(kind: str) -> str:
    """What the entries of a kind are called together, with an access key."""
    return {
        "loudspeaker": translate("Catalogue", "&Loudspeakers"),
        "amplifier": translate("Catalogue", "&Amplifiers"),
        "source": translate("Catalogue", "&Sources"),
        "cable": translate("Catalogue", "&Cables"),
        "material": translate("Catalogue", "&Materials"),
    }[kind]


def kind_word(kind: str) -> str:
    """What one entry of a kind is called within a sentence."""
    return {
        "loudspeaker": translate("Catalogue", "loudspeaker"),
        "amplifier": translate("Catalogue", "amplifier"),
        "source": translate("Catalogue", "source"),
        "cable": translate("Catalogue", "cable"),
        "material": translate("Catalogue", "material"),
    }[kind]


def origin_word(own: bool) -> str:
    """Whose entry it is."""
    return translate("Catalogue", "My own") if own else translate("Catalogue", "Built in")


def cable_words(cable: Cable, units: Preference = Preference.METRIC) -> str:
    """How a cable is given, in short: ``2.5 mm², 4 m``."""
    if cable.loop_ohm is not None:
        return translate("Catalogue", "{0} there and back").format(show(cable_ohm(cable), "ohm"))
    length = _length(cable.length_m or 0.0, units)
    if cable.gauge_awg is not None:
        return f"AWG {cable.gauge_awg}, {length}"
    return f"{show(cable.area_mm2 or 0.0, 'mm2')}, {length}"


def source_words(source: LineSource | PhonoSource) -> str:
    """What a source gives, in short: ``2 V``, or ``0.25 mV, then 66 dB``."""
    if isinstance(source, LineSource):
        return show(source.volts, "V")
    text = translate("Catalogue", "{0}, then {1} dB")
    return text.format(show(source.cartridge_mv, "mV"), f"{source.phono_gain_db:g}")


def size_text(sides_m: tuple[float, float], units: Preference) -> str:
    """Width and depth on the floor; whole inches say enough of that."""
    if units is Preference.US:
        return " × ".join(show(side, "m", units, 0) for side in sides_m)
    return f"{sides_m[0]:.2f} × {sides_m[1]:.2f} m"


def unbroken(text: str) -> str:
    """The text with each figure held together with its unit, and with what it is multiplied by.

    >>> unbroken("2 ft 6 in × 3 ft, 8 W").replace(NO_BREAK, "_")
    '2_ft 6_in ×_3_ft, 8_W'
    """
    return _BREAKS.sub(NO_BREAK, text)


def _length(metres: float, units: Preference) -> str:
    return show(metres, "m", units, 0) if units is Preference.US else f"{metres:g} m"
