"""The dialog that finds a better place, shows what it brings, and puts it into the plan as one step."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from planner.desktop.background import Background
from planner.desktop.document import PlanDocument
from planner.desktop.fields import AccessKeys
from planner.desktop.placing.quest import Quest, Sought
from planner.desktop.placing.question import Question
from planner.desktop.placing.result import ResultView
from planner.desktop.settings import settings
from planner.headroom.placed import in_its_places
from planner.headroom.placing import Placing
from planner.plan import PlanError
from planner.report.drawing.places import Place

__all__ = ["PlacingDialog"]

Role = QDialogButtonBox.ButtonRole
FINE = 1000


class PlacingDialog(QDialog):
    """Searches beside the window; nothing touches the plan before Apply, and closing stops the search."""

    def __init__(
        self, document: PlanDocument, parent: QWidget | None = None, place: Place | None = None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Find a Better Place"))
        self._document = document
        self._quest: Quest | None = None
        self._found: Placing | None = None
        self._background = Background(self)
        self.question = Question(document, AccessKeys("SAC"), self)
        self.answer = ResultView(self)
        self.progress = self._made_progress()
        self.buttons = QDialogButtonBox(self)
        self.search = self.buttons.addButton(self.tr("&Search"), Role.ActionRole)
        self.apply = self.buttons.addButton(self.tr("&Apply"), Role.ApplyRole)
        self.close_button = self.buttons.addButton(self.tr("&Close"), Role.RejectRole)
        self._lay_out()
        self._connect()
        if place is not None:
            self.question.choose(place)
        self._let_go()

    @property
    def found(self) -> Placing | None:
        """The better place, once it is known and while it still belongs to the plan."""
        return self._found

    @property
    def searching(self) -> bool:
        """Whether a place is being sought."""
        return self._background.busy

    def _made_progress(self) -> QProgressBar:
        bar = QProgressBar(self)
        bar.setAccessibleName(self.tr("Progress of the search"))
        bar.setTextVisible(False)
        bar.setRange(0, FINE)
        policy = bar.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        bar.setSizePolicy(policy)
        bar.hide()
        return bar

    def _lay_out(self) -> None:
        self.search.setDefault(True)
        self.apply.setToolTip(self.tr("Put the better place into the plan as one step; Undo takes it back"))
        for button in (self.apply, self.close_button):
            button.setAutoDefault(False)
        halves = QHBoxLayout()
        halves.setSpacing(16)
        halves.addWidget(self.question, 9)
        halves.addWidget(self.answer, 10)
        lines = QVBoxLayout(self)
        lines.addLayout(halves, 1)
        lines.addWidget(self.progress)
        lines.addWidget(self.buttons)
        letters, line_px = self.fontMetrics().averageCharWidth(), self.fontMetrics().height()
        self.resize(max(132 * letters, 840), 36 * line_px)

    def _connect(self) -> None:
        self.question.changed.connect(self._let_go)
        self.search.clicked.connect(self._search_or_stop)
        self.apply.clicked.connect(self._apply)
        self.close_button.clicked.connect(self.reject)
        self._background.done.connect(self._take_result)
        self._background.progressed.connect(self._tell_progress)
        self._document.edited.connect(self.question.follow)
        self._document.solved.connect(self._offer)
        settings().units_changed.connect(self._let_go)

    def _let_go(self) -> None:
        """Stop what is sought and forget what was found: it was asked otherwise, or of another plan."""
        self._background.drop()
        self._quest = self._found = None
        self.answer.tell(self._invitation())
        self.question.refresh()
        self._offer()

    def _invitation(self) -> str:
        if self._document.plan.room is None:
            return self.tr("In open air no place is better for bass: give the plan a room first.")
        if self._document.stale:
            return self.tr("The plan contradicts itself; mend that first.")
        if self.question.chosen.is_seat:
            return self.tr(
                "Draw the area in which the seat may be, then search for the place in it where the bass is "
                "strongest and most even."
            )
        return self.tr(
            "Draw the area in which the loudspeaker may stand, then search for the place in it from which "
            "the bass is strongest and most even at the seat."
        )

    def _offer(self) -> None:
        """Offer only what can be done now."""
        document, busy = self._document, self.searching
        self.search.setText(self.tr("&Stop") if busy else self.tr("&Search"))
        self.search.setEnabled(document.plan.room is not None and not document.stale)
        self.apply.setEnabled(self._found is not None)
        self.progress.setVisible(busy)

    def _search_or_stop(self) -> None:
        if self.searching:
            self._let_go()
        elif self.question.fields.take():
            self._let_go()
            self._quest = self.question.quest()
            self.progress.setValue(0)
            self.answer.tell(self.tr("Searching…"))
            self._background.ask(self._quest)
            self._offer()

    def _tell_progress(self) -> None:
        self.progress.setValue(round(FINE * self._background.share))

    def _take_result(self) -> None:
        # Whatever changes the plan or the question has taken it back before.
        if self._quest is not None:
            self._show(self._quest, self._background.result)
        self._offer()

    def _show(self, quest: Quest, found: Sought) -> None:
        if isinstance(found, PlanError):
            expected = "; ".join(finding.expected for finding in found.findings)
            self.answer.tell(self.tr("Nothing was found: expected {0}.").format(expected))
        elif found is None:
            self.answer.tell(self.tr("The search broke off."))
        elif found.plan == quest.plan:
            self.answer.tell(self.tr("The area holds no better place than the present one."))
        else:
            self._found = found
            self.answer.show_placing(found, quest)
            self.question.view.show_after(in_its_places(found.plan, quest.candidate))

    def _apply(self) -> None:
        quest, found = self._quest, self._found
        if quest is None or found is None:
            return
        name = quest.mover.name(in_its_places(quest.plan, quest.candidate))
        self._document.edited.disconnect(self.question.follow)
        self._document.close_gesture()
        self._document.replace(found.plan, self.tr("Move {name} to a better place").format(name=name))
        self._document.close_gesture()
        self.accept()

    # Qt's own.

    def done(self, result: int) -> None:
        self._background.drop()
        super().done(result)
