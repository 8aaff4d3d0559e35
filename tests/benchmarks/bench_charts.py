"""What it costs to redraw the five charts once an edit has been computed, against bare pyqtgraph.

Run by hand: ``python -m tests.benchmarks.bench_charts``. The bare charts hold the same curves, bars, lines,
zones, marks and words as ours, made once of pyqtgraph's own items on fixed ranges, without grid, headline,
key and table; both are redrawn and painted in turn. Machines are noisy: the ratio is the figure to look at.
"""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
import pyqtgraph as pg
from PySide6.QtWidgets import QApplication, QGridLayout, QWidget

from planner.desktop.charts.bands import BandsChart
from planner.desktop.charts.captions import Captions
from planner.desktop.charts.distance import DistanceChart
from planner.desktop.charts.efficiency import EfficiencyChart
from planner.desktop.charts.items import Bars, Curve, Marks
from planner.desktop.charts.ladder import LadderChart
from planner.desktop.charts.notes import Rule, Zone
from planner.desktop.charts.panel import ChartPanel
from planner.desktop.charts.room_gain import RoomGainChart
from planner.desktop.charts.ticks import Ticks
from planner.desktop.document import PlanDocument
from planner.headroom import Outcome, compute_all
from planner.headroom.curves import level_against_distance
from planner.headroom.room_gain import room_gain
from planner.plan import Plan, load, put
from planner.resources import demo_rooms

KINDS = (LadderChart, EfficiencyChart, BandsChart, DistanceChart, RoomGainChart)
REPEATS = 100
SIZE_PX = (520, 320)
TARGETS_DB = (103.0, 103.4)

Redraw = Callable[[], None]
Answer = tuple[Plan, list[Outcome]]


@dataclass(frozen=True)
class Bare:
    """A bare chart, and how to redraw each of its items for each of the two answers."""

    widget: pg.PlotWidget
    redraws: tuple[list[Redraw], list[Redraw]]


def main() -> None:
    """Print medians in milliseconds and ratios."""
    _application = QApplication.instance() or QApplication([])
    answers = [_answer(target_db) for target_db in TARGETS_DB]
    document = PlanDocument(answers[0][0])
    panels = [kind(document) for kind in KINDS]
    ours = _window(panels)
    bare = [_bare_of(panel, document, answers) for panel in panels]
    theirs = _window([one.widget for one in bare])
    print(f"{'redrawn and painted':40s} {'ours ms':>9s} {'bare ms':>9s} {'ratio':>7s}")
    for panel, one in zip(panels, bare, strict=True):
        _show_only(panels, [panel], bare, [one])
        _report(type(panel).__name__, document, answers, [one])
    _show_only(panels, panels, bare, bare)
    _report("all five together", document, answers, bare)
    _report_curves(answers[0][0])
    ours.close()
    theirs.close()


def _answer(peak_db: float) -> Answer:
    plan = put(load(str(demo_rooms() / "reading_room.json")), ("target", "peak_db"), peak_db)
    return plan, compute_all(plan)


