"""Rooms to begin with, for whoever has no figures yet: typical values, each a complete plan.

Sizes, materials and furnishings are what such rooms are commonly like (common practice, no published
source); loudspeaker and amplifier are invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from planner.plan.model import FORMAT, VERSION, Plan

__all__ = ["OPEN_AIR", "PRESETS", "Preset", "preset"]

OPEN_AIR = "open_air"
NOTE = "Typical values to begin with, by common practice and invented. Put your own in their place."
EAR_M = 1.1
"""Height of a seated listener's ears."""

Patches = tuple[tuple[str, float | None], ...]


@dataclass(frozen=True, slots=True)
class Preset:
    """One typical room: a key, what it is called, what is in it, and how loud it is to play.

    ``size_m`` is length, width and height [m], None in the open; ``faces`` name materials, each with an
    area [m²] or None for what remains; ``furnishings`` are counts by name.
    """

    key: str
    name: str
    summary: str
    size_m: tuple[float, float, float] | None
    peak_db: float
    faces: Mapping[str, Patches] = field(default_factory=dict)
    furnishings: Mapping[str, int] = field(default_factory=dict)

    def plan(self) -> Plan:
        """A complete plan of this room that can be computed at once.

        Examples
        --------
        >>> preset("small_living_room").plan().room.dimensions_m
        (4.2, 3.4, 2.5)
        """
        return Plan.model_validate(self._data())

    def _data(self) -> dict[str, Any]:
        length, width, _ = self.size_m or (6.0, 4.0, 0.0)
        return {
            "format": FORMAT,
            "version": VERSION,
            "title": self.name,
            "notes": NOTE,
            "room": self._room(),
            "seats": [{"name": "Seat", "x_m": round(0.66 * length, 2), "y_m": width / 2, "z_m": EAR_M}],
            "stands": [
                _stand("Left", 0.16 * length, 0.26 * width),
                _stand("Right", 0.16 * length, 0.74 * width),
            ],
            "target": {"peak_db": self.peak_db},
            "programme": {"kind": "simulated", "crest_db": 15.0},
            "candidates": [SYSTEM],
        }

    def _room(self) -> dict[str, Any] | None:
        if self.size_m is None:
            return None
        length, width, height = self.size_m
        return {
            "length_m": length,
            "width_m": width,
            "height_m": height,
            "surfaces": {face: [_patch(*one) for one in patches] for face, patches in self.faces.items()},
            "furnishings": [{"item": item, "count": count} for item, count in self.furnishings.items()],
        }


def _patch(material: str, area_m2: float | None) -> dict[str, Any]:
    return {"material": material} if area_m2 is None else {"material": material, "area_m2": area_m2}


def _stand(name: str, x_m: float, y_m: float) -> dict[str, Any]:
    return {"name": name, "x_m": round(x_m, 2), "y_m": round(y_m, 2), "z_m": 1.0, "aim": {"seat": "Seat"}}


SYSTEM: Mapping[str, Any] = MappingProxyType(
    {
        "name": "A first system",
        "loudspeaker": {
            "name": "Two-way horn loudspeaker",
            "note": "Invented: a direct-radiating bass with a horn above it.",
            "radiates_into": "half_space",
            "baffle_width_m": 0.5,
            "impedance": {"nominal_ohm": 8.0},
            "sections": [
                {
                    "name": "Bass",
                    "low_hz": 42.0,
                    "high_hz": 1000.0,
                    "sensitivity": {"level_db": 96.0, "drive": "2.83 V"},
                    "radiator": {"kind": "diaphragm", "diameter_m": 0.32},
                },
                {
                    "name": "Horn",
                    "low_hz": 1000.0,
                    "high_hz": 17000.0,
                    "sensitivity": {"level_db": 96.0, "drive": "2.83 V"},
                    "radiator": {
                        "kind": "horn",
                        "horizontal_deg": 90.0,
                        "vertical_deg": 50.0,
                        "mouth_width_m": 0.45,
                        "mouth_height_m": 0.25,
                    },
                },
            ],
        },
        "amplifiers": [
            {
                "name": "Triode amplifier",
                "drives": "all",
                "taps": [
                    {"ohm": 4.0, "watts": 8.0, "distortion_pct": 3.0, "output_ohm": 1.0},
                    {"ohm": 8.0, "watts": 8.0, "distortion_pct": 3.0, "output_ohm": 2.0},
                ],
            }
        ],
        "cable": {"area_mm2": 2.5, "length_m": 3.0},
    }
)


