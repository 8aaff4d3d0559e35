"""What a better place brings: level, evenness and watts, who goes where, and the bass before and after."""

from __future__ import annotations

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedLayout, QVBoxLayout, QWidget

from planner.desktop.charts.panel import ChartPanel
from planner.desktop.charts.seat_panel import signed, watts_text
from planner.desktop.fields import Hint
from planner.desktop.placing.bass_graph import BassGraph
from planner.desktop.placing.quest import Quest
from planner.desktop.settings import settings
from planner.desktop.window.figure import Figure, plain_label
from planner.headroom.placed import in_its_places
from planner.headroom.placing import Placing
from planner.plan.units import show

__all__ = ["ResultView"]


class ResultView(QWidget):
    """Empty, with words about why, or with everything that was found."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Hint()
        self.figures = self._made_figures()
        self.moves = plain_label(wrap=True)
        self.chart = BassGraph()
        self._found = QWidget()
        self._stack = QStackedLayout(self)
        self._stack.addWidget(self._centred(self.words))
        self._stack.addWidget(self._found)
        self._lay_out()
        self._refont()

    def tell(self, text: str) -> None:
        """Show no result, but words."""
        self.words.say(text)
        self._stack.setCurrentIndex(0)

    def show_placing(self, placing: Placing, quest: Quest) -> None:
        """Show what was found."""
        self.figures["level"].show_value(f"{signed(placing.level_gain_db)} dB")
        self.figures["evenness"].show_value(f"{signed(placing.evenness_gain_db)} dB")
        watts = watts_text(placing.watts_before), watts_text(placing.watts_after)
        self.figures["watts"].show_value(" → ".join(watts))
        self.moves.setText("\n".join(self._ways(placing, quest)))
        self.chart.show_placing(placing, quest.plan.seats[quest.seat].name)
        self._stack.setCurrentIndex(1)
        self.setAccessibleDescription(f"{self.said()} {self.chart.summary()}")

    def said(self) -> str:
        """The result in a line of words."""
        figures = (f"{one.name.text()} {one.value.text()}" for one in self.figures.values())
        return "; ".join((*figures, *self.moves.text().splitlines()))

    def _ways(self, placing: Placing, quest: Quest) -> list[str]:
        before, after = (in_its_places(plan, quest.candidate) for plan in (quest.plan, placing.plan))
        told = []
        for place in quest.mover.places:
            then, now = place.of(before), place.of(after)
            ways = [f"{self._spot(one.x_m, one.y_m)}" for one in (then, now)]
            told.append(f"{then.name}: {' → '.join(ways)}")
        return told

    def _spot(self, x_m: float, y_m: float) -> str:
        units = settings().units
        return f"x {show(x_m, 'm', units)}, y {show(y_m, 'm', units)}"

    def _made_figures(self) -> dict[str, Figure]:
        return {
            "level": Figure(
                self.tr("Bass level"),
                self.tr(
                    "How much louder the energy mean of the bands judged becomes, for the same volts [dB]"
                ),
                "+00.0 dB",
            ),
            "evenness": Figure(
                self.tr("Evenness"),
                self.tr("By how much the standard deviation of the bands’ levels becomes smaller [dB]"),
                "+00.0 dB",
            ),
            "watts": Figure(
                self.tr("Watts needed"),
                self.tr("What the target asks of the amplifier at the seat, before and after [W]"),
                "0.00 W → 0.00 W",
            ),
        }

    def _centred(self, words: QWidget) -> QWidget:
        host = QWidget()
        lines = QVBoxLayout(host)
        lines.addStretch(1)
        lines.addWidget(words)
        lines.addStretch(1)
        return host

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(24)
        for one in self.figures.values():
            row.addWidget(one)
        row.addStretch(1)
        lines = QVBoxLayout(self._found)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(row)
        lines.addWidget(self.moves)
        lines.addWidget(ChartPanel(self.chart), 1)

    def _refont(self) -> None:
        for one in self.figures.values():
            one.refont(self.font())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
