"""What the stage gives into loads other than the one that its tap is meant for."""

from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QCoreApplication, QSize
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import Chart, Column, Curve, LinearScale, LogScale, Marks, Table
from planner.desktop.charts.captions import Caption, Captions
from planner.desktop.charts.figures import figure, significant
from planner.desktop.charts.seat_panel import watts_text
from planner.desktop.charts.steady import Ends, held
from planner.desktop.triode.working import Working

__all__ = ["LoadsGraph"]

LEADS = (1.0, 2.0, 4.0, 8.0)
ROOM = 1.35


class LoadsGraph(Chart):
    """Watts of class A1, to 0 V on the grid, over the load at one tap."""

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("LoadsGraph", "Watts against load")
        super().__init__(name, _load_side(2.0, 64.0), _watts_side(0.0, 5.0), parent)
        self._ends: Ends | None = None
        self.curve = self.add(Curve(self.scales, "", "series 0", dash=()), 2)
        self.right = self.add(Marks(self.scales, "", "accent", "o", 11.0), 4)
        self.captions = self.add(Captions(self.scales), 6)

    @property
    def shown(self) -> Working:
        """The stage worked out."""
        view: Working = self.view
        return view

    def draw(self, view: Working) -> None:
        most = ROOM * float(view.load_watts.max())
        step = float(10.0 ** np.floor(np.log10(most)))
        self._ends = held(0.0, most, step, self._ends if self._ends and self._ends[1] < 4.0 * most else None)
        self.set_scales(
            _load_side(float(view.load_ohm[0]), float(view.load_ohm[-1])), _watts_side(*self._ends)
        )
        self.curve.show_points(view.load_ohm, view.load_watts)
        point = self._at_tap()
        self.right.show_points([point[0]], [point[1]])
        fine = np.geomspace(view.load_ohm[0], view.load_ohm[-1], 200)
        lines = [(fine, np.interp(np.log(fine), np.log(view.load_ohm), view.load_watts))]
        self.captions.show_captions(self._captions(), [point[:2]], lines)

    def sizeHint(self) -> QSize:
        # Both charts share what height the dialog has, be it little.
        return self.minimumSize()

    def table(self) -> Table:
        view = self.shown
        return Table(
            (
                Column(self.tr("Load"), "Ω", view.load_ohm, None),
                Column(self.tr("Watts"), "W", view.load_watts, None, watts_text),
                Column(self.tr("Distortion"), "%", view.load_distortion_pct, 1),
            ),
            "\n".join((self.headline(), self.tr("Class A1, to 0 V on the grid"))),
        )

    def headline(self) -> str:
        if not self.has_data:
            return super().headline()
        _, watts, distortion = self._at_tap()
        text = self.tr("Class A1 ends at {watts} and {distortion} % into {tap} Ω")
        return text.format(
            watts=watts_text(watts),
            distortion=figure(distortion, 1),
            tap=significant(self.shown.load_tap_ohm),
        )

    def summary(self) -> str:
        view = self.shown
        most = int(np.argmax(view.load_watts))
        text = self.tr("{headline}; most is {watts} into {load} Ω.")
        return text.format(
            headline=self.headline(),
            watts=watts_text(float(view.load_watts[most])),
            load=significant(float(view.load_ohm[most]), 2),
        )

    def _at_tap(self) -> tuple[float, float, float]:
        """Load, watts and distortion where the tap is rightly loaded."""
        view, tap = self.shown, self.shown.load_tap_ohm
        place = np.log(view.load_ohm)
        watts, distortion = (
            float(np.interp(np.log(tap), place, values))
            for values in (view.load_watts, view.load_distortion_pct)
        )
        return tap, watts, distortion

    def _captions(self) -> Iterator[Caption]:
        tap, watts, _ = self._at_tap()
        text = self.tr("{watts} into {tap} Ω").format(watts=watts_text(watts), tap=significant(tap))
        yield Caption(text, tap, watts, "accent", gap_px=8.0, strong=True)


def _load_side(low_ohm: float, high_ohm: float) -> LogScale:
    title = QCoreApplication.translate("LoadsGraph", "Load at the tap")
    values = tuple(lead * 16.0**power for power in range(-1, 5) for lead in LEADS)
    return LogScale(title, "Ω", low_ohm, high_ohm, (values, values[::2], values[::4]), significant)


def _watts_side(low_w: float, high_w: float) -> LinearScale:
    return LinearScale(QCoreApplication.translate("LoadsGraph", "Watts"), "W", low_w, high_w)
