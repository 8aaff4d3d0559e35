"""Several drivers of a section: wired in series or in parallel, or told as one by the data sheet."""

from __future__ import annotations

from math import log10
from typing import Any

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Variant
from planner.desktop.fields import Choice, ChoiceField, Form, Hint, Place
from planner.desktop.fields.form import AccessKeys
from planner.headroom.wired import wired_gain, wired_impedance
from planner.plan import get
from planner.plan.loudspeaker import Diaphragm, Section
from planner.plan.units import show
from planner.report.language import tr

__all__ = ["WiresEditor"]

NO_BREAK = "\u00a0"


class WiresEditor(Editor):
    """Nothing for a single driver."""

    def __init__(self, document: PlanDocument, section: Place, keys: AccessKeys) -> None:
        super().__init__(document)
        self._section, self._keys = section, keys
        self.box.addWidget(self.keep(Variant(document, self._several, self._make)))

    def _several(self) -> bool:
        section = get(self._document.plan, self._section.path)
        radiator = section.radiator
        return section.wiring is not None or (isinstance(radiator, Diaphragm) and radiator.count > 1)

    def _make(self, several: Any) -> Editor | None:
        return _Wires(self._document, self._section, self._keys) if several else None


class _Wires(Editor):
    """How they are wired, and what that makes of the figures of one."""

    def __init__(self, document: PlanDocument, section: Place, keys: AccessKeys) -> None:
        super().__init__(document)
        self._section = section
        kinds: list[Choice] = [
            (None, self.tr("Figures are of all")),
            ("series", self.tr("In series")),
            ("parallel", self.tr("In parallel")),
        ]
        tip = self.tr(
            "In series or in parallel: sensitivity and impedance of the section are those of one driver, and "
            "the wiring is reckoned. Else they are those of all together"
        )
        form = Form(keys=keys.beside())
        self.kind = self.keep(ChoiceField(document, section.to("wiring"), self.tr("Wiring"), kinds, tip=tip))
        form.add(self.kind)
        self.box.addWidget(form)
        self.hint = Hint()
        self.box.addWidget(self.hint)
        self._tell()

    def pull(self) -> None:
        super().pull()
        self._tell()

    def _tell(self) -> None:
        self.hint.say(_words(get(self._document.plan, self._section.path)))


def _words(section: Section) -> str:
    if section.wiring is None:
        return tr("Sensitivity and impedance are those of all drivers together.")
    count = section.radiator.count if isinstance(section.radiator, Diaphragm) else 1
    whole = wired_impedance(section)
    ohm = "" if whole is None else f", {show(whole.nominal_ohm, 'ohm').replace(' ', NO_BREAK)}"
    if section.wiring == "parallel":
        more = show(20.0 * log10(wired_gain(section)), "dB")
        told = tr("{count} in parallel: {more} above one for the same volts", count=count, more=more)
    else:
        told = tr("{count} in series: as loud as one for the same volts", count=count)
    return f"{tr('Sensitivity and impedance are those of one driver.')} {told}{ohm}."
