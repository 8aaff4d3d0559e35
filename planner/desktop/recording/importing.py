"""A sound file, folder or playlist read beside the window and put into the plan as its programme."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QMessageBox, QProgressDialog, QWidget

from planner.desktop.background import Background, Progress
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.plan import PlanError
from planner.plan.recorded import recorded, section_bands, with_recording
from planner.plan.recording import Recording
from planner.programme.playlist import is_set
from planner.programme.recording import read_recording, read_set
from planner.programme.sections import SectionBand
from planner.programme.sound_faults import ReadingCancelled, RecordingError, SoundLibraryMissing
from planner.report.language import tr

__all__ = ["SOUND_ENDINGS", "Heard", "SoundImport", "import_sound", "place_of"]

SOUND_ENDINGS = (".wav", ".flac", ".ogg", ".mp3", ".aif", ".aiff", ".m3u", ".m3u8")
PATIENCE_MS = 400
MOST_TOLD = 5


@dataclass(frozen=True, slots=True)
class Heard:
    """What reading gave: what a plan keeps, and what to tell of files that could not be used."""

    recording: Recording | None
    faults: tuple[str, ...] = ()


def hear(path: str, bands: tuple[SectionBand, ...], progress: Progress) -> Heard | None:
    """Read a file or a set into what a plan keeps; None if that was called off."""
    try:
        if is_set(path):
            found = read_set(path, sections=bands, progress=progress)
            return Heard(recorded(found.whole), tuple(map(str, found.faults)))
        return Heard(recorded(read_recording(path, sections=bands, progress=progress)))
    except ReadingCancelled:
        return None
    except (RecordingError, SoundLibraryMissing, PlanError, ValueError) as fault:
        return Heard(None, (str(fault),))


class _Reading:
    """One import as work for the background."""

    def __init__(self, path: str, bands: tuple[SectionBand, ...]) -> None:
        self._path, self._bands = path, bands

    def __call__(self, progress: Progress) -> Heard | None:
        return hear(self._path, self._bands, progress)


class SoundImport(QObject):
    """One import: shows how far it has got, can be called off, and changes the plan in one undoable step.

    ``finished`` fires once, with whether the plan has the recording now; the import then goes by itself.
    """

    finished = Signal(bool)

    def __init__(self, document: PlanDocument, path: str | os.PathLike[str], parent: QWidget | None) -> None:
        super().__init__(document)
        self._document, self._path, self._window = document, Path(path), parent
        self.box: QMessageBox | None = None
        self._background = Background(self)
        self._background.done.connect(self._take)
        self._background.progressed.connect(self._tell)
        words = self.tr("Reading {name}").format(name=self._path.name)
        self.dialog = QProgressDialog(words, self.tr("Cancel"), 0, 100, parent)
        self.dialog.setWindowTitle(self.tr("Take a Recording"))
        self.dialog.setAutoClose(False)
        self.dialog.setAutoReset(False)
        self.dialog.setMinimumDuration(PATIENCE_MS)
        self.dialog.setWindowModality(Qt.WindowModality.NonModal)
        self.dialog.canceled.connect(self._cancel)
        self.dialog.setValue(0)
        self._background.ask(_Reading(os.fspath(path), section_bands(document.plan)))

    def _tell(self) -> None:
        self.dialog.setValue(min(round(100.0 * self._background.share), 99))

    def _cancel(self) -> None:
        self._background.drop()
        self._end(False)

    def _take(self) -> None:
        heard: Heard | None = self._background.result
        taken = heard is not None and heard.recording is not None
        if heard is not None and heard.recording is not None:
            self._keep(heard.recording)
        if heard is not None and heard.faults:
            self._say(heard.faults, taken)
        self._end(taken)

    def _keep(self, recording: Recording) -> None:
        settings().keep(f"recordings/{recording.digest}", str(self._path.resolve()))
        settings().keep("recordings folder", str(self._path.resolve().parent))
        after = with_recording(self._document.plan, recording)
        self._document.close_gesture()
        self._document.replace(after, self.tr("Take the recording {name}").format(name=recording.file))
        self._document.close_gesture()

    def _say(self, faults: tuple[str, ...], taken: bool) -> None:
        box = QMessageBox(self._window)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setIcon(QMessageBox.Icon.Information if taken else QMessageBox.Icon.Warning)
        box.setWindowTitle(self.tr("Take a Recording"))
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setText(
            self.tr("The recording is in the plan, without what could not be used.")
            if taken
            else self.tr("This recording cannot be used; the plan is as it was.")
        )
        more = self.tr("… and {count} more").format(count=len(faults) - MOST_TOLD)
        told = [*faults[:MOST_TOLD], *([more] if len(faults) > MOST_TOLD else [])]
        box.setInformativeText("\n".join(told))
        self.box = box
        box.open()

    def _end(self, taken: bool) -> None:
        self.dialog.canceled.disconnect(self._cancel)
        self.dialog.close()
        self.dialog.deleteLater()
        self.finished.emit(taken)
        self.deleteLater()


def import_sound(
    document: PlanDocument, path: str | os.PathLike[str], parent: QWidget | None = None
) -> SoundImport:
    """Begin to read a sound file, a folder of them or a playlist, to be the programme of the plan.

    Returns at once; the import lives as a child of the document until it has finished.
    """
    return SoundImport(document, path, parent)


def place_of(recording: Recording) -> Path | None:
    """Where the recording was read from on this machine, if it is still there."""
    stored = settings().value(f"recordings/{recording.digest}")
    return Path(stored) if isinstance(stored, str) and os.path.exists(stored) else None


def sound_filter() -> str:
    """What a file dialog offers."""
    kinds = " ".join(f"*{ending}" for ending in SOUND_ENDINGS)
    return f"{tr('Recordings and playlists')} ({kinds});;{tr('All files')} (*)"
