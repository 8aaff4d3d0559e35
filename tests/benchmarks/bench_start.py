"""How long the program takes to its first painted form and to live charts, against the bare libraries.

Run by hand: ``python -m tests.benchmarks.bench_start``. Each figure is a process of its own, from before
the interpreter starts. The bare one imports the same libraries for windows and charts and shows a window with
four plots of one curve each. Both are started in turn, so that they meet the same load of the machine; the
ratios of the medians are the figures to look at (target: 1.5).
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
REPEATS = 9

# Both print seconds since the epoch: at the first paint of the window, and when all in it is painted.
OURS = """
import sys, time
from planner.desktop.application import Application, Program
from planner.desktop.window.main import MainWindow

painted = []
paint = MainWindow.paintEvent

def note(window, event):
    paint(window, event)
    painted.append(time.time())

MainWindow.paintEvent = note
application = Application(sys.argv[:1])
window = Program(application).begin(sys.argv[1])
while not painted or not window.is_complete:
    application.processEvents()
application.processEvents()
print(painted[0], time.time(), len(window.charts.visible()))
sys.stdout.flush()
import os
os._exit(0)
"""
BARE = """
import sys, time
from PySide6.QtWidgets import QApplication, QGridLayout, QMainWindow, QWidget
import numpy as np
import pyqtgraph as pg

painted = []

class Window(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        painted.append(time.time())

application = QApplication(sys.argv[:1])
window = Window()
middle = QWidget()
grid = QGridLayout(middle)
x = np.linspace(0.0, 1.0, 200)
for number in range(4):
    plot = pg.PlotWidget()
    plot.plot(x, np.sin(6.0 * x))
    grid.addWidget(plot, number // 2, number % 2)
window.setCentralWidget(middle)
window.resize(1280, 800)
window.show()
while not painted:
    application.processEvents()
application.processEvents()
print(painted[0], time.time(), 4)
sys.stdout.flush()
import os
os._exit(0)
"""


def main() -> None:
    """Print medians in seconds and ratios."""
    with tempfile.TemporaryDirectory() as home:
        for code in (OURS, BARE):
            _start(code, home)
        runs = [(_start(OURS, home), _start(BARE, home)) for _ in range(REPEATS)]
    form, charts = (statistics.median(ours[at] for ours, _ in runs) for at in (0, 1))
    bare = statistics.median(theirs[1] for _, theirs in runs)
    print(f"{'from the start of the process to':40s} {'s':>7s} {'ratio':>7s}")
    print(f"{'bare window with four plots':40s} {bare:7.3f} {1.0:7.2f}")
    print(f"{'first painted form':40s} {form:7.3f} {form / bare:7.2f}")
    print(f"{'verdict and live charts':40s} {charts:7.3f} {charts / bare:7.2f}")


def _start(code: str, home: str) -> tuple[float, float]:
    """Seconds from before the process starts to its first paint, and to all that it paints."""
    kept = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    environment = {
        **kept,
        "QT_QPA_PLATFORM": "offscreen",
        # As the command sets it for itself.
        "OPENBLAS_NUM_THREADS": "1",
        "PYTHONPATH": str(ROOT),
        # Compiled once by the first run, as when installed, and never into the checkout.
        "PYTHONPYCACHEPREFIX": f"{home}/compiled",
        **{f"XDG_{kind}_HOME": home for kind in ("CONFIG", "STATE", "CACHE", "DATA")},
    }
    plan = str(ROOT / "demo_rooms" / "map_room.json")
    begin = time.time()
    done = subprocess.run(
        [sys.executable, "-c", code, plan],
        env=environment,
        cwd=home,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    first, last, charts = done.stdout.split()
    assert int(charts) >= 2, "the charts must be there"
    return float(first) - begin, float(last) - begin


if __name__ == "__main__":
    main()