def _window(widgets: list[QWidget]) -> QWidget:
    window = QWidget()
    grid = QGridLayout(window)
    for number, widget in enumerate(widgets):
        widget.setFixedSize(*SIZE_PX)
        grid.addWidget(widget, number // 3, number % 3)
    window.show()
    QApplication.processEvents()
    return window


def _show_only(panels: list[ChartPanel], shown: list[ChartPanel], bare: list[Bare], seen: list[Bare]) -> None:
    for panel in panels:
        panel.setVisible(panel in shown)
    for one in bare:
        one.widget.setVisible(one in seen)
    QApplication.processEvents()


def _report(name: str, document: PlanDocument, answers: list[Answer], bare: list[Bare]) -> None:
    """Redraw ours and the bare ones in turn, so that both meet the same load of the machine."""
    ours_ms, bare_ms = [], []
    for number in range(REPEATS):
        at = number % 2
        ours_ms.append(_timed(lambda at=at: _redraw_ours(document, answers[at])))
        bare_ms.append(_timed(lambda at=at: [redraw() for one in bare for redraw in one.redraws[at]]))
    ours, theirs = statistics.median(ours_ms), statistics.median(bare_ms)
    print(f"{name:40s} {ours:9.2f} {theirs:9.2f} {ours / theirs:7.2f}")


def _redraw_ours(document: PlanDocument, answer: Answer) -> None:
    document.plan, document.outcomes = answer
    document.solved.emit()


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    QApplication.processEvents()
    return (time.perf_counter() - start) * 1000.0


def _report_curves(plan: Plan) -> None:
    for name, work in (
        ("of which: level against distance", lambda: level_against_distance(plan, 0, 0)),
        ("of which: room gain with its modes", lambda: room_gain(plan, 0, 0)),
    ):
        times = [_timed(work) for _ in range(REPEATS)]
        print(f"{name:40s} {statistics.median(times):9.2f}")


def _bare_of(panel: ChartPanel, document: PlanDocument, answers: list[Answer]) -> Bare:
    """Copy the items of a chart as it stands for each of the answers."""
    chart = panel.chart
    widget = pg.PlotWidget(enableMenu=False)
    widget.plotItem.hideButtons()
    items = Items(widget)
    redraws: tuple[list[Redraw], list[Redraw]] = ([], [])
    for at, answer in enumerate(answers):
        _redraw_ours(document, answer)
        QApplication.processEvents()
        for part in chart.parts:
            if part.isVisible():
                redraws[at].extend(COPIES[type(part)](part, items))
    x, y = chart.scales.x, chart.scales.y
    widget.plotItem.vb.setRange(xRange=x.ends, yRange=y.ends, padding=0.0, disableAutoRange=True)
    return Bare(widget, redraws)


class Items:
    """Items of pyqtgraph's own on a bare chart, each made when it is first wanted."""

    def __init__(self, widget: pg.PlotWidget) -> None:
        self._widget = widget
        self._made: dict[object, object] = {}

    def want(self, key: object, make: Callable[[], object]) -> object:
        """The item of a key."""
        if key not in self._made:
            self._made[key] = make()
            self._widget.addItem(self._made[key], ignoreBounds=True)
        return self._made[key]


def _curve(part: Curve, items: Items) -> list[Redraw]:
    x, y = (np.array(values) for values in part.getData())
    pen = part.opts["pen"]
    curve = items.want(part, lambda: pg.PlotCurveItem(pen=pen, antialias=True, connect="finite"))
    return [lambda: curve.setData(x, y)]


def _marks(part: Marks, items: Items) -> list[Redraw]:
    x, y = (np.array(values) for values in part.getData())
    options = {"size": part.opts["size"], "symbol": part.opts["symbol"]}
    marks = items.want(part, lambda: pg.ScatterPlotItem(**options))
    return [lambda: marks.setData(x, y)]


def _rule(part: Rule, items: Items) -> list[Redraw]:
    line, level = part.line(), part._level
    rule = items.want(part, lambda: pg.InfiniteLine(angle=0 if level else 90, pen=part.pen()))
    return [lambda: rule.setValue(line.y1() if level else line.x1())]


def _zone(part: Zone, items: Items) -> list[Redraw]:
    rect = part.rect()
    ends = (rect.top(), rect.bottom()) if part._level else (rect.left(), rect.right())
    kind = "horizontal" if part._level else "vertical"
    zone = items.want(part, lambda: pg.LinearRegionItem(ends, kind, movable=False, brush=part.brush()))
    return [lambda: zone.setRegion(ends)]


def _bars(part: Bars, items: Items) -> list[Redraw]:
    rects = [(rect, token) for token, group in part._rects.items() for rect in group]
    sides = {
        "x0": [rect.left() for rect, _ in rects],
        "x1": [rect.right() for rect, _ in rects],
        "y0": [rect.top() for rect, _ in rects],
        "y1": [rect.bottom() for rect, _ in rects],
        "brushes": [part._brushes[token] for _, token in rects],
        "pen": None,
    }
    bars = items.want(part, lambda: pg.BarGraphItem(x0=[], x1=[], y0=[], y1=[]))
    return [lambda: bars.setOpts(**sides)]


def _ticks(part: Ticks, items: Items) -> list[Redraw]:
    low, high = part._scales.x.ends
    shares = np.repeat([line.x1() / part._scales.width_px for line in part.lines], 2)
    x, y = low + shares * (high - low), np.resize([0.0, 1.0], shares.size)
    ticks = items.want(part, lambda: pg.PlotCurveItem(connect="pairs"))
    return [lambda: ticks.setData(x, y)]


def _captions(part: Captions, items: Items) -> list[Redraw]:
    texts = [items.want((part, number), pg.TextItem) for number in range(len(part.placed))]
    x, y = part._scales.x, part._scales.y
    words = [(one.text, float(x.place(one.x)), float(y.place(one.y))) for one, _ in part.placed]

    def redraw() -> None:
        for text, (told, across, up) in zip(texts, words, strict=True):
            text.setText(told)
            text.setPos(across, up)

    return [redraw]


COPIES = {
    Curve: _curve,
    Marks: _marks,
    Rule: _rule,
    Zone: _zone,
    Bars: _bars,
    Ticks: _ticks,
    Captions: _captions,
}


if __name__ == "__main__":
    main()
