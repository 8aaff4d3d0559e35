"""How loud: the target, of which one level is held, and the music as statistics."""

from __future__ import annotations

from typing import Any

from PySide6.QtGui import QAction

from planner.desktop.document import PlanDocument
from planner.desktop.editors.curves import CurveTable
from planner.desktop.editors.fold import Fold
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.target import TargetEditor
from planner.desktop.fields import ChoiceField, Form, NumberField, Place
from planner.desktop.fields.button import MenuButton
from planner.plan import Plan, get, put
from planner.plan.edit import Path
from planner.plan.units import show
from planner.programme.spectra import TYPICAL_CREST
from planner.report.language import tr

__all__ = ["LoudnessGroup"]

PROGRAMME = Place("programme")
FIRST_COHERENCE = ((150.0, 1.0), (300.0, 0.5))


class LoudnessGroup(Editor):
    """Target above, programme below."""

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
        for fold in (self.target, self.programme):
            self.box.addWidget(self.keep(fold))

    def _target(self) -> Editor:
        return TargetEditor(self._document)

    def _programme(self) -> Editor:
        return ProgrammeEditor(self._document)

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
        kinds = [("simulated", self.tr("Simulated programme")), ("pink", self.tr("Pink noise"))]
        tip = self.tr(
            "Simulated: the spectrum of IEC 60268-1, typical of much music. Pink: alike in every octave"
        )
        form.add(self.keep(ChoiceField(document, PROGRAMME.to("kind"), self.tr("Spectrum"), kinds, tip=tip)))
        self.crest = self.keep(NumberField(document, PROGRAMME.to("crest_db")))
        form.add(self.crest)
        form.add_pair(self.tr("Typical"), [TypicalCrest(document)])
        form.add(self.keep(NumberField(document, PROGRAMME.to("transient_ms"))))
        likeness = [(False, self.tr("1 to 150 Hz, 0.5 above")), (True, self.tr("A table of my own"))]
        tip = self.tr("How alike the channels are in each band: 1 the same, 0 unrelated, -1 opposite")
        form.add(
            self.keep(
                ChoiceField(
                    document,
                    PROGRAMME.to("coherence"),
                    self.tr("Coherence"),
                    likeness,
                    tip=tip,
                    read=_has_table,
                    write=_with_table,
                )
            )
        )
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._tabled, self._make)))

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


def _has_table(plan: Plan, path: Path) -> bool:
    return get(plan, path) is not None


def _with_table(plan: Plan, path: Path, wanted: bool) -> Plan:
    after = put(plan, path, FIRST_COHERENCE if wanted else None)
    assert isinstance(after, Plan)
    return after
