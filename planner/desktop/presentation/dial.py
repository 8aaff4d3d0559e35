"""A dial like a speedometer, whose zones are what the system can do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, cos, radians, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from planner.desktop.presentation.look import Look, is_free
from planner.desktop.presentation.words import level_text
from planner.desktop.theme import paint_verdict, verdict_word
from planner.headroom.outcome import TIGHT_BELOW_DB
from planner.report.language import tr

__all__ = ["Dial", "paint_dial"]

TICKS_DB = 10.0
Name = tuple[float, str, str, str]


@dataclass(frozen=True, slots=True)
class Dial:
    """What the dial shows: its ends, the level asked for, the most there is, the verdict, the power."""

    low_db: float
    high_db: float
    asked_db: float
    most_db: float
    verdict: str
    power: str

    def degrees(self, level_db: float) -> float:
        """Where a level stands, 180° at the left end and 0° at the right, and no further."""
        share = (level_db - self.low_db) / (self.high_db - self.low_db)
        return 180.0 * (1.0 - max(0.0, min(1.0, share)))

    @property
    def words(self) -> str:
        """The picture in words."""
        return tr(
            "A dial from {low} to {high}. The hand stands at {asked}; the system plays up to {most}, "
            "and freely up to {free}. Verdict: {verdict}; {power}.",
            low=level_text(self.low_db),
            high=level_text(self.high_db),
            asked=level_text(self.asked_db),
            most=level_text(self.most_db),
            free=level_text(self.most_db - TIGHT_BELOW_DB),
            verdict=verdict_word(self.verdict),
            power=self.power,
        )

    @property
    def zones(self) -> tuple[tuple[str, float, float], ...]:
        """Verdicts with the levels between which they hold."""
        free_db = self.most_db - TIGHT_BELOW_DB
        return (
            ("clears", self.low_db, free_db),
            ("tight", free_db, self.most_db),
            ("short", self.most_db, self.high_db),
        )


@dataclass(frozen=True, slots=True)
class _Face:
    """Where the dial stands on the card: the middle of its circle, and the radius of its band."""

    middle: QPointF
    radius: float
    band: float

    def at(self, degrees: float, radius: float) -> QPointF:
        turn = radians(degrees)
        return self.middle + QPointF(radius * cos(turn), -radius * sin(turn))

    def square(self) -> QRectF:
        side = QPointF(self.radius, self.radius)
        return QRectF(self.middle - side, self.middle + side)


def paint_dial(dial: Dial, painter: QPainter, rect: QRectF, look: Look) -> None:
    """Paint the dial: zones, what is asked for, the hand, and the verdict in the middle."""
    face = _face(rect, look)
    for verdict, low_db, high_db in dial.zones:
        pale = look.colours.pick(verdict, 0.24)
        _paint_band(painter, face, dial.degrees(low_db), dial.degrees(high_db), pale)
    filled = dial.degrees(dial.low_db), dial.degrees(dial.asked_db)
    _paint_band(painter, face, *filled, look.colours.pick(dial.verdict))
    _paint_levels(dial, painter, face, look)
    _paint_hand(dial, painter, face, look)
    _paint_verdict(dial, painter, face, look)


def _face(rect: QRectF, look: Look) -> _Face:
    words = 1.5 * look.line("body")
    side = 1.2 * look.metrics("body").horizontalAdvance("120 dB")
    foot = 0.6 * look.line("small")
    outer = max(20.0, min(rect.height() - words - foot, 0.5 * rect.width() - side))
    band = 0.15 * outer
    return _Face(QPointF(rect.center().x(), rect.bottom() - foot), outer - 0.5 * band, band)


def _paint_band(painter: QPainter, face: _Face, start: float, end: float, colour: QColor) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, face.band, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawArc(face.square(), round(16.0 * start), round(16.0 * (end - start)))


def _paint_levels(dial: Dial, painter: QPainter, face: _Face, look: Look) -> None:
    """Levels outside the band, the most there is first; none that would come near another."""
    outer = face.radius + 0.5 * face.band
    if dial.low_db <= dial.most_db <= dial.high_db:
        most = dial.degrees(dial.most_db)
        painter.setPen(QPen(look.colours.pick("ink"), look.px(2.5)))
        painter.drawLine(face.at(most, outer - face.band), face.at(most, outer + look.px(6.0)))
    taken: list[QRectF] = []
    for level_db, text, kind, token in _level_names(dial):
        degrees = dial.degrees(level_db)
        lean = max(-1.0, min(1.0, 2.5 * cos(radians(degrees))))
        sides = 0.5 - 0.5 * lean, 0.5 + 0.5 * sin(radians(degrees))
        at, strong = face.at(degrees, outer + look.px(12.0)), token == "ink"
        box = look.box(at, text, kind, *sides, strong=strong)
        if is_free(box, taken, look.px(8.0)):
            box = look.write(painter, at, text, kind, token, *sides, strong=strong)
            taken.append(box.adjusted(0.0, -look.px(6.0), 0.0, look.px(6.0)))


def _level_names(dial: Dial) -> Iterator[Name]:
    """Levels with their words, kind of text and colour: the ends of the zones, then round figures."""
    free_db = dial.most_db - TIGHT_BELOW_DB
    if dial.low_db <= dial.most_db <= dial.high_db:
        yield dial.most_db, tr("at most {level}", level=level_text(dial.most_db)), "body", "ink"
    if dial.low_db <= free_db <= dial.high_db:
        yield free_db, tr("freely up to {level}", level=level_text(free_db)), "body", "clears"
    tick = ceil(dial.low_db / TICKS_DB) * TICKS_DB
    while tick <= dial.high_db:
        yield tick, f"{tick:.0f}", "small", "muted"
        tick += TICKS_DB


def _paint_hand(dial: Dial, painter: QPainter, face: _Face, look: Look) -> None:
    """A bead on the band, where a hand would point."""
    at = face.at(dial.degrees(dial.asked_db), face.radius)
    painter.setPen(QPen(look.colours.pick("ink"), look.px(4.0)))
    painter.setBrush(look.colours.pick("surface"))
    painter.drawEllipse(at, 0.36 * face.band + look.px(4.0), 0.36 * face.band + look.px(4.0))


def _paint_verdict(dial: Dial, painter: QPainter, face: _Face, look: Look) -> None:
    inner = face.radius - 0.5 * face.band
    lines = look.line("figure") + look.line("body")
    mark = min(0.42 * inner, max(0.0, 0.92 * inner - lines))
    x, y = face.middle.x(), face.middle.y() - lines - look.px(4.0)
    if mark > look.px(20.0):
        square = QRectF(x - 0.5 * mark, y - mark - look.px(2.0), mark, mark)
        paint_verdict(painter, square, dial.verdict, look.colours)
    word = look.write(painter, QPointF(x, y), verdict_word(dial.verdict), "figure", dial.verdict, 0.5, 0.0)
    look.write(painter, QPointF(x, word.bottom()), dial.power, "body", "muted", 0.5, 0.0)
