"""From an edit to the painted window with all its charts, against redrawing the same bare items of pyqtgraph.

Run by hand: ``python -m tests.benchmarks.bench_window``. Ours is the whole of what a person waits for: the
edit as an undoable step, the answer for every candidate and seat, the editors, the verdict, the drawing
and the
four charts of a wide window. The bare charts hold the same curves, bars, lines, zones, marks and words at the
same sizes, and are only redrawn. Both are timed in turn, so that both meet the same load of the machine; the
ratio of the medians (target: under 2) and our 95th percentile (target: under 33 ms) are the figures to
look at.
"""

from __future__ import annotations

import os
import tempfile

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ["XDG_CONFIG_HOME"] = os.environ["XDG_STATE_HOME"] = tempfile.gettempdir()

import numpy as np
from PySide6.QtWidgets import QApplication, QGridLayout, QWidget

from planner.desktop.application import Application, Program
from planner.desktop.charts.panel import ChartPanel
from planner.desktop.document import PlanDocument
from planner.desktop.window.main import MainWindow
from planner.headroom import compute_all
from planner.plan import get, put
from planner.plan.edit import Path
from planner.resources import demo_rooms
from tests.benchmarks.bench_charts import Answer, Bare, _bare_of, _timed

SIZE_PX = (1920, 1080)
REPEATS, WARM_UP = 120, 10
EDITS: dict[str, tuple[Path, float]] = {
    "the target by 0.1 dB": (("target", "peak_db"), 0.1),
    "a seat by 1 cm": (("seats", 0, "x_m"), 0.01),
    "the room’s length by 1 cm": (("room", "length_m"), 0.01),
    "a section’s sensitivity by 0.1 dB": (
        ("candidates", 0, "loudspeaker", "sections", 0, "sensitivity", "level_db"),
        0.1,
    ),
}

solved: list[bool] = []
"""Grows with each answer."""


def main() -> None:
    """Print medians and our 95th percentile in milliseconds, and ratios."""
    application = Application(["fewwatts"])
    window = Program(application).begin(str(demo_rooms() / "reading_room.json"))
    window.resize(*SIZE_PX)
    while not window.is_complete:
        application.processEvents()
    _rest()
    window.document.solved.connect(lambda: solved.append(True))
    panels = [panel for panel in window.findChildren(ChartPanel) if panel.isVisible()]
    print(f"{len(panels)} charts in sight, {len(window.document.plan.candidates)} candidates")
    print(f"{'edited and painted':40s} {'ours ms':>9s} {'p95 ms':>9s} {'bare ms':>9s} {'ratio':>7s}")
    for name, (path, step) in EDITS.items():
        _report(name, window, panels, path, step)
    window.document.history.setClean()
    window.close()


def _report(name: str, window: MainWindow, panels: list[ChartPanel], path: Path, step: float) -> None:
    """Edit and redraw in turn."""
    document, before = window.document, window.document.plan
    values = (get(before, path) + step, get(before, path) + 2.0 * step)
    plans = [put(before, path, value) for value in values]
    answers: list[Answer] = [(plan, compute_all(plan)) for plan in plans]
    bare = [_bare_of(panel, document, answers) for panel in panels]
    theirs = _shown(bare, panels)
    ours_ms, bare_ms = [], []
    for number in range(WARM_UP + REPEATS):
        at = number % 2
        ours_ms.append(_timed(lambda at=at: _edit(document, path, values[at])))
        bare_ms.append(_timed(lambda at=at: [redraw() for one in bare for redraw in one.redraws[at]]))
    ours, others = np.array(ours_ms[WARM_UP:]), np.array(bare_ms[WARM_UP:])
    middle, bare_middle = float(np.median(ours)), float(np.median(others))
    late = float(np.percentile(ours, 95.0))
    print(f"{name:40s} {middle:9.2f} {late:9.2f} {bare_middle:9.2f} {middle / bare_middle:7.2f}")
    theirs.close()
    document.replace(before, "Put back")
    _rest()


def _edit(document: PlanDocument, path: Path, value: float) -> None:
    """Edit as a drag does, and let everything be painted that hangs on it."""
    solved.clear()
    document.edit(path, value, "Change")
    while not solved:
        QApplication.processEvents()
    QApplication.processEvents()


def _shown(bare: list[Bare], panels: list[ChartPanel]) -> QWidget:
    """A window with the bare charts, each as large as ours."""
    window = QWidget()
    grid = QGridLayout(window)
    for number, (one, panel) in enumerate(zip(bare, panels, strict=True)):
        one.widget.setFixedSize(panel.chart.size())
        grid.addWidget(one.widget, number // 2, number % 2)
    window.show()
    QApplication.processEvents()
    return window


def _rest() -> None:
    for _ in range(20):
        QApplication.processEvents()


if __name__ == "__main__":
    main()
