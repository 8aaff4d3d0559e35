"""The recording of the programme: what was taken, its spectrum and crest factors, and how to take another."""

from __future__ import annotations

import numpy as np

from planner.desktop.document import PlanDocument
from planner.desktop.editors.impedance import MARKS_HZ
from planner.desktop.editors.part import Editor
from planner.desktop.fields import CurveSketch, Form, Hint, Scale, Trace
from planner.desktop.fields.button import MenuButton
from planner.desktop.recording.asking import SoundMenu
from planner.desktop.recording.view import clock_text
from planner.plan.recording import Recording
from planner.plan.units import show

__all__ = ["RecordingEditor"]

SPAN_DB, STEP_DB = 60.0, 20.0


class RecordingEditor(Editor):
    """A button that takes a recording; beneath it, of the one there is, length, peaks and spectrum."""

    def __init__(self, document: PlanDocument) -> None:
        super().__init__(document)
        self._drawn: Recording | None = None
        self.button = MenuButton(
            self.tr("Recording"),
            self.tr("Take a record of your own for the programme: its spectrum, peaks and coherence"),
        )
        self.sounds = SoundMenu(document, self.button.menu, self)
        form = Form()
        form.add_pair(self.tr("Recording"), [self.button])
        self.facts = Hint()
        self.sketch = CurveSketch(self.tr("Spectrum of the recording by third octave"), MARKS_HZ)
        for widget in (form, self.facts, self.sketch):
            self.box.addWidget(widget)
        self._show()

    def pull(self) -> None:
        super().pull()
        self._show()

    def _show(self) -> None:
        recording = self._document.plan.programme.recording
        self.button.setText(self.tr("Take one…") if recording is None else recording.file)
        self.sketch.setVisible(recording is not None)
        if recording is None:
            self.facts.say("")
        elif recording is not self._drawn:
            self.facts.say(self._told(recording))
            self._draw(recording)
        self._drawn = recording

    def _told(self, recording: Recording) -> str:
        text = self.tr(
            "{length} long; crest factor {crest}, in the loudest passages {loud}; true peak {peak} dBTP"
        ).format(
            length=clock_text(recording.duration_s),
            crest=show(recording.crest_db, "dB"),
            loud=show(recording.loud_crest_db, "dB"),
            peak=f"{recording.true_peak_dbtp:+.1f}".replace("-", "−"),
        )
        if recording.integrated_lufs is not None:
            loudness = f"{recording.integrated_lufs:.1f}".replace("-", "−")
            text += self.tr("; loudness {0} LUFS").format(loudness)
        return f"{text}."

    def _draw(self, recording: Recording) -> None:
        hertz, level_db = np.array(recording.bands).T
        relative = level_db - level_db.max()
        marks = tuple(float(mark) for mark in np.arange(-SPAN_DB, 1.0, STEP_DB))
        strongest = show(float(hertz[level_db.argmax()]), "Hz")
        words = self.tr("The strongest third octave lies at {0}").format(strongest)
        shown = np.maximum(relative, -SPAN_DB)
        self.sketch.draw([Trace(hertz, shown)], Scale(-SPAN_DB, 0.0, marks, "dB"), words=words)
