"""The recording on its card: over time, at any listening level, and written out to listen to."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QHBoxLayout, QMenu, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.care.caution import Paragraph
from planner.desktop.charts.seat_panel import SeatPanel
from planner.desktop.document import PlanDocument
from planner.desktop.recording.asking import SoundMenu
from planner.desktop.recording.examples import Examples
from planner.desktop.recording.graph import RecordingGraph
from planner.desktop.recording.level import LevelBar
from planner.desktop.recording.view import RecordingView, verdict_text
from planner.plan import PlanError, put

__all__ = ["RecordingPanel"]


class RecordingPanel(SeatPanel):
    """What the amplifier clips of the recording, and when; without one, how to get one."""

    level: LevelBar | None = None

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(document, RecordingGraph(), parent)
        self.examples = Examples(document, self)
        self.level = LevelBar(self)
        self.words = Paragraph(self)
        self.take_button = QPushButton(self.tr("Take a &Recording"))
        self.take_button.setToolTip(
            self.tr("Read a record of your own: its spectrum, its peaks and its likeness of left and right")
        )
        self.menu = QMenu(self.take_button)
        self.sounds = SoundMenu(document, self.menu, self)
        self.take_button.setMenu(self.menu)
        self.write_button = QPushButton(self.tr("Write the Two Listening E&xamples…"))
        self.write_button.setToolTip(
            self.tr(
                "Thirty seconds as the amplifier would pass them at this level, and the same as loud "
                "without clipping, as two WAV files"
            )
        )
        self._lay_out_below()
        self.level.moved.connect(self._move)
        self.level.applied.connect(self._apply)
        self.write_button.clicked.connect(self._write_examples)
        self._follow()

    def _lay_out_below(self) -> None:
        assert self.level is not None
        buttons = QHBoxLayout()
        buttons.addWidget(self.take_button)
        buttons.addWidget(self.write_button)
        buttons.addStretch(1)
        lines = self.layout()
        assert isinstance(lines, QVBoxLayout)
        lines.addWidget(self.level)
        lines.addWidget(self.words)
        lines.addLayout(buttons)
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    @property
    def shown(self) -> RecordingView | None:
        """What is looked at, if the programme is a recording and the plan has an answer."""
        view: RecordingView | None = self.chart.view
        return view

    def set_stale_look(self, stale: bool) -> None:
        super().set_stale_look(stale)
        if self.level is not None:
            self._say()

    def sizeHint(self) -> QSize:
        return QSize(70 * self.fontMetrics().averageCharWidth(), 24 * self.fontMetrics().height())

    def _view(self) -> object:
        sight = self._sight()
        if sight is None or sight.plan.programme.recording is None:
            return None
        offset_db = 0.0 if self.level is None else self.level.offset_db
        return RecordingView(sight, sight.plan.programme.recording, offset_db)

    def _follow(self) -> None:
        super()._follow()
        if self.level is not None:
            self._say()

    def _move(self) -> None:
        self._follow()

    def _say(self) -> None:
        assert self.level is not None
        view = self.shown
        there = view is not None
        self.level.setVisible(there)
        self.level.setEnabled(not self._document.stale)
        self.write_button.setVisible(there)
        self.write_button.setEnabled(there and not self._document.stale)
        self.words.setEnabled(not self._document.stale)
        if view is not None:
            self.words.say(verdict_text(view))
            return
        self.words.say(
            self.tr(
                "The programme is typical music so far. Take a recording of your own, and this shows which "
                "moments of it the amplifier would clip. Only figures are kept in the plan, no sound."
            )
        )

    def _apply(self) -> None:
        assert self.level is not None
        target, offset = self._document.plan.target, self.level.offset_db
        key = "average_db" if target.peak_db is None else "peak_db"
        held = getattr(target, key)
        try:
            after = put(self._document.plan, ("target", key), held + offset)
        except PlanError:
            self.words.say(self.tr("A target of that level lies beyond what a plan can hold."))
            return
        self._document.close_gesture()
        self._document.replace(after, self.tr("Take the listening level as target"))
        self._document.close_gesture()
        self.level.reset()

    def _write_examples(self) -> None:
        if self.shown is not None:
            self.examples.ask(self.shown)
