"""The presentation's window: one question at a time, filling the screen."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QHideEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.presentation.case import Case
from planner.desktop.presentation.frame import Frame
from planner.desktop.presentation.page import Answer, Page
from planner.desktop.presentation.pages import PAGES
from planner.desktop.presentation.words import away_text
from planner.desktop.settings import settings
from planner.headroom.placed import in_its_places

__all__ = ["Presentation"]

FORWARD = (Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_PageDown)
BACK = (Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_PageUp)
LAST = len(PAGES) - 1
MOVED_TO = Qt.FocusReason.OtherFocusReason


class Presentation(Frame):
    """Asks a buyer's questions of the candidate and the seat that are looked at.

    What a slider tries happens in a copy of the plan that is dropped; the document is only read. It
    follows the document, so that a plan changed elsewhere is the plan that is shown; while that one
    has no answer, the last that had stays.
    """

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__([page.question for page in PAGES], parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._document = document
        self._case: Case | None = None
        self._tried: dict[int, float] = {}
        self._number = 0
        self._solve_soon = QTimer(self, singleShot=True, interval=0)
        self._solve_soon.timeout.connect(self._solve)
        self._connect()
        self._tell_keys()
        self._follow()
        self.turn_to(0)

    def begin(self) -> None:
        """Fill the screen with the first question, the keyboard at the button that leads on."""
        self.turn_to(0)
        self.showFullScreen()
        self.activateWindow()
        self.onward.setFocus(Qt.FocusReason.TabFocusReason)

    def _connect(self) -> None:
        self.leave.clicked.connect(self.close)
        self.reset.clicked.connect(self._back_to_plan)
        self.back.clicked.connect(self._turn_back)
        self.onward.clicked.connect(self._turn_onward)
        self.dots.picked.connect(self.turn_to)
        self.slider.valueChanged.connect(self._try)
        self._document.solved.connect(self._follow)
        self._document.chosen.connect(self._follow)
        settings().units_changed.connect(self._follow)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._tell_keys)
        order = (self.slider, self.reset, self.back, *self.dots.dots, self.onward, self.leave)
        for first, second in pairwise(order):
            self.setTabOrder(first, second)

    # Turning pages.

    @property
    def page(self) -> Page:
        """The question that is shown."""
        return PAGES[self._number]

    @property
    def number(self) -> int:
        """Which question is shown, from 0."""
        return self._number

    def turn_to(self, number: int) -> None:
        """Show another question; beyond the first and the last there is none."""
        self._number = max(0, min(LAST, number))
        self._show_page()
        self._solve()

    def _turn_onward(self) -> None:
        if self._number == LAST:
            self.close()
        else:
            self.turn_to(self._number + 1)

    def _turn_back(self) -> None:
        self.turn_to(self._number - 1)

    def _show_page(self) -> None:
        if self._number == 0 and self.back.hasFocus():
            self.onward.setFocus(MOVED_TO)
        self.back.setEnabled(self._number > 0)
        self.onward.setText(self.tr("&Done") if self._number == LAST else self.tr("&Next ›"))
        self.question.setText(self.page.question)
        self.tries.setText(self.page.tries)
        self.slider.setAccessibleName(self.page.tries)
        self.setWindowTitle(self.tr("{0} — Few Watts").format(self.page.question))
        self.dots.show_page(self._number)
        scale = self.page.scale(self._case, settings().units) if self._case else None
        if scale is None and self.slider.hasFocus():
            self.onward.setFocus(MOVED_TO)
        self.slider.show_scale(scale, self._tried.get(self._number, scale.planned if scale else None))

    # What is tried.

    def _follow(self) -> None:
        """Take the plan, the candidate and the seat that are looked at, unless the plan has no answer."""
        document = self._document
        if not document.stale and document.outcomes:
            here = in_its_places(document.plan, document.candidate)
            self._case = Case(here, document.candidate, document.seat)
        self._show_page()
        self._solve_soon.start()

    def _try(self, position: int) -> None:
        scale = self.slider.measure
        if scale is not None:
            self._tried[self._number] = scale.value_at(position)
            self._solve_soon.start()

    def _back_to_plan(self) -> None:
        self._tried.pop(self._number, None)
        self.slider.setFocus(MOVED_TO)
        self.turn_to(self._number)

    def _solve(self) -> None:
        """Answer the question for where the slider stands, in a copy of the plan."""
        self._solve_soon.stop()
        scale = self.slider.measure
        value = scale.value_at(self.slider.value()) if scale else None
        moved = scale is not None and value != scale.planned
        if not moved and self.reset.hasFocus():
            self.slider.setFocus(MOVED_TO)
        self.reset.setEnabled(moved)
        if self._case is None:
            self._show_nothing()
        else:
            self._show(self._case, self.page.answer(self._case, value, settings().units))

    def _show(self, case: Case, answer: Answer) -> None:
        units = settings().units
        self.who.setText(f"{case.chosen.name}  ·  {case.seat.name}, {away_text(case.seat.distance_m, units)}")
        self.sentence.setText(answer.sentence)
        self.value.setText(answer.value)
        self.note.setText(self.page.note(case, units))
        self.slider.setAccessibleDescription(answer.value)
        self.picture.show_picture(answer.paint, self.page.question, answer.picture)
        if QAccessible.isActive() and self.isVisible():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, answer.sentence))

    def _show_nothing(self) -> None:
        self.sentence.setText(self.tr("There is no answer yet: parts of the plan contradict one another."))
        for label in (self.who, self.value, self.note):
            label.clear()
        self.picture.show_picture(None, self.page.question, self.sentence.text())

    def _tell_keys(self) -> None:
        """Say which keys do what where the keyboard is now."""
        if self.slider.hasFocus():
            text = self.tr("← → move the slider · Page Down next question · Esc leaves")
        else:
            text = self.tr("← → turn the page · Tab goes to the slider · Esc leaves")
        self.keys.setText(text)

    # Qt's own.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in FORWARD:
            self.turn_to(self._number + 1)
        elif key in BACK:
            self.turn_to(self._number - 1)
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.turn_to(0 if key == Qt.Key.Key_Home else LAST)
        elif key == Qt.Key.Key_Escape:
            self.close()
        elif key == Qt.Key.Key_F11 or event.matches(QKeySequence.StandardKey.FullScreen):
            self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)
        else:
            super().keyPressEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._solve_soon.stop()
