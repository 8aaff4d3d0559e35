"""The dialog that begins a plan from a typical room."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.settings import settings
from planner.desktop.theme import headline_font
from planner.headroom import compute
from planner.plan.presets import PRESETS, Preset
from planner.plan.units import show
from planner.report.words import watts_text

__all__ = ["NewPlanDialog"]

MIDDLE_BAND = 14
"""The third octave at 500 Hz."""


class NewPlanDialog(QDialog):
    """Lists the typical rooms; ``chosen`` is the one taken, None if none was."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chosen: Preset | None = None
        self.setWindowTitle(self.tr("New Plan"))
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Typical rooms"))
        self.list.setSpacing(2)
        self.list.addItems([self.tr(one.name) for one in PRESETS])
        self.title, self.summary = QLabel(), QLabel()
        self.title.setFont(headline_font(self.font()))
        self.summary.setWordWrap(True)
        self.values = {name: QLabel() for name in ("size", "t60", "target", "needed")}
        self.note = QLabel(
            self.tr(
                "Typical values, by common practice and from no published source; loudspeaker and amplifier "
                "are invented. Put your own in their place."
            )
        )
        self.note.setWordWrap(True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.begin = self.buttons.addButton(self.tr("&Begin"), QDialogButtonBox.ButtonRole.AcceptRole)
        self.begin.setDefault(True)
        self.buttons.accepted.connect(self._take)
        self.buttons.rejected.connect(self.reject)
        self.list.itemActivated.connect(self._take)
        self.list.currentRowChanged.connect(self._describe)
        self._lay_out()
        self.list.setCurrentRow(0)

    def _lay_out(self) -> None:
        facts = QFormLayout()
        facts.addRow(self.tr("Size"), self.values["size"])
        facts.addRow(self.tr("Reverberation at 500 Hz"), self.values["t60"])
        facts.addRow(self.tr("Peaks wanted"), self.values["target"])
        facts.addRow(self.tr("Watts needed"), self.values["needed"])
        right = QVBoxLayout()
        right.addWidget(self.title)
        right.addWidget(self.summary)
        right.addLayout(facts)
        right.addStretch(1)
        right.addWidget(self.note)
        both = QHBoxLayout()
        both.setSpacing(16)
        both.addWidget(self.list, 2)
        both.addLayout(right, 3)
        lines = QVBoxLayout(self)
        lines.addLayout(both, 1)
        lines.addWidget(self.buttons)

    def sizeHint(self) -> QSize:
        size = QFontMetricsF(self.font())
        return QSize(round(96 * size.averageCharWidth()), round(22 * size.lineSpacing()))

    def _describe(self, row: int) -> None:
        preset = PRESETS[row]
        plan = preset.plan()
        outcome = compute(plan)
        self.title.setText(self.tr(preset.name))
        self.summary.setText(self.tr(preset.summary))
        none = self.tr("none")
        units = settings().units
        size = " × ".join(show(one, "m", units) for one in preset.size_m) if preset.size_m else none
        self.values["size"].setText(size)
        self.values["t60"].setText(show(outcome.room.t60_s[MIDDLE_BAND], "s") if outcome.room else none)
        self.values["target"].setText(f"{preset.peak_db:g} dB")
        needed, rated = watts_text(outcome.worst.watts_needed), watts_text(outcome.worst.watts_rated)
        self.values["needed"].setText(self.tr("{needed} of {rated}").format(needed=needed, rated=rated))

    def _take(self) -> None:
        self.chosen = PRESETS[self.list.currentRow()]
        self.accept()
