"""What gives out first, on a card with the taps of the amplifiers below it."""

from __future__ import annotations

from functools import cached_property

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.system_panel import SystemPanel, SystemView
from planner.desktop.document import PlanDocument
from planner.desktop.limits.graph import LimitsGraph
from planner.desktop.limits.taps import TapsRow
from planner.desktop.limits.tile import ohm_text
from planner.headroom.taps import AmplifierTaps, tap_choices

__all__ = ["LimitsPanel"]


class LimitsView(SystemView):
    """What is looked at, with what every tap would give."""

    @cached_property
    def taps(self) -> tuple[AmplifierTaps, ...]:
        """The taps of every amplifier, once somebody sees them."""
        return tap_choices(self.sight.plan, self.sight.candidate)


class LimitsPanel(SystemPanel):
    """Every limit of the candidate looked at, and its taps; each press on one is one undoable step."""

    kind = LimitsView
    taps: TapsRow | None = None

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, LimitsGraph(), parent)
        self.taps = TapsRow(self)
        self.lines.addWidget(self.taps)
        self.taps.tap_wanted.connect(self._use_tap)
        self.taps.rule_wanted.connect(self._use_rule)
        self.taps.valve_wanted.connect(self._ask_valve)
        self._show_taps()

    def set_stale_look(self, stale: bool) -> None:
        super().set_stale_look(stale)
        if self.taps is not None:
            self.taps.setEnabled(not stale)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show_taps()

    def _follow(self) -> None:
        super()._follow()
        self._show_taps()

    def _show_taps(self) -> None:
        if self.taps is None:
            return
        view = self.chart.view
        if view is None:
            self.taps.show_choices((), 0)
        elif self.isVisible():
            self.taps.show_choices(view.taps, view.sight.place)
        self.taps.setEnabled(not self._document.stale)

    def _use_tap(self, amplifier: int, ohm: float) -> None:
        self._state(amplifier, ohm, self.tr("Use the {ohm} tap").format(ohm=ohm_text(ohm)))

    def _use_rule(self, amplifier: int) -> None:
        self._state(amplifier, None, self.tr("Choose the tap by rule"))

    def _state(self, amplifier: int, ohm: float | None, text: str) -> None:
        document = self._document
        path = ("candidates", document.candidate, "amplifiers", amplifier, "tap_ohm")
        document.close_gesture()
        document.edit(path, ohm, text)
        document.close_gesture()

    def _ask_valve(self, amplifier: int) -> None:
        from planner.desktop.triode import TriodeDialog

        TriodeDialog(self._document, self.window(), amplifier).open()
