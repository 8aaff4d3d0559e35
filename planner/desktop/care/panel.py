"""What to heed beside headroom, part by part, on one card that scrolls."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from planner.desktop.card import Card
from planner.desktop.care.bars import Bar, Guide, GuideBars
from planner.desktop.care.caution import Caution, Paragraph, SectionTitle
from planner.desktop.care.seats import SeatsTable
from planner.desktop.care.words import (
    care_headline,
    code_words,
    directive_text,
    load_text,
    overload_text,
    unweighed_text,
    valve_like,
)
from planner.desktop.charts.figures import figure
from planner.desktop.charts.seat_panel import Sight, short_name
from planner.desktop.charts.system_panel import SystemView
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.headroom.hearing import Hearing, hearing_at
from planner.headroom.weight import CODE_LOADS, FloorLoad, floor_loads
from planner.plan.model import Candidate
from planner.report.cautions import FLOOR_CAUTION, HEARING_CAUTION, HIGH_VOLTAGE_CAUTION
from planner.report.language import tr

__all__ = ["CarePanel"]

LEVELS_DBA, WHO_DBA, NIOSH_DBA = (65.0, 105.0), 80.0, 85.0
LEAST_LOAD_END = 2.4


class CarePanel(Card):
    """Hearing at every seat, loads on the floor, high voltage and overload of the candidate looked at."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("CarePanel", "Care"), parent)
        self._document = document
        self._plan = None if document.stale else document.shown
        self._behind = True
        self.levels = GuideBars(self.tr("Average levels beside public guides"))
        self.seats = SeatsTable()
        self.peaks = Paragraph()
        self.hearing = Caution()
        self.loads = GuideBars(self.tr("Loads on the floor beside code values"))
        self.unweighed, self.codes, self.floor = Paragraph(), Paragraph(), Caution()
        self.voltage_title = SectionTitle(self.tr("High voltage"))
        self.voltage = Caution()
        self.overload = Paragraph()
        self._lay_out()
        document.solved.connect(self._take_solved)
        document.chosen.connect(self._follow)
        settings().units_changed.connect(self._follow)
        self._follow()

    def _lay_out(self) -> None:
        self.inside = QWidget()
        parts = QVBoxLayout(self.inside)
        parts.setContentsMargins(0, 0, 10, 0)
        parts.setSpacing(5)
        groups = (
            (SectionTitle(self.tr("Hearing")), self.levels, self.seats, self.peaks, self.hearing),
            (
                SectionTitle(self.tr("Weight on the floor")),
                self.loads,
                self.unweighed,
                self.codes,
                self.floor,
            ),
            (self.voltage_title, self.voltage),
            (SectionTitle(self.tr("Overload")), self.overload),
        )
        for number, group in enumerate(groups):
            if number:
                parts.addSpacing(5)
            for widget in group:
                parts.addWidget(widget)
        parts.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setWidget(self.inside)
        self.area.setAccessibleName(self.accessibleName())
        for see_through in (self.area.viewport(), self.inside):
            see_through.setAutoFillBackground(False)
        self.body.setContentsMargins(12, 8, 4, 8)
        self.body.addWidget(self.area, 1)

    def _take_solved(self) -> None:
        # Outcomes lag behind the plan by a turn of the event loop; just now they belong together.
        if not self._document.stale:
            self._plan = self._document.shown
        self._follow()

    def _follow(self) -> None:
        self._behind = True
        if self.isVisible():
            self._catch_up()

    def _catch_up(self) -> None:
        self._behind = False
        sight = self._sight()
        self.inside.setEnabled(sight is not None and not self._document.stale)
        if sight is None:
            self.headline.setText(self.tr("No answer yet."))
            return
        view = SystemView(sight)
        hearings = [
            hearing_at(view.system, sight.plan, place, seat.average_dba)
            for place, seat in enumerate(sight.outcome.seats)
        ]
        loads = floor_loads(view.candidate)
        self.headline.setText(care_headline(hearings[sight.place], loads))
        self._show_hearing(sight, hearings)
        self._show_loads(view.candidate, loads)
        self._show_amplifiers(view.candidate)

    def _sight(self) -> Sight | None:
        document, outcome = self._document, self._document.outcome
        if outcome is None or self._plan is None:
            return None
        candidate = min(document.candidate, len(document.outcomes) - 1)
        return Sight(self._plan, candidate, outcome, min(document.seat, len(outcome.seats) - 1))

    def _show_hearing(self, sight: Sight, hearings: list[Hearing]) -> None:
        here = sight.place
        names = [seat.name for seat in sight.outcome.seats]
        bars = tuple(
            Bar(
                short_name(name),
                one.average_dba,
                self.tr("{level} dB(A)").format(level=figure(one.average_dba, 1)),
                "series 0" if place == here else "edge",
                place == here,
            )
            for place, (name, one) in enumerate(zip(names, hearings, strict=True))
        )
        guides = (
            Guide(WHO_DBA, self.tr("80: 40 h a week"), -1),
            Guide(NIOSH_DBA, self.tr("85: 8 h a day"), 1),
        )
        levels = [one.average_dba for one in hearings]
        span = (min(LEVELS_DBA[0], *levels), max(LEVELS_DBA[1], *levels))
        self.levels.show_bars(bars, guides, span)
        self.seats.show_seats(list(zip(names, hearings, strict=True)), here)
        self.peaks.say(directive_text(hearings[here]))
        self.hearing.say(tr(HEARING_CAUTION))

    def _show_loads(self, candidate: Candidate, loads: tuple[FloorLoad, ...]) -> None:
        units = settings().units
        bars = tuple(
            Bar(
                short_name(one.name),
                one.load_kn_m2,
                load_text(one, units),
                "tight" if "dwellings" in one.above else "series 0",
            )
            for one in loads
        )
        rooms, _, dwellings = CODE_LOADS
        guides = (
            Guide(dwellings.low_kn_m2, self.tr("codes 1.5 to 2.0 kN/m²"), -1, dwellings.high_kn_m2),
            Guide(rooms.high_kn_m2, self.tr("40 psf"), 1),
        )
        most = max((one.load_kn_m2 for one in loads), default=0.0)
        self.loads.show_bars(bars, guides, (0.0, max(LEAST_LOAD_END, most)))
        self.unweighed.say(unweighed_text(candidate))
        self.codes.say(self.tr("Code values: {codes}.").format(codes=code_words()) if loads else "")
        self.floor.say(tr(FLOOR_CAUTION) if loads else "")

    def _show_amplifiers(self, candidate: Candidate) -> None:
        valves = any(valve_like(one) for one in candidate.amplifiers)
        self.voltage_title.setVisible(valves)
        self.voltage.say(tr(HIGH_VOLTAGE_CAUTION) if valves else "")
        self.overload.say("\n".join(overload_text(one) for one in candidate.amplifiers))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._behind:
            self._catch_up()
