"""Work that takes a while, done beside the window: the newest request wins, nothing outlives its owner."""

from __future__ import annotations

import sys
import weakref
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QThreadPool, QTimer, Signal
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from planner.desktop.document import PlanDocument

__all__ = ["Background", "LateAnswer", "Progress", "Work"]

LOOK_MS = 20
PATIENCE_MS = 150

Progress = Callable[[float], bool]
"""Told the share of the work that is done; answers whether to go on."""

Work = Callable[[Progress], Any]


class Background(QObject):
    """Does one piece of work at a time in the thread pool, and of those that wait only the newest.

    ``done`` fires in the thread of the window when ``result`` is there, ``progressed`` when ``share``
    has grown. Work that was asked for before something newer is told to stop, and what it gives is
    dropped. An exception goes to ``sys.excepthook``, and the result is None.
    """

    done = Signal()
    progressed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.result: Any = None
        self.share = 0.0
        self._job: _Job | None = None
        self._next: Work | None = None
        self._alive = _Alive()
        # The worker never touches Qt: the window looks now and then how far it has got.
        self._look = QTimer(self, interval=LOOK_MS)
        self._look.timeout.connect(self._take)

    @property
    def busy(self) -> bool:
        """Whether something that is still wanted is being done."""
        return self._next is not None or (self._job is not None and not self._job.stopped)

    def ask(self, work: Work) -> None:
        """Do *work*, a function without Qt that may call its argument to tell progress and to be stopped."""
        if self._job is None:
            self._begin(work)
        else:
            self._job.stopped = True
            self._next = work

    def drop(self) -> None:
        """Want nothing any more."""
        self._next = None
        if self._job is not None:
            self._job.stopped = True

    def _begin(self, work: Work) -> None:
        self.share = 0.0
        self._job = _Job(work, weakref.ref(self._alive))
        QThreadPool.globalInstance().start(self._job.run)
        self._look.start()

    def _take(self) -> None:
        job = self._job
        assert job is not None
        if not job.finished:
            self._tell(job)
            return
        waiting, self._job, self._next = self._next, None, None
        if waiting is not None:
            self._begin(waiting)
        else:
            self._look.stop()
        if job.error is not None:
            sys.excepthook(type(job.error), job.error, job.error.__traceback__)
        if not job.stopped:
            self.result = job.result
            self.done.emit()

    def _tell(self, job: _Job) -> None:
        if job.share != self.share and not job.stopped:
            self.share = job.share
            self.progressed.emit()


class _Alive:
    """Dies with its owner. A worker that held the owner itself for a moment might have to delete it."""


class _Job:
    """One piece of work, seen by both threads: the worker writes to it, the window sets ``stopped``."""

    def __init__(self, work: Work, owner: weakref.ref[_Alive]) -> None:
        self._work: Work | None = work
        self._owner = owner
        self.stopped = self.finished = False
        self.share = 0.0
        self.result: Any = None
        self.error: Exception | None = None

    def run(self) -> None:
        work, self._work = self._work, None
        try:
            if work is not None and self._go_on(0.0):
                self.result = work(self._go_on)
        except Exception as error:
            self.error = error
        finally:
            self.finished = True

    def _go_on(self, share: float) -> bool:
        self.share = share
        return not self.stopped and self._owner() is not None


class LateAnswer(QObject):
    """An answer that takes a while, kept in step with a document for as long as somebody looks.

    *subject* gives what it is about: the arguments of *work*, which gets the progress as the last one,
    or None while there is nothing to ask. It is asked anew a moment after the last change. ``changed``
    fires when ``value``, whether it is ``fresh``, or the progress has changed.
    """

    changed = Signal()

    def __init__(
        self,
        document: PlanDocument,
        subject: Callable[[], tuple[Any, ...] | None],
        work: Callable[..., Any],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self.value: Any = None
        self._subject, self._work = subject, work
        self._about: tuple[Any, ...] | None = None
        self._asked: tuple[Any, ...] | None = None
        self._told: tuple[object, ...] = ()
        self._lookers: weakref.WeakSet[QWidget] = weakref.WeakSet()
        self._background = Background(self)
        self._background.done.connect(self._take)
        self._background.progressed.connect(self._tell)
        self._ask_soon = QTimer(self, singleShot=True, interval=PATIENCE_MS)
        self._ask_soon.timeout.connect(self._ask)
        for signal in (document.edited, document.solved, document.chosen):
            signal.connect(self.look)

    @property
    def fresh(self) -> bool:
        """Whether ``value`` answers what is asked now."""
        return self._about is not None and self._about == self._subject()

    @property
    def busy(self) -> bool:
        """Whether a newer answer is being sought, or soon will be."""
        return self._ask_soon.isActive() or self._background.busy

    @property
    def share(self) -> float:
        """How much of the work is done, 0 to 1."""
        return self._background.share

    def shown_by(self, widget: QWidget) -> None:
        """Seek answers while this widget, or another one told of, is visible; it calls :meth:`look` then."""
        self._lookers.add(widget)
        self.look()

    def look(self) -> None:
        """See whether the answer still holds, and seek another one if not."""
        wanted = self._subject()
        if wanted is None or wanted == self._about:
            self._ask_soon.stop()
            self._background.drop()
        elif wanted != self._asked or not self._background.busy:
            self._background.drop()
            if self._is_looked_at():
                self._ask_soon.start()
        self._tell()

    def _is_looked_at(self) -> bool:
        return any(isValid(widget) and widget.isVisible() for widget in self._lookers)

    def _ask(self) -> None:
        self._asked = asked = self._subject()
        if asked is not None and self._is_looked_at():
            self._background.ask(_Question(self._work, asked))
        self._tell()

    def _take(self) -> None:
        self.value, self._about = self._background.result, self._asked
        self._tell()

    def _tell(self) -> None:
        """Tell of a change, if there is one: an answer that stays out of date is told of once."""
        now = (self._about, self.fresh, self.busy, self.share)
        if now != self._told:
            self._told = now
            self.changed.emit()


class _Question:
    """Work with all its arguments but the last."""

    def __init__(self, work: Callable[..., Any], about: tuple[Any, ...]) -> None:
        self._work, self._about = work, about

    def __call__(self, progress: Progress) -> Any:
        return self._work(*self._about, progress)
