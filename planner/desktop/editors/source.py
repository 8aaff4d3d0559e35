"""The source of a candidate: of line level, or a cartridge and its phono stage."""

from __future__ import annotations

from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.editors.taking import TakeEditor
from planner.desktop.fields import Choice, ChoiceField, Form, Hint, NumberField, Place
from planner.electrics.gain import gain_between
from planner.headroom.gain import peak_velocity, source_volts
from planner.plan import Plan, get
from planner.plan.amplifier import LineSource, PhonoSource, Source
from planner.plan.edit import Path
from planner.plan.reshape import source_kind
from planner.plan.units import show
from planner.report.language import tr

__all__ = ["SourceEditor", "source_words"]

FIELDS = {
    "line": ("volts",),
    "phono": ("cartridge_mv", "phono_gain_db", "phono_noise_uv", "phono_overload_v", "peak_velocity_cm_s"),
}
STARTS = {"phono_noise_uv": 0.5, "phono_overload_v": 10.0, "peak_velocity_cm_s": 20.0}
"""Where stepping begins in figures that may be left out."""


class SourceEditor(Editor):
    """Which kind, and what belongs to that."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._place = candidate.to("source")
        kinds: list[Choice] = [
            (None, self.tr("None")),
            ("line", self.tr("Line level")),
            ("phono", self.tr("Cartridge and phono stage")),
        ]
        tip = self.tr("With the gain of the amplifiers it shows whether a preamplifier is wanted")
        self.box.addWidget(self.keep(TakeEditor(document, "source", self._place)))
        form = Form()
        self.kind = self.keep(
            ChoiceField(
                document, self._place, self.tr("Source"), kinds, tip=tip, read=_kind, write=_with_kind
            )
        )
        form.add(self.kind)
        self.box.addWidget(form)
        self._keys = form.keys
        self.box.addWidget(self.keep(Variant(document, self._now, self._make)))
        self.hint = Hint()
        self.box.addWidget(self.hint)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        self.hint.say(_peak_words(get(self._document.plan, self._place.path)))

    def _now(self) -> str | None:
        return _kind(self._document.plan, self._place.path)

    def _make(self, kind: Any) -> Editor | None:
        if kind is None:
            return None
        editor, form = Editor(self._document), Form(keys=self._keys.beside())
        for key in FIELDS[str(kind)]:
            optional = key in STARTS
            field = editor.keep(NumberField(self._document, self._place.to(key), optional=optional))
            if optional:
                field.start, field.placeholder = STARTS[key], self.tr("not known")
            form.add(field)
        editor.box.addWidget(form)
        return editor


def source_words(source: Source | None) -> str:
    """A source in short."""
    if isinstance(source, LineSource):
        return show(source.volts, "V")
    return tr("none") if source is None else tr("cartridge, {output}", output=show(source.cartridge_mv, "mV"))


def _peak_words(source: Source | None) -> str:
    """What a record's highest peaks make of the phono stage."""
    if not isinstance(source, PhonoSource):
        return ""
    volts, most = source_volts(source), source.phono_overload_v
    told = tr(
        "The highest peaks of a record, {velocity}, leave the phono stage at {volts}.",
        velocity=show(peak_velocity(source), "cm/s"),
        volts=show(volts, "V"),
    )
    if most is None:
        return told
    margin = show(abs(float(gain_between(volts, most))), "dB")
    if volts > most:
        return f"{told} {tr('That is {margin} above its overload.', margin=margin)}"
    return f"{told} {tr('That is {margin} below its overload.', margin=margin)}"


def _kind(plan: Plan, path: Path) -> str | None:
    source = get(plan, path)
    return None if source is None else str(source.kind)


def _with_kind(plan: Plan, path: Path, kind: str | None) -> Plan:
    return source_kind(plan, int(path[1]), kind)
