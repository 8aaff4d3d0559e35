"""The target: peak and average level, of which the one typed last is held and the other follows."""

from __future__ import annotations

from PySide6.QtGui import QFont, QPalette
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Form, Hint, MarkButton, Note, NumberField, Place, ScrubLabel
from planner.desktop.fields.bound import Read, Write
from planner.headroom.outcome import SeatOutcome
from planner.plan import Plan
from planner.plan.edit import Path
from planner.plan.fields import spec_of
from planner.plan.model import Target
from planner.plan.reshape import hold_average, hold_peak
from planner.plan.units import show
from planner.report.language import tr

__all__ = ["TargetEditor"]

TARGET = Place("target")


class TargetEditor(Editor):
    """Two linked boxes: type in either, and that one is held from then on."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self.peak = LevelBox(document, "peak_db", self._peak, _hold_peak)
        self.average = LevelBox(document, "average_db", self._average, _hold_average)
        inside = QWidget()
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        note = Note(TARGET)
        for column, box in enumerate((self.peak, self.average)):
            self.keep(box)
            grid.addWidget(box, 0, column)
            grid.setColumnStretch(column, 1)
            note.watch(box.field)
        self.hint = Hint()
        for widget in (inside, note, self.hint):
            self.box.addWidget(widget)
        form = Form()
        form.add(self.keep(NumberField(document, Place("at_distortion_pct"))))
        self.box.addWidget(form)
        document.chosen.connect(self.answer)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def answer(self) -> None:
        super().answer()
        for box in (self.peak, self.average):
            box.pull()
        self._tell()

    def _seat(self) -> SeatOutcome | None:
        outcome = self._document.outcome
        return None if outcome is None else outcome.seats[min(self._document.seat, len(outcome.seats) - 1)]

    def _peak(self, plan: Plan, path: Path) -> float | None:
        held, seat = plan.target.peak_db, self._seat()
        return held if held is not None or seat is None else round(seat.peak_target_db, 1)

    def _average(self, plan: Plan, path: Path) -> float | None:
        held, seat = plan.target.average_db, self._seat()
        return held if held is not None or seat is None else round(seat.average_db, 1)

    def _tell(self) -> None:
        plan = self._document.plan
        peak_held = plan.target.peak_db is not None
        self.peak.show_held(peak_held)
        self.average.show_held(not peak_held)
        seat = self._seat()
        crest = show(plan.programme.crest_db, "dB")
        follows = (
            self.tr("The average at {0} follows from the crest factor of {1} and the build-up of peaks.")
            if peak_held
            else self.tr("The peak at {0} follows from the crest factor of {1} and the build-up of peaks.")
        )
        self.hint.say("" if seat is None else follows.format(seat.name, crest))


class LevelBox(Editor):
    """One of the two levels: its label, a pin that says whether it is held, its box."""

    def __init__(self, document: PlanDocument, key: str, read: Read, write: Write) -> None:
        super().__init__(document)
        self.box.setSpacing(2)
        spec = spec_of(Target, key)
        self.field = self.keep(NumberField(document, TARGET.to(key), spec=spec, read=read, write=write))
        self.state = QLabel()
        self.pin = MarkButton("free", tr("Hold this level"))
        self.pin.setCheckable(True)
        self.pin.clicked.connect(self._hold)
        line = QHBoxLayout()
        line.setSpacing(6)
        line.addWidget(ScrubLabel(self.field.name.replace(tr(" level"), ""), self.field))
        line.addWidget(self.state, 1)
        line.addWidget(self.pin)
        self.box.addLayout(line)
        self.box.addWidget(self.field)
        self._held: bool | None = None

    def show_held(self, held: bool) -> None:
        """Mark this level as the one held, or as the one that follows."""
        if held == self._held:
            return
        self._held = held
        self.pin.setChecked(held)
        self.pin.mark = "held" if held else "free"
        self.state.setText(self.tr("held") if held else self.tr("follows"))
        self.state.setForegroundRole(QPalette.ColorRole.Text if held else QPalette.ColorRole.PlaceholderText)
        font = QFont(self.field.font())
        font.setItalic(not held)
        self.field.lineEdit().setFont(font)
        words = (
            self.tr("This level is held.") if held else self.tr("This level follows; type here to hold it.")
        )
        self.field.setAccessibleDescription(words)
        self.field.setToolTip(f"{self.field.toolTip().splitlines()[0]}\n{words}")

    def _hold(self) -> None:
        self.pin.setChecked(bool(self._held))
        value = self.field.stored()
        if not self._held and value is not None:
            self._document.close_gesture()
            self._document.replace(
                self.field.write(self._document.plan, self.field.place.path, value),
                self.tr("Hold the other level"),
            )
            self._document.close_gesture()


def _hold_peak(plan: Plan, path: Path, level_db: float) -> Plan:
    return hold_peak(plan, level_db)


def _hold_average(plan: Plan, path: Path, level_db: float) -> Plan:
    return hold_average(plan, level_db)
