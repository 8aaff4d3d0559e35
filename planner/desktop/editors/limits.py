"""What a section stands: power for hours and in peaks, and how far its diaphragm may travel."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.fields import Choice, ChoiceField, Form, Hint, NumberField, Place
from planner.headroom.limits import NOISE_PEAK_RATIO
from planner.plan import Plan, get
from planner.plan.edit import Path
from planner.plan.loudspeaker import Diaphragm, Limits
from planner.plan.reshape import box_kind, limits_stated
from planner.plan.units import show
from planner.report.language import tr

__all__ = ["LimitsEditor", "limits_words"]

START_MM = 5.0


class LimitsEditor(Editor):
    """Stated or not, and what is stated."""

    def __init__(self, document: PlanDocument, section: Place) -> None:
        super().__init__(document)
        self._section, self._place = section, section.to("limits")
        form = Form()
        kinds = [(False, self.tr("Not stated")), (True, self.tr("Stated"))]
        tip = self.tr("What is stated may be the first to give out, before the amplifier does")
        self.stated = self.keep(
            ChoiceField(
                document,
                self._place,
                self.tr("Limits"),
                kinds,
                tip=tip,
                read=_stated,
                write=limits_stated,
            )
        )
        form.add(self.stated)
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._kind, self._make)))

    def _kind(self) -> str | None:
        section = get(self._document.plan, self._section.path)
        limits: Limits | None = section.limits
        if limits is None:
            return None
        told = limits.xmax_mm is not None or limits.box is not None
        return "travel" if told or isinstance(section.radiator, Diaphragm) else "power"

    def _make(self, kind: Any) -> Editor | None:
        if kind is None:
            return None
        editor = PowerEditor(self._document, self._place)
        if kind == "travel":
            editor.box.addWidget(editor.keep(TravelEditor(self._document, self._place)))
        return editor


class PowerEditor(Editor):
    """Long-term power, and peak power where it is not four times that."""

    def __init__(self, document: PlanDocument, limits: Place) -> None:
        super().__init__(document)
        self._place = limits
        form = Form()
        form.add(self.keep(NumberField(document, limits.to("long_term_w"))), self.tr("Long-term"))
        self.peak = self.keep(NumberField(document, limits.to("peak_w"), optional=True))
        form.add(self.peak)
        self.box.addWidget(form)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        limits = get(self._document.plan, self._place.path)
        if limits is not None:
            by_rule = NOISE_PEAK_RATIO * limits.long_term_w
            self.peak.start = by_rule
            self.peak.placeholder = self.tr("{0} by rule").format(show(by_rule, "W"))


class TravelEditor(Editor):
    """How far the diaphragm may move, and in which box."""

    def __init__(self, document: PlanDocument, limits: Place) -> None:
        super().__init__(document)
        self._place = limits
        form = Form()
        xmax = self.keep(NumberField(document, limits.to("xmax_mm"), optional=True))
        xmax.placeholder, xmax.start = self.tr("not stated"), START_MM
        form.add(xmax)
        kinds: list[Choice] = [
            (None, self.tr("Not stated")),
            ("sealed", self.tr("Sealed")),
            ("vented", self.tr("Vented")),
            ("horn", self.tr("Horn-loaded")),
            ("open", self.tr("Open at the back")),
        ]
        tip = self.tr("What the diaphragm works into: it decides how far it must travel for a level")
        self.kind = self.keep(
            ChoiceField(document, limits.to("box"), self.tr("Box"), kinds, tip=tip, write=box_kind)
        )
        form.add(self.kind)
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._vented, self._make_tuning)))
        self.hint = Hint()
        self.box.addWidget(self.hint)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _box(self) -> str | None:
        limits = get(self._document.plan, self._place.path)
        return None if limits is None else limits.box

    def _vented(self) -> bool:
        return self._box() == "vented"

    def _make_tuning(self, vented: Any) -> Editor | None:
        if not vented:
            return None
        editor, form = Editor(self._document), Form()
        form.add(editor.keep(NumberField(self._document, self._place.to("tuning_hz"))))
        editor.box.addWidget(form)
        return editor

    def _tell(self) -> None:
        self.hint.say(_model_words(self._box()))


def limits_words(limits: Limits | None) -> str:
    """The limits in short."""
    return tr("not stated") if limits is None else show(limits.long_term_w, "W")


def _model_words(box: str | None) -> str:
    """By which model the travel is judged, and whose it is."""
    if box == "horn":
        return tr("The travel of a horn-loaded diaphragm is not judged.")
    if box == "vented":
        return tr("Least travel at the tuning, most below it (Small, JAES 21, 1973; box losses of Q 7).")
    return tr("Travel as in a sealed box: what its level asks of a simple source (Small, JAES 20, 1972).")


def _stated(plan: Plan, path: Path) -> bool:
    return get(plan, path) is not None
