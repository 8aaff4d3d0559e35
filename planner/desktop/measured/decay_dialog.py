"""The decay of an impulse response by octave beside what the plan computes, and one press that takes it."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHeaderView, QVBoxLayout, QWidget

from planner.desktop.background import Background, Progress
from planner.desktop.care.caution import Caution, Paragraph
from planner.desktop.charts.figures import NOTHING, figure, frequency_text, nominal_hz
from planner.desktop.charts.table import Column, Table
from planner.desktop.charts.table_model import TableModel
from planner.desktop.document import PlanDocument
from planner.desktop.measured.putting import computed_t60_s, with_t60
from planner.desktop.row_table import RowTable
from planner.measurements.decay import Decay
from planner.plan import PlanError
from planner.programme.sound_faults import RecordingError, SoundLibraryMissing
from planner.report.decays import read_decay

__all__ = ["DecayDialog"]

LETTERS, LINES = 124, 28


class _Reading:
    """The evaluation as work for the background: a decay, or what is wrong."""

    def __init__(self, path: str) -> None:
        self._path = path

    def __call__(self, progress: Progress) -> Decay | str:
        try:
            return read_decay(self._path)
        except (RecordingError, SoundLibraryMissing) as fault:
            return str(fault)


class DecayDialog(QDialog):
    """Reads beside the window; the plan changes only when the times are taken, in one undoable step."""

    ready = Signal()

    def __init__(
        self, document: PlanDocument, path: str | os.PathLike[str], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._document, self._path = document, Path(path)
        self.setWindowTitle(self.tr("Decay of {0}").format(self._path.name))
        self.decay: Decay | None = None
        self.words, self.refusals, self.fault = Paragraph(), Paragraph(), Caution()
        self.model = TableModel(self)
        self.table = RowTable(self.model, self.tr("Decay by octave"), self)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.take = self.buttons.addButton(
            self.tr("&Use as Measured T60"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.take.setToolTip(
            self.tr("Put T30, or else T20, of every octave into the room; Undo takes it back")
        )
        self.take.setEnabled(False)
        self.buttons.accepted.connect(self._take)
        self.buttons.rejected.connect(self.reject)
        self._lay_out()
        self.resize(self.sizeHint())
        self.words.setText(self.tr("Reading…"))
        self.fault.say("")
        self._background = Background(self)
        self._background.done.connect(self._show)
        self._background.ask(_Reading(os.fspath(path)))

    def _lay_out(self) -> None:
        lines = QVBoxLayout(self)
        lines.setSpacing(8)
        lines.addWidget(self.words)
        lines.addWidget(self.table, 1)
        for widget in (self.refusals, self.fault, self.buttons):
            lines.addWidget(widget)

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(LETTERS * metrics.averageCharWidth(), LINES * metrics.height())

    def _show(self) -> None:
        found = self._background.result
        if not isinstance(found, Decay):
            self._show_fault(str(found))
        else:
            self.decay = found
            self.model.show_table(self._figures(found))
            self.refusals.say(self._refused(found))
            times = found.measured_t60_s()
            self.take.setEnabled(bool(times) and self._document.plan.room is not None)
            self.words.setText(self._told(len(times)))
        self.ready.emit()

    def _show_fault(self, fault: str) -> None:
        self.words.say("")
        self.table.hide()
        self.fault.say(fault)

    def _told(self, count: int) -> str:
        if self._document.plan.room is None:
            return self.tr("The plan stands in open air, so there is no room to give these times to.")
        if not count:
            return self.tr("No octave has a decay long enough for a reverberation time.")
        return self.tr(
            "The times of ISO 3382 by octave, beside the T60 that surfaces and furnishings give. What is "
            "taken is T30, or T20 where the noise leaves no more; octaves between are read across, those "
            "beyond are held as the nearest."
        )

    def _figures(self, decay: Decay) -> Table:
        bands = decay.bands
        octaves = tuple(frequency_text(nominal_hz(one.centre_hz)) for one in bands)
        computed = computed_t60_s(self._document.plan, np.array([band.centre_hz for band in bands]))
        return Table(
            (
                Column(self.tr("Octave"), "", octaves),
                *(
                    _column(name, unit, [getattr(band, key) for band in bands], decimals)
                    for name, unit, key, decimals in (
                        ("EDT", "s", "edt_s", 2),
                        ("T20", "s", "t20_s", 2),
                        ("T30", "s", "t30_s", 2),
                        ("C80", "dB", "c80_db", 1),
                        ("D50", "", "d50", 2),
                        (self.tr("Range"), "dB", "range_db", 0),
                    )
                ),
                _column(
                    self.tr("Computed"),
                    "s",
                    [None] * len(bands) if computed is None else computed.tolist(),
                    2,
                ),
            )
        )

    def _refused(self, decay: Decay) -> str:
        """Why something is missing: octaves with the same reason in one sentence."""
        reasons: dict[str, list[str]] = {}
        for band in decay.bands:
            if band.refusal:
                reasons.setdefault(band.refusal, []).append(frequency_text(nominal_hz(band.centre_hz)))
        return "\n".join(f"{', '.join(octaves)}: {reason}." for reason, octaves in reasons.items())

    def _take(self) -> None:
        if self.decay is None:
            return
        try:
            after = with_t60(self._document.plan, self.decay)
        except PlanError as error:
            self.fault.say("; ".join(str(one) for one in error.findings))
            return
        self._document.close_gesture()
        self._document.replace(after, self.tr("Use the measured T60"))
        self._document.close_gesture()
        self.accept()


def _column(name: str, unit: str, values: list[float | None], decimals: int) -> Column:
    texts = tuple(NOTHING if value is None else figure(value, decimals) for value in values)
    return Column(name, unit, texts)
