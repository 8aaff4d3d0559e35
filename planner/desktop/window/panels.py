"""Every panel of the window by name, made when it is first wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from PySide6.QtWidgets import QWidget

from planner.desktop.document import PlanDocument

__all__ = ["PANELS", "Factory"]

Factory = Callable[[PlanDocument, QWidget], QWidget]


def _editors(document: PlanDocument, parent: QWidget) -> QWidget:
    from planner.desktop.editors import EditorColumn

    return EditorColumn(document, parent)


def _drawing(document: PlanDocument, parent: QWidget) -> QWidget:
    from planner.desktop.drawing import RoomDrawing

    return RoomDrawing(document, parent)


def _ladder(document: PlanDocument, parent: QWidget) -> QWidget:
    from planner.desktop.charts.ladder import LadderChart

    return LadderChart(document, parent)


def _efficiency(document: PlanDocument, parent: QWidget) -> QWidget:
    from planner.desktop.charts.efficiency import EfficiencyChart

    return EfficiencyChart(document, parent)


def _bands(document: PlanDocument, parent: QWidget) -> QWidget:
    from planner.desktop.charts.bands import BandsChart

    return BandsChart(document, parent)


def _distance(document: PlanDocument, parent: QWidget) -> QWidget:
    from planner.desktop.charts.distance import DistanceChart

    return DistanceChart(document, parent)


# The charts bring a slow library with them, so nothing here is imported before its panel is made.
PANELS: Mapping[str, Factory] = MappingProxyType(
    {
        "editors": _editors,
        "ladder": _ladder,
        "drawing": _drawing,
        "efficiency": _efficiency,
        "bands": _bands,
        "distance": _distance,
    }
)
