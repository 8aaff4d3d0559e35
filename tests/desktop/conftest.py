"""What the window's tests share: a plan with something of everything, a document, settings nobody touched."""

import gc

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QSettings
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QDialog, QFileDialog, QLabel, QMessageBox

from planner.desktop.document import PlanDocument
from planner.desktop.settings import settings
from planner.desktop.window.panels import PANELS
from planner.desktop.window.windows import windows
from planner.plan import Plan

HORN = {
    "kind": "horn",
    "horizontal_deg": 90.0,
    "vertical_deg": 60.0,
    "mouth_width_m": 0.6,
    "mouth_height_m": 0.4,
}

ROOM = {
    "length_m": 6.0,
    "width_m": 4.4,
    "height_m": 2.6,
    "surfaces": {
        "floor": [{"material": "carpet_tufted_9m", "area_m2": 8.0}, {"material": "wood_16mm"}],
        "ceiling": [{"material": "plasterboard"}],
        "front": [{"material": "brickwork"}],
        "back": [{"material": {"name": "Shelves", "absorption": {"125": 0.2, "1000": 0.3, "4000": 0.25}}}],
        "left": [{"material": "double_glazing_30mm", "area_m2": 3.0}, {"material": "brickwork"}],
        "right": [{"material": "brickwork"}],
    },
    "furnishings": [
        {"item": "sofa", "count": 1},
        {"item": {"name": "Screen", "area_m2": 0.8}, "count": 2},
    ],
}

HORN_SYSTEM = {
    "name": "Horns with 2.5 W",
    "loudspeaker": {
        "name": "Two-way horn",
        "radiates_into": "half_space",
        "baffle_width_m": 0.6,
        "impedance": {
            "nominal_ohm": 8.0,
            "table": [[20, 30, 0], [100, 7, -20], [1000, 9, 10], [10000, 14, 25]],
        },
        "sections": [
            {
                "name": "Bass",
                "low_hz": 40.0,
                "high_hz": 500.0,
                "sensitivity": {"level_db": 101.0, "drive": "2.83 V"},
                "radiator": {"kind": "diaphragm", "diameter_m": 0.33, "count": 2},
            },
            {
                "name": "Horn",
                "low_hz": 500.0,
                "high_hz": 16000.0,
                "sensitivity": {"level_db": 104.0, "drive": "2.83 V"},
                "response": [[500, 0], [4000, 1], [16000, -3]],
                "radiator": HORN,
            },
        ],
    },
    "amplifiers": [
        {
            "name": "Small triode",
            "drives": "all",
            "taps": [
                {"ohm": 4.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 1.1},
                {"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 2.2},
                {"ohm": 8.0, "watts": 3.1, "distortion_pct": 10.0, "output_ohm": 2.2},
            ],
        }
    ],
    "cable": {"area_mm2": 2.5, "length_m": 4.0},
}

BOX_SYSTEM = {
    "name": "Small boxes with two amplifiers",
    "loudspeaker": {
        "name": "Small box",
        "radiates_into": "free_field",
        "baffle_width_m": 0.22,
        "sections": [
            {
                "name": "Cone",
                "low_hz": 45.0,
                "high_hz": 2500.0,
                "sensitivity": {"level_db": 86.0, "drive": "2.83 V"},
                "impedance": {
                    "nominal_ohm": 8.0,
                    "driver": {
                        "dc_ohm": 5.8,
                        "resonance_hz": 42.0,
                        "mechanical_q": 4.0,
                        "electrical_q": 0.4,
                        "inductance_h": 0.0008,
                    },
                },
                "radiator": {"kind": "diaphragm", "diameter_m": 0.13},
            },
            {
                "name": "Dome",
                "low_hz": 2500.0,
                "high_hz": 20000.0,
                "sensitivity": {"level_db": 88.0, "drive": "1 W"},
                "impedance": {"nominal_ohm": 6.0},
                "radiator": {"kind": "diaphragm", "diameter_m": 0.025},
            },
        ],
    },
    "amplifiers": [
        {
            "name": "Bass amplifier",
            "drives": "Cone",
            "output": "direct",
            "taps": [{"ohm": 8.0, "watts": 20.0, "distortion_pct": 0.1, "output_ohm": 0.05}],
        },
        {
            "name": "Treble amplifier",
            "drives": "Dome",
            "trim_db": -1.0,
            "taps": [{"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 2.0}],
        },
    ],
}

PLAN = {
    "format": "fewwatts-plan",
    "version": 1,
    "title": "Sample room",
    "room": ROOM,
    "seats": [
        {"name": "Sofa", "x_m": 4.2, "y_m": 2.2, "z_m": 1.1},
        {"name": "Desk", "x_m": 5.2, "y_m": 1.2, "z_m": 1.15},
    ],
    "stands": [
        {"name": "Left", "x_m": 0.9, "y_m": 1.1, "z_m": 1.0, "aim": {"seat": "Sofa"}},
        {
            "name": "Right",
            "x_m": 0.9,
            "y_m": 3.3,
            "z_m": 1.0,
            "aim": {"azimuth_deg": -20.0, "elevation_deg": 0.0},
        },
    ],
    "target": {"peak_db": 100.0},
    "programme": {"kind": "simulated", "crest_db": 15.0},
    "candidates": [HORN_SYSTEM, BOX_SYSTEM],
}


FULL_EVERY = 20
_finished = iter(range(1, 1_000_000))


@pytest.fixture(autouse=True)
def collected_between_tests():
    """Garbage is collected after a test, never within a call into Qt, as the program itself does it."""
    gc.disable()
    yield
    gc.collect(2 if next(_finished) % FULL_EVERY == 0 else 1)


@pytest.fixture
def sample_plan() -> Plan:
    """A room with two seats, two stands and two candidates, one of them with an amplifier a section."""
    return Plan.model_validate(PLAN)


@pytest.fixture
def document(qapp, sample_plan) -> PlanDocument:
    """A document on the sample plan, solved."""
    return PlanDocument(sample_plan)


@pytest.fixture(autouse=True)
def untouched_settings(qapp):
    """No test sees what another has chosen."""
    settings().findChild(QSettings).clear()


@pytest.fixture(autouse=True)
def undressed(qapp):
    """No test finds the program dressed by the one before, which changes how large things are."""
    yield
    if qapp.styleSheet():
        qapp.setStyleSheet("")
        qapp.setPalette(QPalette())


@pytest.fixture(autouse=True)
def no_dialog_waits(monkeypatch):
    """A dialog that nobody would answer fails the test, where it would hang it."""

    def refuse(dialog, *_):
        pytest.fail(f"a dialog waits for an answer: {dialog.windowTitle() or type(dialog).__name__}")

    for kind in (QDialog, QMessageBox, QFileDialog):
        monkeypatch.setattr(kind, "exec", refuse)


def stand_in(name):
    """A panel that is nothing but its name, in place of one that is slow to make."""

    def make(document, parent):
        label = QLabel(name, parent)
        label.setObjectName(f"stand-in {name}")
        return label

    return make


@pytest.fixture
def all_windows(qtbot, monkeypatch):
    """The windows of the program, with stand-ins for their panels; all are closed in the end."""
    shown = windows()
    monkeypatch.setattr(shown, "panels", {name: stand_in(name) for name in PANELS})
    yield shown
    for window in shown.all:
        window.document.history.setClean()
        window.close()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def window(all_windows, sample_plan):
    """A window on the sample plan, which has no file yet."""
    shown = all_windows.show(sample_plan)
    shown.make_panels()
    return shown
