"""The loudspeaker cable of a candidate, by gauge, by area, or by its loop resistance."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.taking import TakeEditor
from planner.desktop.fields import ChoiceField, Form, Hint, NumberField, Place
from planner.headroom.drive import cable_ohm
from planner.plan import Plan, get
from planner.plan.amplifier import Cable
from planner.plan.edit import Path
from planner.plan.reshape import cable_kind
from planner.plan.units import show
from planner.report.language import tr

__all__ = ["CableEditor", "cable_words"]

FIELDS = {
    "gauge": (("gauge_awg", "AWG"), ("length_m", "m"), ("copper_c", "degC")),
    "area": (("area_mm2", "mm2"), ("length_m", "m"), ("copper_c", "degC")),
    "loop": (("loop_ohm", "ohm"),),
}


ROOM_C = 20.0


class CableEditor(Editor):
    """How it is given, and the resistance that comes of it."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._place = candidate.to("cable")
        kinds = [
            (None, self.tr("None")),
            ("area", self.tr("Conductor area and length")),
            ("gauge", self.tr("Wire gauge and length")),
            ("loop", self.tr("Loop resistance")),
        ]
        self.box.addWidget(self.keep(TakeEditor(document, "cable", self._place)))
        form = Form()
        self.kind = self.keep(
            ChoiceField(document, self._place, self.tr("Given as"), kinds, read=_kind, write=_with_kind)
        )
        form.add(self.kind)
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._now, self._make)))
        self.hint = Hint()
        self.box.addWidget(self.hint)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        self.hint.say(cable_words(get(self._document.plan, self._place.path)))

    def _now(self) -> str | None:
        return _kind(self._document.plan, self._place.path)

    def _make(self, kind: Any) -> Editor | None:
        if kind is None:
            return None
        editor, form = Editor(self._document), Form()
        for key, unit in FIELDS[str(kind)]:
            optional = key == "copper_c"
            field = editor.keep(
                NumberField(self._document, self._place.to(key), unit=unit, optional=optional)
            )
            if optional:
                field.start, field.placeholder = ROOM_C, self.tr("as the room")
            form.add(field)
        editor.box.addWidget(form)
        return editor


def cable_words(cable: Cable | None) -> str:
    """The resistance of a cable, there and back."""
    return "" if cable is None else tr("{ohm} there and back", ohm=show(cable_ohm(cable), "ohm"))


def _kind(plan: Plan, path: Path) -> str | None:
    cable = get(plan, path)
    if cable is None:
        return None
    if cable.loop_ohm is not None:
        return "loop"
    return "gauge" if cable.gauge_awg is not None else "area"


def _with_kind(plan: Plan, path: Path, kind: str | None) -> Plan:
    return cable_kind(plan, int(path[1]), kind)
