"""What a wider baffle buys: level at 100 Hz and watts against its width, which can be set from here."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import ArrayLike
from PySide6.QtCore import QCoreApplication, QRectF
from PySide6.QtWidgets import QWidget

from planner.desktop.charts import baffle_sides as sides
from planner.desktop.charts.baffle_view import SNAP_M, BaffleView
from planner.desktop.charts.captions import BELOW, Caption, Captions
from planner.desktop.charts.handled import HandledChart
from planner.desktop.charts.items import Curve
from planner.desktop.charts.notes import Rule
from planner.desktop.charts.right_side import RightSide
from planner.desktop.charts.seat_panel import SeatPanel, Sight, signed, watts_text
from planner.desktop.charts.steady import Ends, held
from planner.desktop.charts.table import Column, Table
from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.headroom.baffle import WIDTHS_M, BaffleCurve
from planner.plan.units import Preference, display_unit, from_display, to_display

__all__ = ["BaffleChart", "BaffleGraph"]

STEP_DB = 0.5


class BaffleGraph(HandledChart):
    """Two curves over one width: level in dB by the left side, watts by the right one."""

    wait_ms = 60

    def __init__(self, parent: QWidget | None = None) -> None:
        name = QCoreApplication.translate("BaffleGraph", "What a wider baffle buys")
        width = sides.width_side(*WIDTHS_M, Preference.METRIC)
        self.right: RightSide | None = None
        super().__init__(name, width, sides.level_side(-1.0, 2.0), parent)
        self.hint = self.tr("Drag to set the baffle’s width, or double-click where it shall be")
        self._ends: Ends | None = None
        self.zero = self.add(Rule(self.scales, "", "ink", level=True, dash=(4.0, 3.0)), 1)
        self.level = self.add(Curve(self.scales, self.tr("Level at 100 Hz"), "series 0"), 3)
        self.watts = self.add(Curve(self.scales, self.tr("Watts needed"), "series 1"), 2)
        self.captions = self.add(Captions(self.scales), 6)
        self.right = RightSide(self.plotItem, sides.watts_side(0.0, 1.0))
        self.parts.append(self.right)
        self.plotItem.vb.geometryChanged.connect(self._stand_beside)
        self._refont()
        self.restyle(self.colours)

    def snapped(self, value: float) -> float:
        preference = self.shown.preference
        snap = float(to_display(SNAP_M[preference], "m", preference))
        return round(value / snap) * snap

    @property
    def shown(self) -> BaffleView:
        """What is looked at, with its curve."""
        view: BaffleView = self.view
        return view

    @property
    def sight(self) -> Sight:
        return self.shown.sight

    def draw(self, view: BaffleView) -> None:
        self.fit()
        curve = view.curve
        for part in self.parts:
            part.setVisible(curve is not None or part is self.captions)
        here_m = None if curve is None else curve.here_m
        self.zero.show_at(None if curve is None else 0.0)
        self.handle.show_at(None if here_m is None else float(view.place(here_m)))
        if curve is not None:
            widths = view.place(curve.width_m)
            self.level.show_points(widths, curve.level_db)
            self.watts.show_points(widths, self._on_the_left(curve.watts_needed))
        self.write()

    def write(self) -> None:
        curve = self.shown.curve
        if curve is None:
            self.captions.show_captions(self._nothing())
            return
        widths = self.shown.place(curve.width_m)
        lines = [(widths, curve.level_db), (widths, self._on_the_left(curve.watts_needed))]
        self.captions.show_captions(self._captions(curve), (), lines)

    def fit(self) -> None:
        view, curve = self.shown, self.shown.curve
        if curve is None:
            self.set_scales(sides.width_side(*WIDTHS_M, view.preference), self.scales.y)
            return
        least, most = min(0.0, float(curve.level_db.min())), max(1.0, float(curve.level_db.max()))
        self._ends = held(least - 0.1, most + 0.1, STEP_DB, self._ends)
        assert self.right is not None, "made with the chart"
        self.right.show_scale(sides.watts_side(*sides.round_about(curve.watts_needed)))
        low, high = float(curve.width_m.min()), float(curve.width_m.max())
        self.set_scales(sides.width_side(low, high, view.preference), sides.level_side(*self._ends))

    def table(self) -> Table:
        view, curve = self.shown, self.shown.curve
        unit = display_unit("m", view.preference)
        if curve is None:
            return Table((Column(self.tr("Width"), unit, np.empty(0)),), view.sight.settings)
        return Table(
            (
                Column(self.tr("Width"), unit, view.place(curve.width_m), 2),
                Column(self.tr("Level at 100 Hz"), "dB", curve.level_db, 1, sides.change_text),
                Column(self.tr("Watts needed"), "W", curve.watts_needed, None, watts_text),
            ),
            "\n".join((view.sight.settings, self.headline())),
        )

    def headline(self) -> str:
        return self.shown.headline() if self.has_data else super().headline()

    def summary(self) -> str:
        said, curve = self.shown.summary(), self.shown.curve
        if curve is None or curve.here_m is None:
            return said
        return f"{said} {self.tr('Enter sets the width that is read.')}"

    def _captions(self, curve: BaffleCurve) -> Iterator[Caption]:
        view, value, y = self.shown, self.handle.value, self.scales.y
        if value is not None:
            width_m = from_display(value, "m", view.preference)
            text = self.tr("now {width}").format(width=view.width_text(width_m))
            if self.holds:
                level_db, watts = view.bought(curve, width_m)
                text = f"{view.width_text(width_m)}:  {signed(level_db)} dB,  {watts_text(watts)}"
            yield Caption(text, value, y.high, "accent", ((1.0, -1.0), (-1.0, -1.0), BELOW), 5.0, strong=True)

    def _nothing(self) -> Iterator[Caption]:
        x, y = self.scales.x, self.scales.y
        text = self.tr("no width to choose")
        yield Caption(text, float(np.sqrt(x.low * x.high)), (y.low + y.high) / 2.0, "muted", ((0.0, 0.0),))

    def _on_the_left(self, watts: ArrayLike) -> np.ndarray:
        """Watts as the levels of the left side beside which the right one has them."""
        assert self.right is not None, "made with the chart"
        low, high = self.scales.y.low, self.scales.y.high
        return np.asarray(low + np.asarray(self.right.place(watts)) * (high - low))

    def _right_px(self) -> float:
        return super()._right_px() + (self.right.room_px if self.right is not None else 0.0)

    def _stand_beside(self) -> None:
        title = self._y_title
        after_px = title.pos().x() + title.boundingRect().width() + 16.0
        if self.right is not None:
            self.right.stand_beside(QRectF(self.plotItem.vb.geometry()), after_px)


class BaffleChart(SeatPanel):
    """What a wider baffle buys at the seat looked at, on its card; its handle sets the width."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        graph = BaffleGraph()
        super().__init__(document, graph, parent)
        settings().units_changed.connect(self._follow)
        graph.taken.connect(document.close_gesture)
        graph.dragged.connect(self._set_width)
        graph.dropped.connect(document.close_gesture)

    def _view(self) -> object:
        sight = self._sight()
        return None if sight is None else BaffleView(sight, settings().units)

    def _set_width(self, value: float) -> None:
        width_m = round(from_display(value, "m", self.chart.shown.preference), 6)
        path = ("candidates", self._document.candidate, "loudspeaker", "baffle_width_m")
        self._document.edit(path, width_m, self.tr("Change baffle width"))
