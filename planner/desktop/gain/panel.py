"""The gain chain of the system looked at, on its card."""

from PySide6.QtWidgets import QWidget

from planner.desktop.charts.system_panel import SystemPanel
from planner.desktop.document import PlanDocument
from planner.desktop.gain.graph import GainGraph, GainView

__all__ = ["GainPanel"]


class GainPanel(SystemPanel):
    """Source, controls and amplifier with the level at each link; with several amplifiers one at a time."""

    kind = GainView

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, GainGraph(), parent, by_amplifier=True)
