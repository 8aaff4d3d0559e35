"""The fields of a valve stage: the valve at rest, the transformer, its taps."""

from __future__ import annotations

from typing import cast

from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from planner.desktop.care.caution import Caution, SectionTitle
from planner.desktop.charts.figures import significant
from planner.desktop.document import PlanDocument
from planner.desktop.fields import AccessKeys, Form, NumberField
from planner.desktop.triode.draft import Draft
from planner.desktop.triode.stage import STARTS, ValveStage

__all__ = ["StageForm"]

VALVE = ("plate_v", "bias_v", "plate_ma", "mu", "plate_ohm")
TRANSFORMER = ("primary_ohm", "loss_db")
TAPS = ("tap_ohm", "second_tap_ohm", "third_tap_ohm")
TAKEN = "PCSX"
"""Access keys of the dialog round the form."""


class StageForm(QWidget):
    """Windows on the draft; a fault of the whole stands below them."""

    def __init__(self, draft: Draft, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._draft = draft
        self.fields: dict[str, NumberField] = {}
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addLayout(self._make_starts())
        lines.addWidget(self._make_form())
        self.fault = Caution()
        lines.addWidget(self.fault)
        lines.addStretch(1)
        draft.edited.connect(self._pull)
        draft.worked.connect(self._tell)
        self._tell()

    def _make_starts(self) -> QVBoxLayout:
        self.starts = QComboBox()
        self.starts.setAccessibleName(self.tr("Start from"))
        self.starts.setToolTip(self.tr("Published operating points of directly heated triodes, in class A1"))
        self.starts.setPlaceholderText(self.tr("own figures"))
        self.starts.addItems([_start_text(one) for one in STARTS])
        self.starts.setCurrentIndex(STARTS.index(self._draft.plan) if self._draft.plan in STARTS else -1)
        self.starts.activated.connect(self._start)
        label = QLabel(self.tr("&Start from"))
        label.setBuddy(self.starts)
        lines = QVBoxLayout()
        lines.setSpacing(2)
        lines.addWidget(label)
        lines.addWidget(self.starts)
        return lines

    def _make_form(self) -> Form:
        form = Form(keys=AccessKeys(TAKEN))
        for title, names in (
            (self.tr("Valve at rest"), VALVE),
            (self.tr("Output transformer"), TRANSFORMER),
            (self.tr("Taps"), TAPS),
        ):
            form.add_wide(SectionTitle(title))
            for name in names:
                self.fields[name] = self._make_field(name)
                form.add(self.fields[name])
        return form

    def _make_field(self, name: str) -> NumberField:
        words = {
            "tap_ohm": self.tr("First tap"),
            "second_tap_ohm": self.tr("Second tap"),
            "third_tap_ohm": self.tr("Third tap"),
        }
        # The draft stands in for a document: fields ask it for its value and give it another, no more.
        document = cast(PlanDocument, self._draft)
        optional = name in TAPS[1:]
        field = NumberField(document, (name,), name=words.get(name, ""), optional=optional)
        if optional:
            field.placeholder, field.start = self.tr("none"), 8.0
        return field

    def _start(self, index: int) -> None:
        self._draft.close_gesture()
        self._draft.replace(STARTS[index], self.tr("Start from another valve"))
        self._draft.close_gesture()

    def _pull(self) -> None:
        for field in self.fields.values():
            field.pull()
        self.starts.setCurrentIndex(STARTS.index(self._draft.plan) if self._draft.plan in STARTS else -1)

    def _tell(self) -> None:
        self.fault.say(self._draft.fault)


def _start_text(stage: ValveStage) -> str:
    volts, bias = significant(stage.plate_v), significant(stage.bias_v).replace("-", "−")
    return f"{volts} V, {bias} V, {significant(stage.plate_ma)} mA"
