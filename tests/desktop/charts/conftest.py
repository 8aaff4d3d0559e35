"""Sample charts: made, shown, on a panel."""

import pytest
from PySide6.QtGui import (
    QGuiApplication,
)

from planner.desktop.charts import (
    ChartPanel,
)
from tests.desktop.charts.samples import LEVELS_DB, Levels


@pytest.fixture
def chart(qtbot):
    made = Levels()
    qtbot.addWidget(made)
    made.resize(640, 320)
    return made


@pytest.fixture
def shown(chart, qapp):
    chart.show()
    chart.show_data(LEVELS_DB)
    qapp.processEvents()
    return chart


@pytest.fixture
def panel(qtbot, qapp):
    made = ChartPanel(Levels())
    qtbot.addWidget(made)
    made.resize(640, 400)
    made.show()
    made.chart.show_data(LEVELS_DB)
    qapp.processEvents()
    return made


@pytest.fixture
def clipboard(qapp):
    board = QGuiApplication.clipboard()
    board.clear()
    return board
