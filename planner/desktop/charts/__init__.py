"""Charts of our own make on bare pyqtgraph items: fixed ranges, own axes, own reading, own export."""

import os

os.environ["PYQTGRAPH_QT_LIB"] = "PySide6"

# Before pyqtgraph, or another binding that is installed may be picked.
import PySide6.QtWidgets  # noqa: F401, I001
import pyqtgraph

# Thick antialiased curves crawl when drawn in one stroke; segment by segment they do not.
pyqtgraph.setConfigOption("segmentedLineMode", "on")

from planner.desktop.charts.base import Chart  # noqa: E402
from planner.desktop.charts.items import Bars, Curve, Marks  # noqa: E402
from planner.desktop.charts.notes import Label, Rule, Zone  # noqa: E402
from planner.desktop.charts.panel import ChartPanel  # noqa: E402
from planner.desktop.charts.scales import (  # noqa: E402
    LinearScale,
    LogScale,
    NameScale,
    Scale,
    Scales,
    frequency_scale,
    names_scale,
    watts_scale,
)
from planner.desktop.charts.table import Column, Table  # noqa: E402

__all__ = [
    "Bars",
    "Chart",
    "ChartPanel",
    "Column",
    "Curve",
    "Label",
    "LinearScale",
    "LogScale",
    "Marks",
    "NameScale",
    "Rule",
    "Scale",
    "Scales",
    "Table",
    "Zone",
    "frequency_scale",
    "names_scale",
    "watts_scale",
]
