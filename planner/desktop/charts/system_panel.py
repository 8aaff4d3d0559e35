"""Charts of what lies behind an answer: the electrics, the noise and the limits of the system looked at."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from planner.desktop.charts.keys import Entry
from planner.desktop.charts.seat_panel import SeatChart, SeatPanel, Sight
from planner.desktop.document import PlanDocument
from planner.desktop.theme import small_font
from planner.desktop.window.chooser import Chooser
from planner.headroom.system import System, system_at
from planner.plan.model import Candidate

__all__ = ["SystemGraph", "SystemPanel", "SystemView", "facts", "words_share"]

EDGES_PX, LEAST_FIELD_PX, GAP_PX = 16.0, 40.0, 5.0
MOST_WORDS = 0.3


@dataclass(frozen=True, eq=False)
class SystemView:
    """What is looked at, with the system in its room once somebody asks for it, and one of its amplifiers."""

    sight: Sight
    amplifier: int = 0

    @property
    def candidate(self) -> Candidate:
        """The candidate that is looked at."""
        return self.sight.plan.candidates[self.sight.candidate]

    @cached_property
    def system(self) -> System:
        """The candidate in the room."""
        return system_at(self.sight.plan, self.sight.candidate)


class SystemGraph(SeatChart):
    """A chart whose view holds more than the outcome."""

    @property
    def shown(self) -> SystemView:
        """What is looked at."""
        view: SystemView = self.view
        return view

    @property
    def sight(self) -> Sight:
        return self.shown.sight


class SystemPanel(SeatPanel):
    """A panel on one amplifier of the system: with several, a chooser above the chart tells which."""

    kind: type[SystemView] = SystemView
    chooser: Chooser | None = None
    _amplifier = 0

    def __init__(
        self,
        document: PlanDocument,
        chart: SeatChart,
        parent: QWidget | None = None,
        *,
        by_amplifier: bool = False,
    ) -> None:
        super().__init__(document, chart, parent)
        if by_amplifier:
            self._add_chooser()
            self._follow()

    @property
    def lines(self) -> QVBoxLayout:
        """What the panel is laid out in: headline, chart, key."""
        lines = self.layout()
        assert isinstance(lines, QVBoxLayout)
        return lines

    def _add_chooser(self) -> None:
        self._bar = QWidget(self)
        self.chooser = Chooser(self.tr("Amplifier looked at"), self.tr("Which amplifier the chart is about"))
        label = QLabel(self.tr("Am&plifier"))
        label.setBuddy(self.chooser)
        line = QHBoxLayout(self._bar)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(label)
        line.addWidget(self.chooser, 1, Qt.AlignmentFlag.AlignLeft)
        self.lines.insertWidget(1, self._bar)
        self.chooser.activated.connect(self._choose)

    def _choose(self, index: int) -> None:
        self._amplifier = index
        self._follow()

    def _view(self) -> object:
        sight = self._sight()
        if sight is None:
            return None
        names = [one.name for one in sight.plan.candidates[sight.candidate].amplifiers]
        index = min(self._amplifier, len(names) - 1)
        if self.chooser is not None:
            self.chooser.offer(names, index)
            self._bar.setVisible(len(names) > 1)
        return self.kind(sight, index)


def facts(words: Iterable[str]) -> list[Entry]:
    """Figures that stand below a chart in place of a key."""
    return [(None, text) for text in words if text]


def words_share(chart: SeatChart) -> float:
    """What to add to the span of a chart's curves, above as below, so that a line of words has room there."""
    line_px = QFontMetricsF(small_font(chart.font())).height()
    field_px = max(chart.height() - 2.5 * line_px - EDGES_PX, LEAST_FIELD_PX)
    share = min((line_px + GAP_PX) / field_px, MOST_WORDS)
    return share / (1.0 - 2.0 * share)
