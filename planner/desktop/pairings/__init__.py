"""Every loudspeaker with every amplifier in the room of the plan, as a grid to read and to choose from."""

from planner.desktop.pairings.dialog import PairingsDialog
from planner.desktop.pairings.panel import PairingsPanel

__all__ = ["PairingsDialog", "PairingsPanel"]