def _all(material: str) -> Patches:
    return ((material, None),)


PRESETS = (
    Preset(
        "small_living_room",
        "A small living room",
        "Wooden floor with a carpet, plastered walls, a window with curtains, seating for four and books",
        (4.2, 3.4, 2.5),
        100.0,
        {
            "floor": (("carpet_tufted_9m", 6.0), ("wood_16mm", None)),
            "ceiling": _all("plasterboard"),
            "front": _all("brickwork"),
            "back": (("wooden_door", 1.8), ("brickwork", None)),
            "left": (("curtains_0.2", 4.0), ("double_glazing_30mm", 1.0), ("brickwork", None)),
            "right": _all("brickwork"),
        },
        {"sofa": 1, "armchair": 1, "bookcase": 3},
    ),
    Preset(
        "living_room",
        "A living room of middle size",
        "Wooden floor with a carpet, plastered walls, two windows with curtains, seating for eight and books",
        (6.0, 4.4, 2.6),
        102.0,
        {
            "floor": (("carpet_tufted_9m", 10.0), ("wood_16mm", None)),
            "ceiling": _all("plasterboard"),
            "front": _all("brickwork"),
            "back": (("wooden_door", 1.8), ("brickwork", None)),
            "left": (("curtains_0.2", 6.0), ("double_glazing_30mm", 2.5), ("brickwork", None)),
            "right": _all("brickwork"),
        },
        {"sofa": 2, "armchair": 2, "bookcase": 4},
    ),
    Preset(
        "large_hard_room",
        "A large hard room",
        "Tiled floor, bare walls, a wall of glass, little to sit on",
        (9.5, 6.5, 3.0),
        102.0,
        {
            "floor": _all("ceramic_tiles"),
            "ceiling": _all("ceiling_plasterboard"),
            "front": _all("plasterboard"),
            "back": (("wooden_door", 2.0), ("brickwork", None)),
            "left": (("double_glazing_30mm", 18.0), ("brickwork", None)),
            "right": _all("plasterboard"),
        },
        {"sofa": 3, "chair_wooden": 6},
    ),
    Preset(
        "carpeted_study",
        "A carpeted study",
        "Carpet from wall to wall, light walls, many books, one armchair",
        (3.6, 3.0, 2.4),
        98.0,
        {
            "floor": _all("carpet_tufted_9m"),
            "ceiling": _all("plasterboard"),
            "front": (("double_glazing_30mm", 1.5), ("plasterboard", None)),
            "back": (("wooden_door", 1.8), ("plasterboard", None)),
            "left": _all("plasterboard"),
            "right": _all("plasterboard"),
        },
        {"armchair": 1, "bookcase": 4},
    ),
    Preset(
        "bedroom",
        "A bedroom",
        "Wooden floor with a rug, light walls, a double bed and heavy curtains",
        (4.4, 3.8, 2.5),
        96.0,
        {
            "floor": (("carpet_tufted_9m", 5.0), ("wood_16mm", None)),
            "ceiling": _all("plasterboard"),
            "front": _all("plasterboard"),
            "back": (("wooden_door", 1.8), ("plasterboard", None)),
            "left": (("curtains_velvet", 6.0), ("plasterboard", None)),
            "right": _all("plasterboard"),
        },
        {"bed": 1},
    ),
    Preset(
        "tall_loft",
        "A tall open loft",
        "Wooden floor on joists, brick walls, a wooden roof high above, seating for ten",
        (11.0, 7.0, 4.8),
        104.0,
        {
            "floor": (("carpet_tufted_9m", 12.0), ("stage_floor", None)),
            "ceiling": _all("wood_16mm"),
            "front": _all("smooth_brickwork_flush_pointing"),
            "back": (("wooden_door", 4.0), ("smooth_brickwork_flush_pointing", None)),
            "left": (("double_glazing_30mm", 9.0), ("smooth_brickwork_flush_pointing", None)),
            "right": _all("smooth_brickwork_flush_pointing"),
        },
        {"sofa": 2, "armchair": 4, "bookcase": 4},
    ),
    Preset(
        OPEN_AIR,
        "In the open air",
        "No room at all: nothing but the sound that comes straight from the loudspeakers",
        None,
        96.0,
    ),
)


def preset(key: str) -> Preset:
    """The preset of that key; raises KeyError if there is none."""
    return {one.key: one for one in PRESETS}[key]
