"""Charts of a document put up for a test, documents to put up, and how a document is edited."""

from pathlib import Path

from PySide6.QtCore import QCoreApplication

from planner.desktop.charts import ChartPanel
from planner.desktop.charts.bands import BandsChart
from planner.desktop.charts.captions import Captions
from planner.desktop.charts.distance import DistanceChart
from planner.desktop.charts.efficiency import EfficiencyChart
from planner.desktop.charts.ladder import LadderChart
from planner.desktop.charts.room_gain import RoomGainChart
from planner.desktop.document import PlanDocument
from planner.plan import Plan, load
from planner.resources import demo_rooms
from tests.plans import open_air, plan_of

KINDS = (LadderChart, EfficiencyChart, BandsChart, DistanceChart, RoomGainChart)
DEMO_ROOMS = sorted(Path(str(demo_rooms())).glob("*.json"))
PEAK = ("target", "peak_db")


def put_up(qtbot, kind: type[ChartPanel], document: PlanDocument, size=(640, 360)) -> ChartPanel:
    """Show a chart of a document at a size."""
    panel = kind(document)
    qtbot.addWidget(panel)
    panel.resize(*size)
    panel.show()
    for _ in range(3):
        QCoreApplication.processEvents()
    return panel


def edit(qtbot, document: PlanDocument, path, value) -> None:
    """Change one value and wait for the answer."""
    with qtbot.waitSignal(document.solved):
        document.edit(path, value, "Change a value")


def open_air_plan(**changes) -> Plan:
    """One flat loudspeaker of 100 dB and an amplifier of 2.5 W, heard from 4 m without a room."""
    return plan_of(open_air(**changes))


def demo(name: str) -> PlanDocument:
    """A document on a demo room."""
    return PlanDocument(load(str(demo_rooms() / f"{name}.json")))


def words_of(captions: Captions) -> list[str]:
    """What the captions that found a place say."""
    return [caption.text for caption, _ in captions.placed]
