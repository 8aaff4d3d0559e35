"""Every panel of the window as data: its title, what makes it, and in which looks it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import import_module
from types import MappingProxyType

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.document import PlanDocument

__all__ = ["ALWAYS", "LOOKS", "PANELS", "TABLE", "Factory", "Look", "Panel", "panels_of"]

Factory = Callable[[PlanDocument, QWidget], QWidget]
ALWAYS = "editors"
"""The one panel that stands beside every look."""


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
    """One panel: its name in settings, its title, "module:class" of what makes it, and its looks."""

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
        made: QWidget = getattr(import_module(module), kind)(document, parent)
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
)

# In a look, the panels stand in this order; the first one has a place of its own.
TABLE = (
    Panel("editors", QT_TRANSLATE_NOOP("Panels", "&Plan"), "planner.desktop.editors:EditorColumn"),
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
        QT_TRANSLATE_NOOP("Panels", "&Floor Map"),
        "planner.desktop.floor_map:FloorMapPanel",
        ("room",),
    ),
    Panel(
        "room_gain",
        QT_TRANSLATE_NOOP("Panels", "Room &Gain"),
        "planner.desktop.charts.room_gain:RoomGainChart",
        ("room",),
    ),
)

PANELS: Mapping[str, Factory] = MappingProxyType({panel.name: panel.make for panel in TABLE})
"""What makes each panel, by name."""


def panels_of(look: str) -> list[str]:
    """The names of a look's own panels, in their order."""
    return [panel.name for panel in TABLE if look in panel.looks]
