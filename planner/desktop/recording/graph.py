"""The recording over time at the seat, with the level drawn at which the amplifier clips."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from planner.desktop.charts.captions import BELOW, Caption, Captions
from planner.desktop.charts.figures import figure
from planner.desktop.charts.items import Bars, Curve
from planner.desktop.charts.scales import LinearScale
from planner.desktop.charts.seat_panel import SeatChart, Sight, level_text
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.recording.view import RecordingView, clock_text, share_text, verdict_text
from planner.headroom.clipped import KNEE_DB

__all__ = ["RecordingGraph"]

STEP_DB = 10.0
SPAN_DB = 50.0
HEAD_DB = 4.0
MINUTES_FROM_S = 180.0
ABOVE = (0.0, 1.0)


class RecordingGraph(SeatChart):
    """Peaks by window as a ground, those that clip as bars, the clip level across."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("RecordingGraph", "The recording over time")
        super().__init__(name, _time_side(60.0), _level_side(60.0, 110.0), parent)
        self._ends: Ends | None = None
        self.peaks = self.add(
            Curve(
                self.scales, self.tr("peaks at the seat"), "series 0", width=1.0, steps=True, fill_to=-400.0
            ),
            1,
        )
        self.over = self.add(Bars(self.scales, self.tr("clipped"), "short"), 2)
        self.clip = self.add(Curve(self.scales, self.tr("amplifier clips"), "ink", width=1.6, dash=()), 3)
        self.knee = self.add(
            Curve(self.scales, self.tr("soft: bends from here"), "muted", width=1.2, dash=(3.0, 2.0)), 3
        )
        self.captions = self.add(Captions(self.scales), 4)

    @property
    def shown(self) -> RecordingView:
        """What is looked at."""
        view: RecordingView = self.view
        return view

    @property
    def sight(self) -> Sight:
        return self.shown.sight

    def draw(self, view: RecordingView) -> None:
        self.fit()
        minutes = self._time_unit()
        edges, peaks = view.thinned()
        edges = edges / minutes
        self.peaks.show_points(edges, np.where(np.isnan(peaks), -400.0, peaks))
        over = np.flatnonzero(peaks > view.clip_db)
        # At least a hair wide, so that a single moment in an hour is still seen.
        least = (edges[-1] - edges[0]) / 300.0
        right = np.maximum(edges[over + 1], edges[over] + least)
        self.over.show_bars(edges[over], right, np.full(over.size, view.clip_db), peaks[over])
        ends = [edges[0], edges[-1]]
        self.clip.show_points(ends, [view.clip_db] * 2)
        soft = view.clipped.overload == "soft"
        self.knee.setVisible(soft)
        self.knee.show_points(ends if soft else [], [view.clip_db + KNEE_DB] * 2 if soft else [])
        self.write()

    def fit(self) -> None:
        view = self.shown
        top = max(view.clip_db, view.asked_db) + HEAD_DB
        low = max(view.clip_db, view.sight.seat.peak_target_db) - SPAN_DB
        self._ends = held(low, top, STEP_DB, self._ends)
        minutes = self._time_unit()
        self.set_scales(
            _time_side(view.recording.duration_s / minutes, minutes > 1.0), _level_side(*self._ends)
        )

    def write(self) -> None:
        view, minutes = self.shown, self._time_unit()
        end = view.recording.duration_s / minutes
        words = self.tr("clips above {level} dB").format(level=level_text(view.clip_db))
        places = tuple((end * share, view.clip_db) for share in (0.3, 0.5, 0.9))
        caption = Caption(words, end * 0.12, view.clip_db, "ink", (ABOVE, BELOW), 3.0, True, elsewhere=places)
        self.captions.show_captions([caption])

    def table(self) -> Table:
        view, minutes = self.shown, self._time_unit()
        clock = _from_minutes if minutes > 1.0 else clock_text
        told = "\n".join((view.sight.settings, view.recording.file, self.headline()))
        return Table(
            (
                Column(self.tr("Time"), "min" if minutes > 1.0 else "s", view.start_s / minutes, 2, clock),
                Column(self.tr("peaks at the seat"), "dB", view.peak_db, 1),
                Column(self.tr("above clipping"), "dB", view.peak_db - view.clip_db, 1),
            ),
            told,
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        view = self.shown
        cut = view.clipped
        if cut.share <= 0.0 and not cut.starts_s:
            return self.tr("Nothing of {file} is clipped at {level} dB peak").format(
                file=view.recording.file, level=level_text(view.asked_db)
            )
        return self.tr("Clipped at {level} dB peak: {share} of the samples of {file}").format(
            share=share_text(cut.share), file=view.recording.file, level=level_text(view.asked_db)
        )

    def summary(self) -> str:
        return f"{self.headline()}. {verdict_text(self.shown)} {' '.join(self._facts())}"

    def _facts(self) -> Iterator[str]:
        recording = self.shown.recording
        yield self.tr("{length} long, crest factor {crest} dB, in the loudest passages {loud} dB.").format(
            length=clock_text(recording.duration_s),
            crest=figure(recording.crest_db, 1),
            loud=figure(recording.loud_crest_db, 1),
        )

    def _time_unit(self) -> float:
        return 60.0 if self.has_data and self.shown.recording.duration_s > MINUTES_FROM_S else 1.0


def _from_minutes(minutes: float) -> str:
    return clock_text(60.0 * minutes + 1e-6)


def _time_side(end: float, minutes: bool = False) -> LinearScale:
    unit = "min" if minutes else "s"
    return LinearScale(QCoreApplication.translate("RecordingGraph", "Time"), unit, 0.0, max(end, 0.1))


def _level_side(low_db: float, high_db: float) -> LinearScale:
    title = QCoreApplication.translate("RecordingGraph", "Peak level at the seat")
    return LinearScale(title, "dB", low_db, high_db, steps=(10.0, 20.0))
