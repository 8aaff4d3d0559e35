"""What a drag costs while the map of the floor is in sight: from the pointer's move to the painted map.

Run by hand: ``python -m tests.benchmarks.bench_map``. A loudspeaker and a seat are dragged across the scale
drawing; in each step the whole plan is computed with all its candidates, the map is computed and drawn, and
drawing and map are painted. Machines are noisy: look at the least and the median together.
"""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.drawing import RoomDrawing
from planner.desktop.floor_map import FloorMapPanel
from planner.headroom import compute_all
from planner.headroom.floor_map import floor_map
from planner.plan import Plan, load
from planner.report.drawing.places import Place
from planner.resources import demo_rooms

STEPS = 60
STEP_M = 0.05
SIZE_PX = (1040, 420)
TARGET_MS = 33.0


class Watch(QObject):
    """Counts how often a map was drawn, and how often painted since it was last drawn."""

    def __init__(self, panel: FloorMapPanel) -> None:
        super().__init__(panel)
        self.drawn = self.painted = 0
        panel.chart.viewport().installEventFilter(self)
        panel.chart.changed.connect(self._count)

    def _count(self) -> None:
        self.drawn += 1
        self.painted = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            self.painted += 1
        return False


def main() -> None:
    """Print least, median and 95th percentile in milliseconds."""
    application = QApplication([])
    print(
        f"{'from move to painted map':44s} {'least':>7s} {'median':>7s} {'95 %':>7s}   target {TARGET_MS:g}"
    )
    for file in sorted(Path(str(demo_rooms())).glob("*.json")):
        plan = load(str(file))
        for place in (Place("stands", 0), Place("seats", 0)):
            spent = _drag(application, plan, place)
            _report(f"{file.stem}, {place.of(plan).name}", spent)
    _report_parts(load(str(demo_rooms() / "reading_room.json")))


def _drag(application: QApplication, plan: Plan, place: Place) -> list[float]:
    """Drag a thing to and fro along the room's width, one step a time."""
    document = PlanDocument(plan)
    window = QWidget()
    line = QHBoxLayout(window)
    drawing, panel = RoomDrawing(document), FloorMapPanel(document)
    line.addWidget(drawing)
    line.addWidget(panel)
    window.resize(*SIZE_PX)
    window.show()
    for _ in range(10):
        application.processEvents()
    watch = Watch(panel)
    frame = drawing.frames()[0]
    start = frame.to_px(place.of(plan).position_m)
    _send(drawing, QEvent.Type.MouseButtonPress, start)
    _send(drawing, QEvent.Type.MouseMove, start + QPointF(0.0, 40.0))
    spent = []
    for step in range(STEPS):
        way_m = STEP_M * (1 + min(step, STEPS - step))
        point = start + QPointF(0.0, -way_m * frame.px_per_m)
        spent.append(_timed(lambda point=point: _until_painted(application, drawing, point, watch)))
    _send(drawing, QEvent.Type.MouseButtonRelease, start)
    window.close()
    return spent


def _until_painted(application: QApplication, drawing: RoomDrawing, point: QPointF, watch: Watch) -> None:
    before = watch.drawn
    _send(drawing, QEvent.Type.MouseMove, point)
    while watch.drawn == before or not watch.painted:
        application.processEvents()


def _send(drawing: RoomDrawing, kind: QEvent.Type, point: QPointF) -> None:
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    button = none if kind is QEvent.Type.MouseMove else left
    held = none if kind is QEvent.Type.MouseButtonRelease else left
    event = QMouseEvent(kind, point, drawing.mapToGlobal(point), button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(drawing, event)


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000.0


def _report_parts(plan: Plan) -> None:
    x_m = plan.stands[0].x_m
    for name, work in (("of which: all candidates", compute_all), ("of which: the map", floor_map)):
        spent = []
        for step in range(STEPS):
            stand = plan.stands[0].model_copy(update={"x_m": x_m + 0.001 * (step + 1)})
            moved = plan.model_copy(update={"stands": (stand, *plan.stands[1:])})
            spent.append(_timed(lambda moved=moved, work=work: work(moved)))
        _report(f"{name}, reading_room", spent)


def _report(name: str, spent: list[float]) -> None:
    high = statistics.quantiles(spent, n=20)[-1]
    print(f"{name:44s} {min(spent):7.1f} {statistics.median(spent):7.1f} {high:7.1f}")


if __name__ == "__main__":
    main()
