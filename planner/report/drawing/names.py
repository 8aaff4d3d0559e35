"""The words in the views: names beside their symbols, distances along their lines."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt

from planner.report.drawing.frames import Frame
from planner.report.drawing.places import Place
from planner.report.drawing.sheet import Sheet
from planner.report.drawing.words import distance_m, length_text

__all__ = ["paint_distances", "paint_names"]

_GAP_PX = 5.0
_SAME_PX = 6.0
_ALONG = (0.5, 0.4, 0.6, 0.3, 0.7)
_CENTRE = Qt.AlignmentFlag.AlignCenter
_LEFT, _RIGHT = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight
_TOP, _BOTTOM = Qt.AlignmentFlag.AlignTop, Qt.AlignmentFlag.AlignBottom

Boxes = dict[Place, QRectF]


def paint_names(sheet: Sheet, frame: Frame, boxes: Boxes) -> None:
    """Names beside their symbols, what matters now first; things that lie on one another share one."""
    look = sheet.look
    foremost = {look.selected, look.hovered, *look.at_fault}
    groups = _groups(sheet, frame, boxes)
    groups.sort(key=foremost.isdisjoint)
    for group in groups:
        names = ", ".join(place.of(look.plan).name for place in group)
        token = "short" if look.at_fault.intersection(group) else "ink"
        must = not foremost.isdisjoint(group)
        sheet.label(names, _spots(boxes[group[0]]), frame.rect, token, must=must)


def _groups(sheet: Sheet, frame: Frame, boxes: Boxes) -> list[list[Place]]:
    """Things gathered by where they lie on the view."""
    groups: list[list[Place]] = []
    plan = sheet.look.plan
    for place in sorted(boxes, key=lambda one: (one.kind, one.index)):
        here = frame.to_px(place.of(plan).position_m)
        near = [
            group
            for group in groups
            if (frame.to_px(group[0].of(plan).position_m) - here).manhattanLength() < _SAME_PX
        ]
        if near:
            near[0].append(place)
        else:
            groups.append([place])
    return groups


def _spots(box: QRectF) -> Iterator[tuple[QPointF, Qt.AlignmentFlag]]:
    """Where a label may stand round a symbol, best first."""
    around, middle = box.adjusted(-_GAP_PX, -_GAP_PX, _GAP_PX, _GAP_PX), box.center()
    yield QPointF(around.right(), middle.y()), _RIGHT
    yield QPointF(middle.x(), around.bottom()), _BOTTOM
    yield QPointF(middle.x(), around.top()), _TOP
    yield QPointF(around.left(), middle.y()), _LEFT
    yield around.bottomRight(), _RIGHT | _BOTTOM
    yield around.topRight(), _RIGHT | _TOP
    yield around.bottomLeft(), _LEFT | _BOTTOM
    yield around.topLeft(), _LEFT | _TOP


def paint_distances(sheet: Sheet, frame: Frame, lines: list[QLineF]) -> None:
    """How far it is from the chosen seat to each stand, on the lines between them."""
    look = sheet.look
    for stand, line in zip(look.plan.stands, lines, strict=True):
        text = length_text(distance_m(look.listener, stand), look.preference)
        sheet.label(text, ((line.pointAt(share), _CENTRE) for share in _ALONG), frame.rect, "accent")
