"""A copy of what is not saved yet, kept aside in case the program or the machine stops."""

from __future__ import annotations

import contextlib
import json
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from platformdirs import user_state_path
from PySide6.QtCore import QDateTime, QFileInfo, QLocale, QLockFile, QObject, QTimer
from PySide6.QtWidgets import QStyle, QWidget

from planner.desktop.settings import settings
from planner.desktop.window.notices import Notice
from planner.plan import Plan, PlanError, dumps, loads
from planner.plan.storage import write_atomically

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Left", "Recovery", "RecoveryNotice", "is_on", "left_behind", "switch"]

DELAY_MS = 2000


def is_on() -> bool:
    """Whether copies are kept."""
    return settings().value("recovery") != "off"


def switch(on: bool) -> None:
    """Keep copies from now on, or no longer."""
    settings().keep("recovery", "on" if on else "off")


class Recovery(QObject):
    """Writes a copy of a window's plan soon after a change, and removes it once nothing could be lost."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._lock: QLockFile | None = None
        self._file = _folder() / f"{uuid.uuid4().hex}.json"
        self._soon = QTimer(self, singleShot=True, interval=DELAY_MS)
        self._soon.timeout.connect(self.write)
        window.document.edited.connect(self._note)
        window.document.history.cleanChanged.connect(self._note)

    def write(self) -> None:
        """Write the copy now, if there is something to lose; where that cannot be done, there is none."""
        if self._window.document.history.isClean() or not is_on():
            self.drop()
            return
        files = self._window.files
        data = {
            "name": files.name,
            "file": str(files.path) if files.path else None,
            "plan": json.loads(dumps(self._window.document.plan)),
        }
        with contextlib.suppress(OSError):
            self._file.parent.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                self._lock = _lock_of(self._file)
                self._lock.tryLock(0)
            write_atomically(self._file, json.dumps(data, ensure_ascii=False).encode())

    def drop(self) -> None:
        """Remove the copy: everything is saved, or given up on purpose."""
        self._soon.stop()
        self._file.unlink(missing_ok=True)
        if self._lock is not None:
            self._lock.unlock()
            self._lock = None

    def _note(self) -> None:
        if self._window.document.history.isClean():
            self.drop()
        elif not self._soon.isActive():
            self._soon.start()


@dataclass(frozen=True, slots=True)
class Left:
    """A copy whose program is gone: what the plan was called, its file, and when it was last changed."""

    copy: Path
    lock: QLockFile
    name: str
    file: Path | None
    changed: QDateTime
    plan: Plan

    def forget(self) -> None:
        """Remove the copy."""
        self.copy.unlink(missing_ok=True)
        self.lock.unlock()


def left_behind() -> list[Left]:
    """Every copy that a program left behind when it stopped; those of programs that run are not touched."""
    found = (_left(copy) for copy in sorted(_folder().glob("*.json")))
    return [left for left in found if left is not None]


class RecoveryNotice(Notice):
    """Offers what was left behind, one plan after the other."""

    def __init__(self, window: MainWindow, parent: QWidget | None = None) -> None:
        super().__init__(QStyle.StandardPixmap.SP_MessageBoxInformation, parent)
        self._window = window
        self._left: list[Left] = []
        self.setAccessibleName(self.tr("Recovery"))
        self.recover_button = self.offer(
            self.tr("&Recover"), self.tr("Open the plan with its unsaved changes"), self._recover
        )
        self.discard_button = self.offer(
            self.tr("&Discard"), self.tr("Give the unsaved changes up for good"), self._discard
        )

    def ask(self, left: Sequence[Left]) -> None:
        """Offer these plans."""
        self._left = list(left)
        self._show_next()

    def _show_next(self) -> None:
        if not self._left:
            self.hide()
            return
        when = QLocale.system().toString(self._left[0].changed, QLocale.FormatType.ShortFormat)
        words = self.tr("“{name}” had unsaved changes when the program stopped, the last of {when}.")
        self.say(words.format(name=self._left[0].name, when=when))

    def _recover(self) -> None:
        left = self._left.pop(0)
        self._window.files.recover(left.plan, left.file)
        left.forget()
        self._show_next()

    def _discard(self) -> None:
        self._left.pop(0).forget()
        self._show_next()


def _folder() -> Path:
    return user_state_path("fewwatts") / "recovery"


def _lock_of(copy: Path) -> QLockFile:
    lock = QLockFile(str(copy.with_suffix(".lock")))
    # A lock is stale when its process is gone, however long ago it was taken.
    lock.setStaleLockTime(0)
    return lock


def _left(copy: Path) -> Left | None:
    """The copy, if the program that wrote it is gone and it can still be read."""
    lock = _lock_of(copy)
    if not lock.tryLock(0):
        return None
    try:
        data = json.loads(copy.read_text(encoding="utf-8"))
        plan = loads(json.dumps(data["plan"]))
        file = Path(data["file"]) if data["file"] else None
        return Left(copy, lock, str(data["name"]), file, QFileInfo(copy).lastModified(), plan)
    except (OSError, ValueError, KeyError, TypeError, PlanError):
        lock.unlock()
        return None
