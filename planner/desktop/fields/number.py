"""The number field: a spin box over the plan's own units, that keeps what was typed until it is right."""

from __future__ import annotations

from PySide6.QtCore import Property, QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPaintEvent, QValidator
from PySide6.QtWidgets import QAbstractSpinBox, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields.bound import Bound, Read, Write, wants_undo
from planner.desktop.fields.box import Box, paint_fault
from planner.desktop.fields.place import Place
from planner.desktop.fields.reading import Reading
from planner.desktop.settings import settings
from planner.plan import get, put
from planner.plan.edit import Path, spec_at
from planner.plan.fields import Spec
from planner.plan.units import UnitsError
from planner.report.language import tr

__all__ = ["NumberField"]

UP, DOWN = QAbstractSpinBox.StepEnabledFlag.StepUpEnabled, QAbstractSpinBox.StepEnabledFlag.StepDownEnabled
NO_STEP = QAbstractSpinBox.StepEnabledFlag.StepNone
KEY_STEPS = {Qt.Key.Key_Up: 1.0, Qt.Key.Key_Down: -1.0}


class NumberField(Box, Bound):
    """A window on one number of the document, with its unit in the box.

    Typed text is taken on Return or on leaving, in either system of units; text that cannot be taken stays,
    with the fault beside it, until it is mended or Esc restores the value. Arrows, Page keys and the wheel
    step while the field has the focus: Shift or Ctrl ten times as far, Alt a tenth. An ``optional`` number
    may be left out by emptying the field; an ``exact`` one is never rounded for reading.
    """

    fault_changed = Signal()

    def __init__(
        self,
        document: PlanDocument,
        place: Place | Path,
        *,
        spec: Spec | None = None,
        unit: str | None = None,
        name: str = "",
        read: Read = get,
        write: Write = put,
        optional: bool = False,
        plain: bool = False,
        exact: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        path = place.path if isinstance(place, Place) else place
        self.spec = spec or spec_at(document.plan, path)
        self.bind(document, place, name or tr(self.spec.label), read, write)
        self.optional = optional
        self.start: float | None = None
        """Where stepping an empty field begins."""
        self._reading = Reading(self.spec, self.spec.unit if unit is None else unit, plain)
        self._exact = exact
        self._units = settings().units
        self._dragged_from: float | None = None
        self._typed = False
        self._dress()
        self.lineEdit().textEdited.connect(self._note_typing)
        self.editingFinished.connect(self._commit)
        settings().units_changed.connect(self._reread)
        self.pull()

    def _dress(self) -> None:
        self.setAccessibleName(self.name)
        if self._reading.plain:
            self.setButtonSymbols(QAbstractSpinBox.ButtonSymbols.NoButtons)
        self._tell_range()

    def _tell_range(self) -> None:
        meaning = f"{tr(self.spec.label)}: {tr(self.spec.tip)}" if self.spec.tip else tr(self.spec.label)
        span = self._reading.range_text(self._units)
        if self.optional:
            span = tr("{range}, or empty", range=span)
            span = f"{span}: {self.placeholder}" if self.placeholder else span
        self.setToolTip(f"{meaning}\n{span}")
        self.setWhatsThis(self.toolTip())
        self.setAccessibleDescription(self.fault or f"{meaning}. {span}")

    @property
    def placeholder(self) -> str:
        """What an empty field shows in place of a number."""
        return self.lineEdit().placeholderText()

    @placeholder.setter
    def placeholder(self, text: str) -> None:
        if text != self.placeholder:
            self.lineEdit().setPlaceholderText(text)
            self._tell_range()
            self.updateGeometry()

    def _number(self) -> float:
        return float(self._shown) if isinstance(self._shown, int | float) else 0.0

    def sample(self) -> str:
        return max(self._quiet_text(self._number()), self.placeholder, key=len)

    def _quiet_text(self, value: float) -> str:
        """The value as it is shown while nobody edits it."""
        to_text = self._reading.full if self._exact else self._reading.text
        return to_text(value, self._units)

    # Screen readers ask for these properties by their names.
    value = Property(float, _number)

    def _show(self, value: float | None) -> None:
        if value is None:
            text = ""
        elif self.hasFocus():
            text = self._reading.full(value, self._units)
        else:
            text = self._quiet_text(value)
        if text != self.text():
            self.lineEdit().setText(text)
            self.lineEdit().setCursorPosition(0)
        self._typed = False

    def set_fault(self, fault: str) -> None:
        super().set_fault(fault)
        self._tell_range()
        self.update()

    def _reread(self) -> None:
        self._units = settings().units
        self._tell_range()
        self.show_stored()

    def _note_typing(self, text: str) -> None:
        # Qt's own mark of edited text is wiped on Return, before it tells of it.
        self._typed = True
        if self.fault:
            # While a fault is mended, say at once when it is gone or has become another one.
            self.set_fault(self._why_not(text))

    def _why_not(self, text: str) -> str:
        if self.optional and not text.strip():
            return ""
        try:
            self._reading.read(text, self._units)
        except UnitsError as refusal:
            return str(refusal)
        return ""

    def _commit(self) -> None:
        self.take()
        self._document.close_gesture()

    def take(self) -> bool:
        """Take what was typed, if anything was; say whether the field shows what the plan holds."""
        if not self._typed:
            return not self.fault
        text = self.text()
        fault = self._why_not(text)
        if fault:
            self.set_fault(fault)
            return False
        blank = self.optional and not text.strip()
        taken = self.push(None if blank else self._reading.read(text, self._units))
        if taken and self.hasFocus():
            self.selectAll()
        return taken

    def restore(self) -> None:
        """Show the plan's value in place of what was typed."""
        self.show_stored()
        self.selectAll()

    def _step(self, start: float | None, steps: float) -> None:
        value = start if start is not None else self.start
        if value is not None:
            self.push(self._reading.moved(value, steps, self._units), quiet=True)

    def begin_drag(self) -> None:
        """Begin to change the value live; all until :meth:`end_drag` is one undoable step."""
        self.take()
        self._document.close_gesture()
        self._dragged_from = self.stored()

    def drag(self, steps: float) -> None:
        """Show and write the value so many steps from where the drag began."""
        self._step(self._dragged_from, steps)

    def end_drag(self) -> None:
        """End the drag; the next change is another undoable step."""
        self._document.close_gesture()

    def cancel_drag(self) -> None:
        """Give back the value from before the drag."""
        self.push(self._dragged_from, quiet=True)
        self.end_drag()

    def stepBy(self, steps: int) -> None:
        if self.take():
            self._step(self.stored(), float(steps))
            self.selectAll()

    def stepEnabled(self) -> QAbstractSpinBox.StepEnabledFlag:
        value = self._shown if isinstance(self._shown, int | float) else self.start
        if value is None or self.isReadOnly():
            return NO_STEP
        up = UP if value < self.spec.high else NO_STEP
        return up | (DOWN if value > self.spec.low else NO_STEP)

    def validate(self, text: str, position: int) -> tuple[QValidator.State, str, int]:
        # Nothing is refused while it is typed: what it lacks is said when it is finished.
        good = not self._why_not(text)
        state = QValidator.State.Acceptable if good else QValidator.State.Intermediate
        return state, text, position

    def fixup(self, text: str) -> str:
        return text

    def keyPressEvent(self, event: QKeyEvent) -> None:
        pending = self._typed or self.fault
        fine = event.modifiers() & Qt.KeyboardModifier.AltModifier
        far = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        if event.key() == Qt.Key.Key_Escape and pending:
            self.restore()
        elif event.key() in KEY_STEPS and (fine or far):
            if self.take():
                self._step(self.stored(), KEY_STEPS[Qt.Key(event.key())] * (0.1 if fine else 10.0))
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        # Undo is the document's, except for text that is still being typed.
        if event.type() == QEvent.Type.ShortcutOverride and wants_undo(event) and not self._typed:
            event.ignore()
            return False
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.fault:
            paint_fault(self)

    def focusInEvent(self, event: QFocusEvent) -> None:
        if not self._typed and not self.fault:
            self._show(self._shown)
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if not self.fault:
            self._show(self._shown)
