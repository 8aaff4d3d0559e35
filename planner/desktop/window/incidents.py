"""Faults of the program itself: written to a log, shown at once, and never the end of it."""

from __future__ import annotations

import contextlib
import faulthandler
import logging
import sys
import threading
import traceback
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType
from typing import IO, Any

from platformdirs import user_state_path
from PySide6.QtCore import QMessageLogContext, QObject, QtMsgType, Signal, qInstallMessageHandler

from planner import __version__

__all__ = ["Incidents", "log_folder"]

LOG_BYTES = 256_000
OLD_LOGS = 3
MOST_ALIKE = 20
LEVELS = {
    QtMsgType.QtDebugMsg: logging.DEBUG,
    QtMsgType.QtInfoMsg: logging.INFO,
    QtMsgType.QtWarningMsg: logging.WARNING,
    QtMsgType.QtCriticalMsg: logging.ERROR,
    QtMsgType.QtFatalMsg: logging.CRITICAL,
}
# Qt's platforms for tests say this at every resize, and nobody can do anything about it.
EMPTY_WORDS = ("This plugin does not support",)


def log_folder() -> Path:
    """Where the logs lie."""
    return user_state_path("fewwatts")


class Incidents(QObject):
    """Catches every exception that nobody else did; ``happened`` carries a summary and all details.

    PySide prints an exception in a slot and goes on; so does this, but it also tells. Exceptions of
    other threads arrive in the thread of the window, because a signal carries them.
    """

    happened = Signal(str, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._log = logging.getLogger("fewwatts")
        self._handler: logging.Handler | None = None
        self._faults: IO[str] | None = None
        self._seen: dict[str, int] = {}
        self._before: tuple[Callable[..., Any], Callable[..., Any], Any] | None = None

    def install(self) -> None:
        """Catch from now on."""
        self._open_logs()
        self._before = sys.excepthook, threading.excepthook, qInstallMessageHandler(self._take_message)
        sys.excepthook = self._take
        threading.excepthook = self._take_of_thread

    def uninstall(self) -> None:
        """Leave everything as it was before :meth:`install`."""
        if self._before is None:
            return
        sys.excepthook, threading.excepthook, handler = self._before
        qInstallMessageHandler(handler)
        self._before = None
        if self._handler is not None:
            self._log.removeHandler(self._handler)
            self._handler.close()
        if self._faults is not None:
            faulthandler.disable()
            self._faults.close()

    def report(self, error: BaseException) -> None:
        """Log one exception and tell of it."""
        details = "".join(traceback.format_exception(error))
        self._seen[details] = self._seen.get(details, 0) + 1
        if self._seen[details] <= MOST_ALIKE:
            self._log.error("%s", details)
        summary = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
        self.happened.emit(summary, f"Few Watts {__version__}\n{details}")

    def _open_logs(self) -> None:
        """Open both logs; a folder that cannot be written costs the logs and nothing else."""
        folder = log_folder()
        with contextlib.suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
            log = RotatingFileHandler(
                folder / "fewwatts.log", maxBytes=LOG_BYTES, backupCount=OLD_LOGS, encoding="utf-8"
            )
            log.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
            self._log.addHandler(log)
            self._handler = log
            # A crash below Python can only write to a file that is open already.
            faults = folder / "crashes.log"
            mode = "w" if faults.exists() and faults.stat().st_size > LOG_BYTES else "a"
            stream = faults.open(mode, encoding="utf-8")
            faulthandler.enable(stream)
            self._faults = stream

    def _take(self, kind: type[BaseException], error: BaseException, where: TracebackType | None) -> None:
        traceback.print_exception(kind, error, where)
        if isinstance(error, KeyboardInterrupt):
            from PySide6.QtWidgets import QApplication

            QApplication.closeAllWindows()
        else:
            self.report(error)

    def _take_of_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None and not isinstance(args.exc_value, SystemExit):
            self._take(args.exc_type, args.exc_value, args.exc_traceback)

    def _take_message(self, kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
        if message.startswith(EMPTY_WORDS):
            return
        self._log.log(LEVELS.get(kind, logging.WARNING), "Qt: %s", message)
        print(message, file=sys.stderr)
