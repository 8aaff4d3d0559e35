"""The plan of a window as a file: new, open, save, revert, and what is asked before anything is lost."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QStandardPaths, Signal
from PySide6.QtWidgets import QApplication

from planner.desktop.settings import settings
from planner.desktop.window.questions import Answer
from planner.desktop.window.windows import windows
from planner.plan import Plan, PlanError, load, save

if TYPE_CHECKING:
    from planner.desktop.window.main import MainWindow

__all__ = ["Files"]

Stamp = tuple[int, int]


class Files(QObject):
    """Keeps a window's plan together with its file; ``moved`` tells that it has another one now."""

    moved = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._document = window.document
        self._stamp: Stamp | None = None
        self.path: Path | None = None

    @property
    def name(self) -> str:
        """What a title bar and a question call this plan."""
        return self.path.name if self.path else self._document.plan.title or self.tr("Untitled")

    @property
    def is_untouched(self) -> bool:
        """Whether nothing would be missed if another plan took the place of this one."""
        return self.path is None and self._document.history.count() == 0

    def belong_to(self, path: Path | None) -> None:
        """Say which file the plan was just read from or written to."""
        self.path = path.resolve() if path else None
        self._stamp = _stamp_of(self.path)
        if self.path:
            settings().remember(self.path)
            settings().keep("folder", str(self.path.parent))
        self.moved.emit()

    # What the menu calls.

    def new(self) -> None:
        """Begin a plan from a typical room."""
        preset = self._window.questions.preset()
        if preset is not None:
            self.take(preset.plan(), None)

    def open(self) -> None:
        """Open plans that a person chooses."""
        self.open_all(self._window.questions.files_to_open(_folder()))

    def save(self) -> bool:
        """Write the plan to its file; whether that was done."""
        self.finish_typing()
        if self.path is None:
            return self.save_as()
        if self._stamp is not None and _stamp_of(self.path) not in (None, self._stamp):
            answer = self._window.questions.replace_newer(self.path)
            if answer is not Answer.SAVE:
                return answer is Answer.SAVE_AS and self.save_as()
        if self._document.history.isClean() and _stamp_of(self.path) == self._stamp:
            return True
        return self._write(self.path)

    def save_as(self) -> bool:
        """Write the plan to a file that a person chooses; whether that was done."""
        self.finish_typing()
        file = self._window.questions.file_to_save(self.path or self.suggestion("", ".json"))
        return file is not None and self._write(file)

    def revert(self) -> None:
        """Go back to the plan as its file has it; undo brings the changes back."""
        self.finish_typing()
        if self.path is None or not self._window.questions.give_up_changes(self.name):
            return
        stamp = _stamp_of(self.path)
        plan = self._loaded(self.path)
        if plan is not None:
            self._document.close_gesture()
            self._document.replace(plan, self.tr("Revert"), object())
            self._document.history.setClean()
            self._stamp = stamp

    # What others call.

    def open_all(self, files: Iterable[Path]) -> None:
        """Open each plan file; what cannot be opened is told, and the rest is opened all the same."""
        for file in files:
            self.open_file(file)

    def open_file(self, file: Path) -> bool:
        """Open a plan here or in a window of its own; whether it could be read."""
        shown = windows().showing(file)
        if shown is not None:
            shown.come_forward()
            return True
        plan = self._loaded(file)
        if plan is None:
            return False
        self.take(plan, file)
        return True

    def open_example(self, file: Path) -> None:
        """Open a sample room; saving it asks for a place of its own."""
        plan = self._loaded(file)
        if plan is not None:
            self.take(plan, None)

    def take(self, plan: Plan, path: Path | None) -> None:
        """Show a plan here if nothing would be missed, else in a window of its own."""
        self.finish_typing()
        if self.is_untouched:
            self._document.reset(plan)
            self.belong_to(path)
        else:
            windows().show(plan, path)

    def suggestion(self, ending: str, suffix: str) -> Path:
        """Where a file that is made from the plan might go: beside it, by its name."""
        folder, stem = (self.path.parent, self.path.stem) if self.path else (_folder(), _plain(self.name))
        return folder / f"{stem}{f'_{ending}' if ending else ''}{suffix}"

    def recover(self, plan: Plan, path: Path | None) -> None:
        """Show a plan with changes that are not in its file yet, in a window of its own."""
        window = windows().show(plan, path)
        window.document.history.resetClean()
        window.recovery.write()

    def may_close(self) -> bool:
        """Whether the plan may be let go, after asking where something would be lost."""
        self.finish_typing()
        if self._document.history.isClean():
            return True
        answer = self._window.questions.save_changes(self.name)
        return self.save() if answer is Answer.SAVE else answer is Answer.DISCARD

    def tell_unreadable(self, file: Path, error: PlanError) -> None:
        """Say that a file cannot be opened, with every fault in it."""
        self._window.tell_findings(self.tr("“{0}” cannot be opened.").format(file.name), error.findings)

    def finish_typing(self) -> None:
        """Let the field that has the focus hand over what was typed into it."""
        field = QApplication.focusWidget()
        if field is not None and self._window.isAncestorOf(field):
            field.clearFocus()
            field.setFocus()
        self._document.close_gesture()

    def _loaded(self, file: Path) -> Plan | None:
        try:
            return load(file)
        except PlanError as error:
            self.tell_unreadable(file, error)
            return None

    def _write(self, file: Path) -> bool:
        try:
            _keep_backup(file)
            save(self._document.plan, file)
        except OSError as error:
            self._window.tell(
                self.tr("“{0}” cannot be saved.").format(file.name),
                self.tr("{reason}. The plan stays open; save it in another folder.").format(
                    reason=error.strerror or error
                ),
            )
            return False
        self._document.history.setClean()
        self.belong_to(file)
        return True


def _stamp_of(file: Path | None) -> Stamp | None:
    """What tells one version of a file from the next: when it was written, and its size."""
    try:
        found = os.stat(file) if file else None
    except OSError:
        return None
    return (found.st_mtime_ns, found.st_size) if found else None


def _keep_backup(file: Path) -> None:
    """Keep what is about to be replaced beside it, under the same name with a tilde."""
    real = Path(os.path.realpath(file))
    if real.is_file():
        shutil.copy2(real, real.with_name(f"{real.name}~"))


def _folder() -> Path:
    """Where plans were last opened or saved, else the documents' folder."""
    last = settings().value("folder")
    if last and Path(last).is_dir():
        return Path(last)
    return Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation))


def _plain(name: str) -> str:
    """A plan's title as a file name that every system takes."""
    return re.sub(r"[^\w\- ]+", "", name).strip().replace(" ", "_").lower() or "plan"
