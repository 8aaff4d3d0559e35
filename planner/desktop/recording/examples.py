"""Two listening examples: thirty seconds as the amplifier passes them, and the same without clipping."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from planner.desktop.background import Background, Progress
from planner.desktop.document import PlanDocument
from planner.desktop.recording.importing import place_of, sound_filter
from planner.desktop.recording.view import RecordingView
from planner.desktop.recording.written import Written, WrittenDialog
from planner.plan.recording import Recording
from planner.programme.render import LENGTH_S, passage, rendered, write_wave
from planner.programme.sound_faults import ReadingCancelled, RecordingError, SoundLibraryMissing
from planner.programme.sound_file import digest_of
from planner.report.language import tr

__all__ = ["Examples", "busiest_s"]


def busiest_s(recording: Recording, clip_dbfs: float, length_s: float = LENGTH_S) -> float:
    """Where the passage begins that clips most often; without any, the one with the highest peak."""
    peaks = np.array([-400.0 if one is None else one for one in recording.timeline.peak_dbfs])
    count = max(1, min(round(length_s / recording.timeline.window_s), peaks.size))
    over = (peaks > clip_dbfs).astype(float)
    if not over.any():
        first = max(0, min(int(peaks.argmax()) - count // 2, peaks.size - count))
        return float(first * recording.timeline.window_s)
    total = np.concatenate([[0.0], np.cumsum(over)])
    return float(int((total[count:] - total[:-count]).argmax()) * recording.timeline.window_s)


class _Writing:
    """The reading, clipping and writing as work for the background."""

    def __init__(self, view: RecordingView, source: Path, folder: Path, digest: str | None) -> None:
        cut = view.clipped
        self._source, self._digest, self._limit = source, digest, float(10.0 ** (cut.clip_dbfs / 20.0))
        start_s = busiest_s(view.recording, cut.clip_dbfs) if digest else 0.0
        level = f"{view.asked_db:.0f} dB"
        names = (tr("{name}, clipped at {level}"), tr("{name}, as loud without clipping"))
        clipped, clean = (folder / f"{one.format(name=source.stem, level=level)}.wav" for one in names)
        self._plan = Written(clipped, clean, start_s, cut.overload or "hard")

    def __call__(self, progress: Progress) -> Written | None:
        try:
            return self._written(progress)
        except ReadingCancelled:
            return None
        except (RecordingError, SoundLibraryMissing, OSError, ValueError) as fault:
            return Written(self._plan.clipped, self._plan.clean, 0.0, self._plan.law, str(fault))

    def _written(self, progress: Progress) -> Written:
        if self._digest and digest_of(self._source) != self._digest:
            raise RecordingError(
                self._source, "is not the recording that the plan keeps", "choose that one, or take this one"
            )
        rate_hz, samples = passage(self._source, self._plan.start_s, progress=progress)
        pair = rendered(samples, rate_hz, self._limit, self._plan.law)
        write_wave(self._plan.clipped, pair.clipped, rate_hz)
        write_wave(self._plan.clean, pair.clean, rate_hz)
        return self._plan


class Examples(QObject):
    """Asks where to, writes beside the window, and offers to play; ``done`` tells that both are there."""

    done = Signal()

    def __init__(self, document: PlanDocument, panel: QWidget) -> None:
        super().__init__(panel)
        self._panel = panel
        self._view: RecordingView | None = None
        self._source: Path | None = None
        self.written: Written | None = None
        self.box: WrittenDialog | None = None
        self.dialog: QFileDialog | None = None
        self._background = Background(self)
        self._background.done.connect(self._told)

    @property
    def busy(self) -> bool:
        """Whether files are being written."""
        return self._background.busy

    def ask(self, view: RecordingView) -> None:
        """Ask for the record if it is not known where it lies, and for the folder to write to."""
        self._view = view
        place = place_of(view.recording)
        if place is not None and place.is_file() and place.suffix not in (".m3u", ".m3u8"):
            self._with_source(str(place))
            return
        folder = str(place if place is not None and place.is_dir() else "")
        words = self.tr("Which record? The plan keeps its figures, not its sound")
        self.dialog = QFileDialog(self._panel.window(), words, folder)
        self.dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        self.dialog.setNameFilter(sound_filter())
        self.dialog.fileSelected.connect(self._with_source)
        self.dialog.open()

    def write(self, view: RecordingView, source: Path, folder: Path) -> None:
        """Write both examples of a record into a folder."""
        place = place_of(view.recording)
        of_a_set = place is not None and (place.is_dir() or place.suffix in (".m3u", ".m3u8"))
        self._background.ask(_Writing(view, source, folder, None if of_a_set else view.recording.digest))

    def _with_source(self, source: str) -> None:
        self._source = Path(source)
        words = self.tr("Write the Two Listening Examples into")
        self.dialog = QFileDialog(self._panel.window(), words, str(self._source.parent))
        self.dialog.setFileMode(QFileDialog.FileMode.Directory)
        self.dialog.fileSelected.connect(self._with_folder)
        self.dialog.open()

    def _with_folder(self, folder: str) -> None:
        if self._view is not None and self._source is not None:
            self.write(self._view, self._source, Path(folder))

    def _told(self) -> None:
        written: Written | None = self._background.result
        if written is None:
            return
        self.written = None if written.fault else written
        self.box = WrittenDialog(written, self._panel.window())
        self.box.open()
        self.done.emit()
