"""The column of editors, in the order in which a designer thinks: room, listeners, loudness, system."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QSize, Qt, QTimer
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.about import AboutEditor
from planner.desktop.editors.flash import Flash
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.mending import concerns, spread
from planner.desktop.editors.part import Editor, Offer, Root
from planner.desktop.editors.room import RoomGroup
from planner.desktop.editors.tabs import chain_tabs
from planner.desktop.editors.taking import TakeEditor
from planner.desktop.fields import Note, Place
from planner.desktop.fields.bound import Bound
from planner.desktop.settings import settings
from planner.plan import Finding
from planner.plan.edit import Path
from planner.plan.reshape import first_difference

__all__ = ["EditorColumn"]

WIDTH_PX = 360
SEEN_FIRST = 2
"""How many groups fill a window's height; the others begin below it."""


class EditorColumn(QScrollArea, Root):
    """Every value of the plan in one column of groups that fold.

    Not `at_once`, it begins with the groups that are seen first; `build_next` adds the others one by one.
    """

    def __init__(
        self, document: PlanDocument, parent: QWidget | None = None, *, at_once: bool = True
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._findings: tuple[Finding, ...] = ()
        self._plan = document.plan
        self._steps = document.history.index(), document.history.count()
        self.setAccessibleName(self.tr("Editors"))
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._rearrange_soon = QTimer(self, singleShot=True, interval=0)
        self._rearrange_soon.timeout.connect(self._rearrange)
        self.rest = Note()
        self.about = self._make_about()
        self.groups = self._make_groups()
        self._folds = (self.about, *self.groups)
        self._unbuilt = list(self._folds)
        self._lay_out()
        for _ in self._folds if at_once else self._folds[:SEEN_FIRST]:
            self.build_next()
        self._flash = Flash(self._inside)
        for group in self._folds:
            group.heading.summoned.connect(self._bring_up_sender)
        settings().units_changed.connect(self.answer)
        document.edited.connect(self.pull)
        document.solved.connect(self.answer)
        document.chosen.connect(self.look)
        self.answer()
        self.rearranged()

    @classmethod
    def begun(cls, document: PlanDocument, parent: QWidget) -> EditorColumn:
        """A column with what is seen first."""
        return cls(document, parent, at_once=False)

    def build_next(self) -> bool:
        """Build one more group; whether there are others yet."""
        if self._unbuilt:
            self._unbuilt.pop(0).build()
        return bool(self._unbuilt)

    def offer_catalogue(self, offer: Offer) -> None:
        """From now on let *offer* show entries wherever somebody would take a part from the catalogue.

        It is called with the kind of part and, of an amplifier, with its number.
        """
        self.catalogue = offer
        for button in self.findChildren(TakeEditor):
            button.build()

    def _make_about(self) -> Fold:
        return Fold(
            self._document,
            self.tr("Plan"),
            "about",
            self._title_and_notes,
            [Place("title"), Place("notes")],
            level=0,
            shut=True,
            summary=self._title,
        )

    def _title_and_notes(self) -> AboutEditor:
        return AboutEditor(self._document)

    def _title(self) -> str:
        return self._document.plan.title

    def _make_groups(self) -> tuple[Fold, ...]:
        document = self._document
        self._system = Place("candidates", document.candidate)
        return (
            Fold(document, self.tr("&Room"), "room", self._room, [Place("room")], level=0),
            Fold(
                document,
                self.tr("&Who listens where"),
                "people",
                self._people,
                [Place("seats"), Place("stands")],
                level=0,
            ),
            Fold(
                document,
                self.tr("How &loud"),
                "loudness",
                self._loudness,
                [Place("target"), Place("programme"), Place("at_distortion_pct"), Place("tolerances")],
                level=0,
            ),
            Fold(document, self.tr("Wi&th what"), "system", self._with_what, [self._system], level=0),
        )

    def _room(self) -> RoomGroup:
        return RoomGroup(self._document)

    # What is not seen first is not loaded before it is built either; some of it brings the charts along.

    def _people(self) -> Editor:
        from planner.desktop.editors.people import PeopleGroup

        return PeopleGroup(self._document)

    def _loudness(self) -> Editor:
        from planner.desktop.editors.loudness import LoudnessGroup

        return LoudnessGroup(self._document)

    def _with_what(self) -> Editor:
        from planner.desktop.editors.system import SystemGroup

        return SystemGroup(self._document, self._system)

    def _lay_out(self) -> None:
        self._inside = QWidget()
        lines = QVBoxLayout(self._inside)
        lines.setContentsMargins(10, 2, 8, 12)
        lines.setSpacing(8)
        lines.addWidget(self.rest)
        for group in self._folds:
            lines.addWidget(group)
        lines.addStretch(1)
        self.setWidget(self._inside)

    def pull(self) -> None:
        """Show what the plan holds now."""
        self._system.steps = ("candidates", self._document.candidate)
        for group in self._folds:
            group.pull()

    def answer(self) -> None:
        """Show what the latest outcome says, and what is to mend."""
        for group in self._folds:
            group.answer()
        self._show_findings()
        self._follow_history()

    def look(self) -> None:
        """Show another candidate."""
        self.pull()
        self._findings = ()
        self.answer()

    def _show_findings(self) -> None:
        findings = self._document.findings
        if not findings and not self._findings:
            return
        self._findings = findings
        spread(findings, self.findChildren(Note), self.rest, self._document.plan)
        for fold in self.findChildren(Fold):
            fold.heading.count = sum(
                any(concerns(finding, place) for place in fold.covers) for finding in findings
            )

    def _follow_history(self) -> None:
        """After undo and redo bring up what they changed; an edit is already where its author looks."""
        (index, count), earlier = self._steps, self._plan
        self._steps = self._document.history.index(), self._document.history.count()
        self._plan = self._document.plan
        undone = self._steps[0] < index
        redone = self._steps[0] > index and self._steps[1] == count
        path = first_difference(earlier, self._plan) if undone or redone else None
        if path:
            self.reveal(path)

    def rearranged(self) -> None:
        self._rearrange_soon.start()

    def _rearrange(self) -> None:
        chain_tabs(self._inside)
        self._show_findings()

    def _bring_up_sender(self) -> None:
        heading = self.sender()
        if isinstance(heading, QWidget):
            QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
            self.verticalScrollBar().setValue(heading.mapTo(self._inside, QPoint(0, 0)).y())

    def reveal(self, path: Path) -> None:
        """Bring up the field that shows the value at *path*, or what lies nearest to it, and mark it."""
        while self.build_next():
            continue
        if path[0] == "candidates" and len(path) > 1:
            self._document.choose(candidate=int(path[1]))
        for group in self._folds:
            group.reveal(path)
        nearest = self._nearest(path)
        if nearest is not None:
            QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
            self.ensureWidgetVisible(nearest, 20, 60)
            self._flash.show_over(nearest)

    def _nearest(self, path: Path) -> QWidget | None:
        fields = [
            one for one in self.findChildren(QWidget) if isinstance(one, Bound) and one.isVisibleTo(self)
        ]
        shared = [_shared(one.place.path, path) for one in fields]
        best = max(shared, default=0)
        return fields[shared.index(best)] if best else None

    def sizeHint(self) -> QSize:
        return QSize(max(WIDTH_PX, self.minimumSizeHint().width()), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        width = self._inside.minimumSizeHint().width() + self.verticalScrollBar().sizeHint().width()
        return QSize(width, super().minimumSizeHint().height())

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().event(event)


def _shared(one: Path, other: Path) -> int:
    """How many steps two paths share from the top; a field above the value counts as near as its depth."""
    count = 0
    for first, second in zip(one, other, strict=False):
        if first != second:
            break
        count += 1
    return count
