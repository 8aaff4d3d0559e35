"""How quiet the room is, and where it leaks."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.fields import ChoiceField, Form, NumberField, Place
from planner.plan import Plan
from planner.plan.edit import Path
from planner.plan.reshape import noise_kind

__all__ = ["NoiseEditor"]

ROOM = Place("room")


class NoiseEditor(Editor):
    """How quiet the empty room is, and below which frequency it no longer holds pressure."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        form = Form()
        kinds = [
            (None, self.tr("Not known")),
            ("nc", self.tr("NC curve")),
            ("dba", self.tr("A-weighted level")),
        ]
        form.add(
            self.keep(
                ChoiceField(
                    document,
                    ROOM.to("noise"),
                    self.tr("Room noise"),
                    kinds,
                    tip=self.tr("Noise of the empty room, against which hum and hiss are judged"),
                    read=_noise_kind,
                    write=_with_noise,
                )
            )
        )
        self.box.addWidget(form)
        self.box.addWidget(self.keep(Variant(document, self._kind, self._make)))
        leak = Form()
        leak.add(self.keep(NumberField(document, ROOM.to("leak_hz"))))
        self.box.addWidget(leak)

    def _kind(self) -> str | None:
        plan = self._document.plan
        return _noise_kind(plan, ()) if plan.room is not None else None

    def _make(self, kind: Any) -> Editor | None:
        if kind is None:
            return None
        editor = Editor(self._document)
        form = Form()
        place = ROOM.to("noise", str(kind))
        name, unit = (self.tr("Level"), "dBA") if kind == "dba" else (self.tr("Curve"), "")
        form.add(editor.keep(NumberField(self._document, place, unit=unit, name=name)))
        editor.box.addWidget(form)
        return editor


def _noise_kind(plan: Plan, path: Path) -> str | None:
    noise = plan.room.noise if plan.room is not None else None
    if noise is None:
        return None
    return "nc" if noise.nc is not None else "dba"


def _with_noise(plan: Plan, path: Path, kind: str | None) -> Plan:
    return noise_kind(plan, kind)
