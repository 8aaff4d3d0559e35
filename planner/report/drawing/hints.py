"""How a wall looks in section: one hatch for each kind of material, drawn along a strip."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from planner.plan.room import Surface
from planner.resources import materials

__all__ = ["HINTS", "hint_of", "material_name"]

_BY_GROUP = {
    "Massive": "masonry",
    "Lightweight": "panel",
    "Glazing": "glass",
    "Wood": "wood",
    "Floor coverings": "carpet",
    "Curtains": "curtain",
    "Seating": "carpet",
    "Audience": "carpet",
    "Wall absorbers": "absorber",
    "Ceiling absorbers": "absorber",
    "Special absorbers": "absorber",
}
_HARD_BELOW = 0.15
_AT_1000_HZ = 3
_PITCH_PX = 7.0


def material_name(patch: Surface) -> str:
    """What a patch of a face is called."""
    return materials()[patch.material].description if isinstance(patch.material, str) else patch.material.name


def hint_of(patch: Surface) -> str:
    """Which of :data:`HINTS` a patch shows; a material of the plan's own shows whether it absorbs."""
    if isinstance(patch.material, str):
        known = materials()[patch.material]
        hint = next((hint for opening, hint in _BY_GROUP.items() if known.group.startswith(opening)), "plain")
        soft = known.absorption[_AT_1000_HZ] >= _HARD_BELOW
        return {("carpet", False): "plain", ("absorber", False): "panel"}.get((hint, soft), hint)
    own = material_absorption(patch)
    return "absorber" if own >= _HARD_BELOW else "plain"


def material_absorption(patch: Surface) -> float:
    """Absorption of the plan's own material, its mean over octaves [dimensionless]."""
    assert not isinstance(patch.material, str), "known materials are looked up in their table"
    own = patch.material.absorption
    return own if isinstance(own, float) else sum(own.values()) / len(own)


def _masonry(length: float, depth: float) -> QPainterPath:
    path = QPainterPath()
    for start in _along(length, _PITCH_PX, -depth):
        low, high = max(start, 0.0), min(start + depth, length)
        path.moveTo(low, low - start)
        path.lineTo(high, high - start)
    return path


def _panel(length: float, depth: float) -> QPainterPath:
    path = QPainterPath()
    for share in (0.3, 0.7):
        path.moveTo(0.0, share * depth)
        path.lineTo(length, share * depth)
    for start in _along(length, 3.0 * _PITCH_PX):
        path.moveTo(start, 0.3 * depth)
        path.lineTo(start, 0.7 * depth)
    return path


def _glass(length: float, depth: float) -> QPainterPath:
    path = QPainterPath()
    path.addRect(QRectF(0.5, 0.3 * depth, max(length - 1.0, 0.0), 0.4 * depth))
    return path


def _wood(length: float, depth: float) -> QPainterPath:
    path = QPainterPath()
    for number, start in enumerate(_along(length, 2.0 * _PITCH_PX)):
        share = (0.3, 0.6)[number % 2]
        path.moveTo(start, share * depth)
        path.lineTo(min(start + 1.5 * _PITCH_PX, length), share * depth)
    return path


def _carpet(length: float, depth: float) -> QPainterPath:
    path = QPainterPath()
    for start in _along(length, 0.5 * _PITCH_PX, 2.0):
        path.moveTo(start, 0.0)
        path.lineTo(start, 0.5 * depth)
    return path


def _curtain(length: float, depth: float) -> QPainterPath:
    path = QPainterPath(QPointF(0.0, 0.5 * depth))
    half, side = 0.5 * _PITCH_PX, 1.0
    for start in _along(length - half, half):
        path.quadTo(start + 0.5 * half, (0.5 + 0.7 * side) * depth, start + half, 0.5 * depth)
        side = -side
    return path


def _absorber(length: float, depth: float) -> QPainterPath:
    path = QPainterPath(QPointF(0.0, 0.15 * depth))
    for number, start in enumerate(_along(length, 0.5 * _PITCH_PX)):
        path.lineTo(start, (0.85, 0.15)[number % 2] * depth)
    return path


def _plain(length: float, depth: float) -> QPainterPath:
    return QPainterPath()


def _along(length: float, pitch: float, first: float = 0.0) -> list[float]:
    return [first + pitch * number for number in range(max(math.ceil((length - first) / pitch), 0))]


HINTS: dict[str, Callable[[float, float], QPainterPath]] = {
    "masonry": _masonry,
    "panel": _panel,
    "glass": _glass,
    "wood": _wood,
    "carpet": _carpet,
    "curtain": _curtain,
    "absorber": _absorber,
    "plain": _plain,
}
"""Hatches by name: length and depth of the strip [px] → lines, x along the wall, y from the room outward."""
