"""Plans for tests, as plain data that a test changes where it matters to it."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import Any

from planner.plan import Plan, loads

FACES = ("floor", "ceiling", "front", "back", "left", "right")


def section(name: str = "full", **changes: Any) -> dict[str, Any]:
    """A flat omnidirectional section without edges in the audible range, 100 dB for 1 W."""
    return {
        "name": name,
        "low_hz": 1e-3,
        "high_hz": 1e9,
        "sensitivity": {"level_db": 100.0, "drive": "1 W"},
        "radiator": {"kind": "omni"},
        **changes,
    }


def amplifier(**changes: Any) -> dict[str, Any]:
    """2.5 W into 8 ohm without output impedance."""
    taps = [{"ohm": 8.0, "watts": 2.5, "distortion_pct": 3.0, "output_ohm": 0.0}]
    return {"name": "Triode", "drives": "all", "taps": taps, **changes}


def candidate(**changes: Any) -> dict[str, Any]:
    """One section flush in a wall, so that no baffle step enters, driven by :func:`amplifier`."""
    return {
        "name": "System",
        "loudspeaker": {
            "name": "Loudspeaker",
            "radiates_into": "half_space",
            "baffle_width_m": "wall",
            "impedance": {"nominal_ohm": 8.0},
            "sections": [section()],
        },
        "amplifiers": [amplifier()],
        **changes,
    }


def room(absorption: float = 0.2, **changes: Any) -> dict[str, Any]:
    """8 × 5 × 3 m, all faces alike."""
    material = {"name": "test surface", "absorption": absorption}
    return {
        "length_m": 8.0,
        "width_m": 5.0,
        "height_m": 3.0,
        "surfaces": {face: [{"material": material}] for face in FACES},
        **changes,
    }


def open_air(**changes: Any) -> dict[str, Any]:
    """One stand, one seat on its axis at 4 m, peaks of 100 dB wanted of pink noise with 12 dB of crest."""
    return {
        "format": "fewwatts-plan",
        "version": 1,
        "title": "Open air",
        "room": None,
        "seats": [{"name": "Chair", "x_m": 4.0, "y_m": 2.0, "z_m": 1.0}],
        "stands": [{"name": "Left", "x_m": 0.0, "y_m": 2.0, "z_m": 1.0, "aim": {"seat": "Chair"}}],
        "target": {"peak_db": 100.0},
        "programme": {"kind": "pink", "crest_db": 12.0},
        "candidates": [candidate()],
        **changes,
    }


def in_room(**changes: Any) -> dict[str, Any]:
    """The plan of :func:`open_air` in the room of :func:`room`."""
    return open_air(title="Room", room=room(), **changes)


def plan_of(data: dict[str, Any]) -> Plan:
    """The data as a plan, by the way of a plan file."""
    return loads(json.dumps(data))


def changed(data: dict[str, Any], path: str, value: Any) -> dict[str, Any]:
    """A copy of the data with the value at a dotted path replaced, or added."""
    copy = deepcopy(data)
    *way, last = (int(step) if step.isdigit() else step for step in path.split("."))
    part: Any = copy
    for step in way:
        part = part[step]
    part[last] = value
    return copy
