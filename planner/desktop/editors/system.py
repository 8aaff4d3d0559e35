"""With what: the candidate that is looked at, its loudspeaker, amplifiers and cable."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox

from planner.desktop.document import PlanDocument
from planner.desktop.editors.amplifiers import AmplifiersEditor
from planner.desktop.editors.cable import CableEditor, cable_words
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.loudspeaker import LoudspeakerEditor
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Form, MarkButton, Place, TextField
from planner.desktop.fields.bound import wants_undo
from planner.desktop.fields.box import field_height
from planner.plan import get
from planner.plan.reshape import duplicate_candidate, remove_candidate

__all__ = ["SystemGroup"]


class SystemGroup(Editor):
    """Which candidate, and all about it."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._candidate = candidate
        form = Form()
        self.chooser = CandidateChooser(document)
        double = MarkButton("double", self.tr("Double this candidate"))
        double.clicked.connect(self._double)
        self.remove = MarkButton("remove", self.tr("Take this candidate away"))
        self.remove.clicked.connect(self._remove)
        form.add_pair(self.tr("Candidate"), [self.chooser, double, self.remove])
        tip = self.tr("Name of this candidate")
        form.add(self.keep(TextField(document, candidate.to("name"), self.tr("Name"), tip=tip)))
        self.box.addWidget(form)
        self._add_folds()
        self._tell()

    def _add_folds(self) -> None:
        document, candidate = self._document, self._candidate
        amplifiers, cable = candidate.to("amplifiers"), candidate.to("cable")
        for fold in (
            Fold(
                document,
                self.tr("Loudspeaker"),
                "system/loudspeaker",
                self._loudspeaker,
                [candidate.to("loudspeaker")],
                summary=self._loudspeaker_words,
            ),
            Fold(
                document,
                self.tr("Amplifiers"),
                "system/amplifiers",
                self._amplifiers,
                [amplifiers],
                summary=self._amplifier_words,
            ),
            Fold(
                document,
                self.tr("Cable"),
                "system/cable",
                self._cable,
                [cable],
                shut=True,
                summary=self._cable_words,
            ),
        ):
            self.box.addWidget(self.keep(fold))

    def pull(self) -> None:
        self.chooser.refresh()
        super().pull()
        self._tell()

    def _tell(self) -> None:
        self.remove.setEnabled(len(self._document.plan.candidates) > 1)

    def _loudspeaker(self) -> Editor:
        return LoudspeakerEditor(self._document, self._candidate)

    def _amplifiers(self) -> Editor:
        return AmplifiersEditor(self._document, self._candidate)

    def _cable(self) -> Editor:
        return CableEditor(self._document, self._candidate)

    def _loudspeaker_words(self) -> str:
        return str(get(self._document.plan, self._candidate.path).loudspeaker.name)

    def _amplifier_words(self) -> str:
        return ", ".join(one.name for one in get(self._document.plan, self._candidate.path).amplifiers)

    def _cable_words(self) -> str:
        return cable_words(get(self._document.plan, self._candidate.path).cable) or self.tr("none")

    def _double(self) -> None:
        here = self._document.candidate
        self.change(duplicate_candidate(self._document.plan, here), self.tr("Double the candidate"))
        self._document.choose(candidate=here + 1)

    def _remove(self) -> None:
        here = self._document.candidate
        self.change(remove_candidate(self._document.plan, here), self.tr("Take the candidate away"))


class CandidateChooser(QComboBox):
    """Which candidate is looked at; the wheel turns it only while it has the focus."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__()
        self._document = document
        self.setAccessibleName(self.tr("Candidate looked at"))
        self.setToolTip(self.tr("Which candidate these editors, the verdict and the charts show"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)
        self.activated.connect(self._choose)
        self.refresh()

    def refresh(self) -> None:
        """Offer the candidates of the plan."""
        names = [candidate.name for candidate in self._document.plan.candidates]
        if names != [self.itemText(index) for index in range(self.count())]:
            self.clear()
            self.addItems(names)
        self.setCurrentIndex(self._document.candidate)

    def _choose(self, index: int) -> None:
        self._document.choose(candidate=index)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), field_height(self))

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), field_height(self))

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and wants_undo(event):
            event.ignore()
            return False
        return super().event(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
