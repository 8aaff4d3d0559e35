"""With what: the candidate that is looked at, and all that belongs to it."""

from __future__ import annotations

from collections.abc import Callable

from planner.desktop.document import PlanDocument
from planner.desktop.editors.amplifiers import AmplifiersEditor
from planner.desktop.editors.cable import CableEditor, cable_words
from planner.desktop.editors.chooser import CandidateChooser
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.loudspeaker import LoudspeakerEditor
from planner.desktop.editors.part import Editor
from planner.desktop.editors.places import PlacesEditor, places_words
from planner.desktop.editors.price import PriceEditor, price_words
from planner.desktop.editors.source import SourceEditor, source_words
from planner.desktop.fields import Form, MarkButton, Note, Place, TextField
from planner.plan import get
from planner.plan.model import Candidate
from planner.plan.reshape import duplicate_candidate, move_candidate, remove_candidate

__all__ = ["SystemGroup"]


class SystemGroup(Editor):
    """Which candidate, and all about it."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._candidate = candidate
        self._add_header()
        self._add_folds()
        self._tell()

    def _add_header(self) -> None:
        self.chooser = CandidateChooser(self._document)
        tip = self.tr("Name of this candidate")
        self.name = self.keep(TextField(self._document, self._candidate.to("name"), self.tr("Name"), tip=tip))
        self.up = self._button("up", self.tr("Move this candidate up"), self._move_up)
        self.down = self._button("down", self.tr("Move this candidate down"), self._move_down)
        double = self._button("double", self.tr("Double this candidate"), self._double)
        self.remove = self._button("remove", self.tr("Take this candidate away"), self._remove)
        form = Form()
        form.add_pair(self.tr("Candidate"), [self.chooser, self.up, self.down])
        form.add_pair(self.name.name, [self.name, double, self.remove])
        note = Note(self.name.place)
        note.watch(self.name)
        form.add_wide(note)
        self.box.addWidget(form)

    def _button(self, mark: str, name: str, act: Callable[[], None]) -> MarkButton:
        button = MarkButton(mark, name)
        button.clicked.connect(act)
        return button

    def _add_folds(self) -> None:
        self._fold("loudspeaker", self.tr("Loudspeaker"), self._loudspeaker, self._loudspeaker_words)
        self._fold("amplifiers", self.tr("Amplifiers"), self._amplifiers, self._amplifier_words)
        self._fold("cable", self.tr("Cable"), self._cable, self._cable_words, shut=True)
        self._fold("source", self.tr("Source"), self._source, self._source_words, shut=True)
        self._fold("stands", self.tr("Its places in the room"), self._places, self._places_words, shut=True)
        self._fold("price", self.tr("Price"), self._price, self._price_words, shut=True)

    def _fold(
        self,
        key: str,
        title: str,
        make: Callable[[], Editor],
        summary: Callable[[], str],
        shut: bool = False,
    ) -> None:
        """A part of the candidate under the key that it has in the plan."""
        covers = [self._candidate.to(key)]
        fold = Fold(self._document, title, f"system/{key}", make, covers, shut=shut, summary=summary)
        self.box.addWidget(self.keep(fold))

    def pull(self) -> None:
        self.chooser.refresh()
        super().pull()
        self._tell()

    def _tell(self) -> None:
        here, count = self._document.candidate, len(self._document.plan.candidates)
        self.up.setEnabled(here > 0)
        self.down.setEnabled(here < count - 1)
        self.remove.setEnabled(count > 1)

    def _loudspeaker(self) -> Editor:
        return LoudspeakerEditor(self._document, self._candidate)

    def _amplifiers(self) -> Editor:
        return AmplifiersEditor(self._document, self._candidate)

    def _cable(self) -> Editor:
        return CableEditor(self._document, self._candidate)

    def _source(self) -> Editor:
        return SourceEditor(self._document, self._candidate)

    def _places(self) -> Editor:
        return PlacesEditor(self._document, self._candidate)

    def _price(self) -> Editor:
        return PriceEditor(self._document, self._candidate)

    def _looked_at(self) -> Candidate:
        candidate = get(self._document.plan, self._candidate.path)
        assert isinstance(candidate, Candidate)
        return candidate

    def _loudspeaker_words(self) -> str:
        return self._looked_at().loudspeaker.name

    def _amplifier_words(self) -> str:
        return ", ".join(one.name for one in self._looked_at().amplifiers)

    def _cable_words(self) -> str:
        return cable_words(self._looked_at().cable) or self.tr("none")

    def _source_words(self) -> str:
        return source_words(self._looked_at().source)

    def _places_words(self) -> str:
        return places_words(self._looked_at().stands)

    def _price_words(self) -> str:
        return price_words(self._looked_at().price)

    def _move_up(self) -> None:
        self._move(-1)

    def _move_down(self) -> None:
        self._move(1)

    def _move(self, step: int) -> None:
        here = self._document.candidate
        after = move_candidate(self._document.plan, here, here + step)
        self.change(after, self.tr("Move the candidate"))
        self._document.choose(candidate=here + step)

    def _double(self) -> None:
        here = self._document.candidate
        self.change(duplicate_candidate(self._document.plan, here), self.tr("Double the candidate"))
        self._document.choose(candidate=here + 1)

    def _remove(self) -> None:
        here = self._document.candidate
        self.change(remove_candidate(self._document.plan, here), self.tr("Take the candidate away"))
