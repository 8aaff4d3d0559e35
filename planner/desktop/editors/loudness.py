"""How loud: the target, of which one level is held, the music as statistics, and how sure all of it is."""

from __future__ import annotations

from typing import Any

from PySide6.QtGui import QAction

from planner.desktop.document import PlanDocument
from planner.desktop.editors.curves import CurveTable
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.recording import RecordingEditor
from planner.desktop.editors.sureness import SurenessEditor, sureness_words
from planner.desktop.editors.target import TargetEditor
from planner.desktop.fields import Choice, ChoiceField, Form, NumberField, Place
from planner.desktop.fields.button import MenuButton
from planner.plan import Plan, get, put
from planner.plan.edit import Path, rebuilt
from planner.plan.units import show
from planner.programme.spectra import TYPICAL_CREST
from planner.report.language import tr

__all__ = ["LoudnessGroup"]

PROGRAMME = Place("programme")
FIRST_COHERENCE = ((150.0, 1.0), (300.0, 0.5))


class LoudnessGroup(Editor):
    """Target above, programme below, and at the end how sure the inputs are."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        target = [Place("target"), Place("at_distortion_pct")]
        self.target = Fold(
            document, self.tr("Target"), "loudness/target", self._target, target, summary=self._level
        )
        self.programme = Fold(
            document,
            self.tr("Programme"),
            "loudness/programme",
            self._programme,
            [PROGRAMME],
            summary=self._words,
        )
        self.sureness = Fold(
            document,
            self.tr("How sure"),
            "loudness/sureness",
            self._sureness,
            [Place("tolerances")],
            shut=True,
            summary=self._sureness_words,
        )
        for fold in (self.target, self.programme, self.sureness):
            self.box.addWidget(self.keep(fold))

    def _target(self) -> Editor:
        return TargetEditor(self._document)

    def _programme(self) -> Editor:
        return ProgrammeEditor(self._document)

    def _sureness(self) -> Editor:
        return SurenessEditor(self._document)

    def _sureness_words(self) -> str:
        return sureness_words(self._document.plan)

    def _level(self) -> str:
        target = self._document.plan.target
        if target.peak_db is not None:
            return self.tr("peak {0}").format(show(target.peak_db, "dB"))
        return self.tr("average {0}").format(show(target.average_db or 0.0, "dB"))

    def _words(self) -> str:
        crest = show(self._document.plan.programme.crest_db, "dB")
        return self.tr("crest factor {0}").format(crest)


class ProgrammeEditor(Editor):
    """Spectrum, crest factor, length of a peak, likeness of the channels."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        form = Form()
        tip = self.tr(
            "Simulated: the spectrum of IEC 60268-1, typical of much music. Pink: alike in every octave. "
            "Recording: as a record of your own has it"
        )
        kind, name = PROGRAMME.to("kind"), self.tr("Spectrum")
        self.kind = self.keep(ChoiceField(document, kind, name, self._kinds(), tip=tip, write=_with_kind))
        form.add(self.kind)
        self.crest = self.keep(NumberField(document, PROGRAMME.to("crest_db")))
        form.add(self.crest)
        form.add_pair(self.tr("Typical"), [TypicalCrest(document)])
        form.add(self.keep(NumberField(document, PROGRAMME.to("transient_ms"))))
        tip = self.tr("How alike the channels are in each band: 1 the same, 0 unrelated, -1 opposite")
        self.likeness = self.keep(
            ChoiceField(
                document,
                PROGRAMME.to("coherence"),
                self.tr("Coherence"),
                self._likenesses(),
                tip=tip,
                read=_has_table,
                write=_with_table,
            )
        )
        form.add(self.likeness)
        self.box.addWidget(self.keep(RecordingEditor(document)))
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._tabled, self._make)))

    def pull(self) -> None:
        self.kind.offer(self._kinds())
        self.likeness.offer(self._likenesses())
        super().pull()

    def _kinds(self) -> list[Choice]:
        kinds: list[Choice] = [("simulated", self.tr("Simulated programme")), ("pink", self.tr("Pink noise"))]
        recorded = self._document.plan.programme.recording is not None
        return [("recording", self.tr("Recording")), *kinds] if recorded else kinds

    def _likenesses(self) -> list[Choice]:
        recording = self._document.plan.programme.recording
        usual = (
            self.tr("1 to 150 Hz, 0.5 above")
            if recording is None or recording.coherence is None
            else self.tr("As in the recording")
        )
        return [(False, usual), (True, self.tr("A table of my own"))]

    def _tabled(self) -> bool:
        return self._document.plan.programme.coherence is not None

    def _make(self, tabled: Any) -> Editor | None:
        if not tabled:
            return None
        return CurveTable(self._document, PROGRAMME.to("coherence"), self.tr("Coherence"))


class TypicalCrest(MenuButton):
    """Crest factors that music of one kind or another has, to take one from."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(
            tr("Typical crest factors"), tr("Crest factors of music of different kinds, and who says so")
        )
        self._document = document
        self.setText(self.tr("Choose by music…"))
        for number, one in enumerate(TYPICAL_CREST):
            action = self.menu.addAction(f"{show(one.crest_db, 'dB')}   {one.programme}  ({one.source})")
            action.setProperty("number", number)
        self.menu.triggered.connect(self._take)

    def _take(self, action: QAction) -> None:
        crest = TYPICAL_CREST[int(action.property("number"))].crest_db
        self._document.close_gesture()
        self._document.edit((*PROGRAMME.path, "crest_db"), crest, self.tr("Take a typical crest factor"))
        self._document.close_gesture()


def _with_kind(plan: Plan, path: Path, kind: str) -> Plan:
    """Another kind of programme; one that is no recording keeps none."""
    kept = plan.programme.recording if kind == "recording" else None
    programme = rebuilt(plan.programme, {"kind": kind, "recording": kept})
    after = put(plan, path[:-1], programme)
    assert isinstance(after, Plan)
    return after


def _has_table(plan: Plan, path: Path) -> bool:
    return get(plan, path) is not None


def _with_table(plan: Plan, path: Path, wanted: bool) -> Plan:
    after = put(plan, path, FIRST_COHERENCE if wanted else None)
    assert isinstance(after, Plan)
    return after
