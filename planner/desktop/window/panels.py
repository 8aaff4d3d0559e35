"""Every panel of the window as data: its title, what makes it, and in which looks it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import import_module
from operator import attrgetter
from types import MappingProxyType
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.document import PlanDocument

__all__ = [
    "ALWAYS",
    "LOOKS",
    "PANELS",
    "TABLE",
    "BuiltInTurns",
    "Factory",
    "Look",
    "Panel",
    "TakesOffers",
    "panels_of",
]

Factory = Callable[[PlanDocument, QWidget], QWidget]
ALWAYS = "editors"
"""The one panel that stands beside every look."""


@runtime_checkable
class BuiltInTurns(Protocol):
    """A panel that begins with what is seen first."""

    def build_next(self) -> bool:
        """Build one more part; whether there are others yet."""


@runtime_checkable
class TakesOffers(Protocol):
    """A panel in which parts can be taken from the catalogue."""

    def offer_catalogue(self, offer: Callable[[str, int], None]) -> None:
        """Have *offer* show the entries of a kind, for the amplifier of a number."""


@dataclass(frozen=True, slots=True)
class Look:
    """What a designer looks at together: its name in settings, what it is called, and what it answers."""

    name: str
    text: object
    tells: object

    @property
    def title(self) -> str:
        """What it is called in the reader's language, with its access key."""
        return QCoreApplication.translate("Looks", str(self.text))

    @property
    def tip(self) -> str:
        """The question it answers, in the reader's language."""
        return QCoreApplication.translate("Looks", str(self.tells))


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel: its name in settings, its title, "module:callable" that makes it, and its looks."""

    name: str
    text: object
    made_by: str
    looks: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """What it is called in the reader's language, with its access key."""
        return QCoreApplication.translate("Panels", str(self.text))

    def make(self, document: PlanDocument, parent: QWidget) -> QWidget:
        """Make the panel; only now is its module loaded, since the charts bring a slow library with them."""
        module, _, kind = self.made_by.partition(":")
        made: QWidget = attrgetter(kind)(import_module(module))(document, parent)
        return made


LOOKS = (
    Look(
        "power",
        QT_TRANSLATE_NOOP("Looks", "&Power"),
        QT_TRANSLATE_NOOP("Looks", "How many watts, and why efficiency matters"),
    ),
    Look(
        "room",
        QT_TRANSLATE_NOOP("Looks", "&Room"),
        QT_TRANSLATE_NOOP("Looks", "What the room adds, and where"),
    ),
    Look(
        "chain",
        QT_TRANSLATE_NOOP("Looks", "&Chain"),
        QT_TRANSLATE_NOOP("Looks", "What gives out first, from the source to the loudspeaker"),
    ),
    Look(
        "decision",
        QT_TRANSLATE_NOOP("Looks", "&Decision"),
        QT_TRANSLATE_NOOP("Looks", "What would close the gap, and how sure that is"),
    ),
)

# In a look, the panels stand in this order; the first one has a place of its own.
TABLE = (
    Panel("editors", QT_TRANSLATE_NOOP("Panels", "&Plan"), "planner.desktop.editors:EditorColumn.begun"),
    Panel("ladder", QT_TRANSLATE_NOOP("Panels", "Level Ladder"), "planner.desktop.charts.ladder:LadderChart"),
    Panel(
        "drawing",
        QT_TRANSLATE_NOOP("Panels", "&Drawing"),
        "planner.desktop.drawing:RoomDrawing",
        ("power", "room"),
    ),
    Panel(
        "efficiency",
        QT_TRANSLATE_NOOP("Panels", "&What Efficiency Buys"),
        "planner.desktop.charts.efficiency:EfficiencyChart",
        ("power",),
    ),
    Panel(
        "bands",
        QT_TRANSLATE_NOOP("Panels", "&Headroom by Band"),
        "planner.desktop.charts.bands:BandsChart",
        ("power",),
    ),
    Panel(
        "distance",
        QT_TRANSLATE_NOOP("Panels", "&Level against Distance"),
        "planner.desktop.charts.distance:DistanceChart",
        ("power",),
    ),
    Panel(
        "floor_map",
        QT_TRANSLATE_NOOP("Panels", "Floor &Map"),
        "planner.desktop.floor_map:FloorMapPanel",
        ("room",),
    ),
    Panel(
        "room_gain",
        QT_TRANSLATE_NOOP("Panels", "Room &Gain"),
        "planner.desktop.charts.room_gain:RoomGainChart",
        ("room",),
    ),
    Panel(
        "baffle",
        QT_TRANSLATE_NOOP("Panels", "Width of the Baf&fle"),
        "planner.desktop.charts.baffle:BaffleChart",
        ("room",),
    ),
    Panel(
        "limits",
        QT_TRANSLATE_NOOP("Panels", "L&imits"),
        "planner.desktop.limits:LimitsPanel",
        ("chain",),
    ),
    Panel(
        "bend",
        QT_TRANSLATE_NOOP("Panels", "&Bend of the Response"),
        "planner.desktop.charts.bend:BendChart",
        ("chain",),
    ),
    Panel(
        "gain",
        QT_TRANSLATE_NOOP("Panels", "Gai&n Chain"),
        "planner.desktop.gain:GainPanel",
        ("chain",),
    ),
    Panel(
        "quiet_to_loud",
        QT_TRANSLATE_NOOP("Panels", "&Quiet to Loud"),
        "planner.desktop.charts.quiet_to_loud:QuietToLoudChart",
        ("chain",),
    ),
    Panel(
        "recording",
        QT_TRANSLATE_NOOP("Panels", "&Recording"),
        "planner.desktop.recording:RecordingPanel",
        ("chain",),
    ),
    Panel(
        "compare",
        QT_TRANSLATE_NOOP("Panels", "Sid&e by Side"),
        "planner.desktop.compare:ComparePanel",
        ("decision",),
    ),
    Panel(
        "ways",
        QT_TRANSLATE_NOOP("Panels", "Ways to &Clear"),
        "planner.desktop.ways:WaysPanel",
        ("decision",),
    ),
    Panel(
        "certainty",
        QT_TRANSLATE_NOOP("Panels", "How &Sure"),
        "planner.desktop.certainty:CertaintyPanel",
        ("decision",),
    ),
    Panel(
        "care",
        QT_TRANSLATE_NOOP("Panels", "C&are"),
        "planner.desktop.care:CarePanel",
        ("decision",),
    ),
)

PANELS: Mapping[str, Factory] = MappingProxyType({panel.name: panel.make for panel in TABLE})
"""What makes each panel, by name."""


def panels_of(look: str) -> list[str]:
    """The names of a look's own panels, in their order."""
    return [panel.name for panel in TABLE if look in panel.looks]
