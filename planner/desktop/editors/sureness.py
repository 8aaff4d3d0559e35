"""How sure the inputs are: one standard deviation of each, the usual one unless told otherwise."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor
from planner.desktop.fields import Form, Hint, NumberField, Place, Reading
from planner.desktop.settings import settings
from planner.plan import Plan
from planner.plan.edit import Path
from planner.plan.fields import spec_of
from planner.plan.model import Tolerances
from planner.plan.reshape import own_tolerance, set_tolerance, usual_tolerances
from planner.report.language import tr

__all__ = ["SurenessEditor", "sureness_words"]

TOLERANCES = Place("tolerances")
USUAL = Tolerances()
READ_IN = {"distance_m": "cm"}


class SurenessEditor(Editor):
    """An empty field means the usual value, which it shows in grey."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self.box.addWidget(
            Hint(
                self.tr(
                    "One standard deviation of each input, for the chance that peaks play unclipped. "
                    "Grey: the usual values, common practice without a published source."
                )
            )
        )
        form = Form()
        self.fields = {key: self._field(key, name) for key, name in self._names().items()}
        for field in self.fields.values():
            form.add(field)
        self.box.addWidget(form)
        self.back = QPushButton(self.tr("&Back to the usual values"))
        self.back.clicked.connect(self._go_back)
        self.box.addWidget(self.back)
        self._tell()
        self._name_usual()

    def _names(self) -> dict[str, str]:
        return {
            "sensitivity_db": self.tr("Sensitivity"),
            "low_room_gain_db": self.tr("Low room gain"),
            "t60_pct": self.tr("Reverberation"),
            "distance_m": self.tr("Seat distance"),
            "transient_ratio": self.tr("Transient, ×/÷"),
            "crest_db": self.tr("Crest factor"),
            "rating_pct": self.tr("Rating"),
            "impedance_pct": self.tr("Impedance"),
        }

    def _field(self, key: str, name: str) -> NumberField:
        field = NumberField(
            self._document,
            TOLERANCES.to(key),
            spec=spec_of(Tolerances, key),
            unit=READ_IN.get(key),
            name=name,
            read=_own,
            write=_with_own,
            optional=True,
            exact=key not in READ_IN,
        )
        field.start = getattr(USUAL, key)
        return self.keep(field)

    def pull(self) -> None:
        super().pull()
        self._tell()

    def answer(self) -> None:
        super().answer()
        self._name_usual()

    def _tell(self) -> None:
        self.back.setEnabled(self._document.plan.tolerances is not None)

    def _name_usual(self) -> None:
        for key, field in self.fields.items():
            reading = Reading(field.spec, READ_IN.get(key, field.spec.unit))
            field.placeholder = self.tr("{0} as usual").format(_usual(key, reading))

    def _go_back(self) -> None:
        self.change(usual_tolerances(self._document.plan), self.tr("Back to the usual tolerances"))


def _usual(key: str, reading: Reading) -> str:
    """The usual tolerance in words, in full where it is not turned into another unit."""
    to_text = reading.text if key in READ_IN else reading.full
    return to_text(getattr(USUAL, key), settings().units)


def sureness_words(plan: Plan) -> str:
    """How many inputs have a tolerance of their own."""
    own = sum(own_tolerance(plan, key) is not None for key in Tolerances.model_fields)
    return tr("{count} of your own", count=own) if own else tr("usual values")


def _own(plan: Plan, path: Path) -> float | None:
    return own_tolerance(plan, str(path[-1]))


def _with_own(plan: Plan, path: Path, value: float | None) -> Plan:
    return set_tolerance(plan, str(path[-1]), value)
