"""Silence as a landscape: the amplifier's own noise as a hill behind the hush of the room."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from planner.desktop.presentation.look import Look
from planner.headroom.noise import SeatNoise
from planner.report.language import tr

__all__ = ["Hills", "hills_of", "paint_hills"]

FloatArray = NDArray[np.float64]
SHOWN_HZ = (30.0, 13_000.0)
BOTTOM_DB, LEAST_TOP_DB, ABOVE_DB = -8.0, 42.0, 6.0


@dataclass(frozen=True, slots=True, eq=False)
class Hills:
    """Levels by pitch (B,) [dB]: what hides a sound, the ear's own limit, and the amplifier's noise."""

    hidden_db: FloatArray
    ear_db: FloatArray
    noise_db: FloatArray | None
    has_room: bool

    @property
    def top_db(self) -> float:
        """The highest level that is shown, a little above the hills."""
        shown = [self.hidden_db, *([] if self.noise_db is None else [self.noise_db])]
        return max(LEAST_TOP_DB, float(np.max(shown))) + ABOVE_DB


def hills_of(noise: SeatNoise) -> Hills:
    """The hills of what is heard at a seat, from the lowest notes to the highest."""
    shown = (noise.band_hz > SHOWN_HZ[0]) & (noise.band_hz < SHOWN_HZ[1])
    return Hills(
        hidden_db=noise.quiet.limit_db[shown],
        ear_db=noise.quiet.threshold_db[shown],
        noise_db=None if noise.amplifier is None else noise.amplifier.level_db[shown],
        has_room=noise.quiet.room is not None,
    )


def paint_hills(hills: Hills, painter: QPainter, rect: QRectF, look: Look) -> None:
    """Paint the amplifier's hill, the room's before it, the ear's before both, and their names."""
    field = rect.adjusted(0.0, 0.0, 0.0, -1.3 * look.line("small"))
    room = [(hills.hidden_db, "rule")] if hills.has_room else []
    if hills.noise_db is not None:
        _fill(painter, _hill(hills, hills.noise_db, field), field, look, "series 1")
    for levels, token in (*room, (hills.ear_db, "edge")):
        _fill(painter, _hill(hills, levels, field), field, look, token)
    if hills.noise_db is not None:
        painter.setPen(QPen(look.colours.pick("series 1"), look.px(2.5), Qt.PenStyle.DashLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.save()
        painter.setClipRect(field)
        painter.drawPath(_hill(hills, hills.noise_db, field))
        painter.restore()
    painter.setPen(QPen(look.colours.pick("edge"), look.px(1.5)))
    painter.drawLine(field.bottomLeft(), field.bottomRight())
    look.write(painter, rect.bottomLeft(), tr("low notes"), "small", "muted", 0.0, 1.0)
    look.write(painter, rect.bottomRight(), tr("high notes"), "small", "muted", 1.0, 1.0)
    _write_names(hills, painter, rect, look)


def _hill(hills: Hills, levels: FloatArray, field: QRectF) -> QPainterPath:
    """A smooth line through levels, left to right; what lies under the ground is drawn as ground."""
    share = np.clip((levels - BOTTOM_DB) / (hills.top_db - BOTTOM_DB), -0.02, 1.0)
    x = np.linspace(field.left(), field.right(), levels.size).tolist()
    y = (field.bottom() - field.height() * share).tolist()
    path = QPainterPath(QPointF(x[0], y[0]))
    for (x0, y0, up0), (x1, y1, up1) in pairwise(zip(x, y, _slopes(np.array(y)), strict=True)):
        third = (x1 - x0) / 3.0
        path.cubicTo(x0 + third, y0 + up0 / 3.0, x1 - third, y1 - up1 / 3.0, x1, y1)
    return path


def _slopes(y: FloatArray) -> list[float]:
    """Rise of a smooth line at each of its points, a step apart, that goes beyond none of them."""
    rises = np.diff(y)
    before, after = np.r_[rises[0], rises], np.r_[rises, rises[-1]]
    least = np.minimum(np.abs(before), np.abs(after))
    mean = np.clip(0.5 * (before + after), -3.0 * least, 3.0 * least)
    return np.where(before * after > 0.0, mean, 0.0).tolist()


def _fill(painter: QPainter, line: QPainterPath, field: QRectF, look: Look, token: str) -> None:
    hill = QPainterPath(line)
    hill.lineTo(field.bottomRight())
    hill.lineTo(field.bottomLeft())
    hill.closeSubpath()
    painter.save()
    painter.setClipRect(field)
    painter.fillPath(hill, look.colours.pick(token))
    painter.restore()


def _write_names(hills: Hills, painter: QPainter, rect: QRectF, look: Look) -> None:
    """Names with a patch of their colour, in the free corner above the high notes."""
    names = [(tr("the amplifier’s own noise"), "series 1")] if hills.noise_db is not None else []
    names += [(tr("the hush of the room"), "rule")] if hills.has_room else []
    names += [(tr("what the ear cannot hear"), "edge")]
    patch, line = look.px(15.0), 1.25 * look.line("body")
    widest = max(look.metrics("body").horizontalAdvance(text) for text, _ in names)
    left = rect.right() - widest - 2.0 * patch
    for number, (text, token) in enumerate(names):
        y = rect.top() + line * (number + 0.5)
        painter.setPen(QPen(look.colours.pick("edge"), look.px(1.0)))
        painter.setBrush(look.colours.pick(token))
        painter.drawRoundedRect(QRectF(left, y - 0.5 * patch, patch, patch), 3.0, 3.0)
        look.write(painter, QPointF(left + 1.6 * patch, y), text, "body", "ink", 0.0, 0.5)
