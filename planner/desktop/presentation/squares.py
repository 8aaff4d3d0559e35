"""A row of squares as large as their watts: each 3 dB of a loudspeaker halves them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

from planner.desktop.presentation.look import Look, is_free
from planner.desktop.presentation.words import level_text, watts_words
from planner.report.language import tr
from planner.report.words import watts_text

__all__ = ["HALVING_DB", "PERSON_W", "Squares", "paint_squares"]

HALVING_DB = 3.0
PERSON_W = 100.0
"""Heat of a person who sits at rest: 1 met of ISO 7730, 58 W/m², on 1.8 m² of skin, rounded."""
MOST_PEOPLE = 20
STEP_PX, TALL_PX = 24.0, 34.0


@dataclass(frozen=True, slots=True)
class Squares:
    """A row of squares, each half of the one before: levels of one watt, the one chosen, and its figures."""

    low_db: float
    high_db: float
    chosen_db: float
    planned_db: float
    watts: float
    heat_w: float

    @property
    def levels_db(self) -> list[float]:
        """Levels of the row, one for each halving."""
        count = round((self.high_db - self.low_db) / HALVING_DB)
        return [self.low_db + HALVING_DB * number for number in range(count + 1)]

    @property
    def far_end_db(self) -> float:
        """The end of the row that lies further from this loudspeaker."""
        return max(self.low_db, self.high_db, key=lambda end: abs(end - self.planned_db))

    @property
    def halvings(self) -> float:
        """How often the watts were halved from the first square to the chosen one."""
        return (self.chosen_db - self.low_db) / HALVING_DB

    def watts_at(self, level_db: float) -> float:
        """Watts for the same peak from a loudspeaker of another level: 10 dB less take ten times as many."""
        return float(self.watts * 10.0 ** ((self.chosen_db - level_db) / 10.0))

    @property
    def words(self) -> str:
        """The picture in words."""
        row = "; ".join(
            tr("{level}: {watts}", level=level_text(level), watts=watts_words(self.watts_at(level)))
            for level in self.levels_db
        )
        return tr(
            "A row of squares as large as their watts, each about half of the one before. {row}. "
            "Chosen: {chosen}, {watts}, {heat} of heat. This loudspeaker: {planned}.",
            row=row,
            chosen=level_text(self.chosen_db),
            watts=watts_words(self.watts),
            heat=watts_words(self.heat_w),
            planned=level_text(self.planned_db),
        )


@dataclass(frozen=True, slots=True)
class _Row:
    """Where the squares stand: their common ground, the side of the first, and the gap between two."""

    left: float
    ground: float
    first: float
    gap: float
    low_db: float

    def side(self, level_db: float) -> float:
        return self.first * 10.0 ** ((self.low_db - level_db) / 20.0)

    def square(self, level_db: float) -> QRectF:
        """The square of a level; between two of the row it stands between them, as large as it must be."""
        whole, part = divmod((level_db - self.low_db) / HALVING_DB, 1.0)
        before, after = self._middle(int(whole)), self._middle(int(whole) + 1)
        side = self.side(level_db)
        return QRectF(before + part * (after - before) - 0.5 * side, self.ground - side, side, side)

    def _middle(self, number: int) -> float:
        sides = [self.side(self.low_db + HALVING_DB * one) for one in range(number + 1)]
        return self.left + sum(sides) + number * self.gap - 0.5 * sides[-1]


def paint_squares(squares: Squares, painter: QPainter, rect: QRectF, look: Look) -> None:
    """Paint the row, the chosen square on it, a pin at this loudspeaker, and figures in the free corner."""
    row = _row(squares, rect, look)
    for level_db in squares.levels_db:
        painter.setPen(QPen(look.colours.pick("accent", 0.45), look.px(1.2)))
        painter.setBrush(look.colours.pick("accent", 0.12))
        painter.drawRect(row.square(level_db))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colours.pick("accent"))
    painter.drawRect(row.square(squares.chosen_db))
    figures = _paint_figures(squares, painter, rect, row, look)
    _write_watts(squares, painter, row, look, figures)
    _write_levels(squares, painter, row, rect, look)


def _row(squares: Squares, rect: QRectF, look: Look) -> _Row:
    sides = sum(10.0 ** ((squares.low_db - level) / 20.0) for level in squares.levels_db)
    gaps = len(squares.levels_db) - 1
    above, below = 1.2 * look.line("small"), 1.15 * look.line("small") + 1.9 * look.line("body")
    least_gap = look.px(12.0)
    first = min(rect.height() - above - below, (rect.width() - gaps * least_gap) / sides)
    gap = (rect.width() - first * sides - look.metrics("small").horizontalAdvance("0.00 W")) / gaps
    return _Row(rect.left(), rect.bottom() - below, first, min(gap, look.px(110.0)), squares.low_db)


def _write_watts(squares: Squares, painter: QPainter, row: _Row, look: Look, taken: list[QRectF]) -> None:
    """Watts above the squares, that of the chosen one first; none that would touch what is *taken*."""
    for number, level_db in enumerate((squares.chosen_db, *squares.levels_db)):
        chosen = number == 0
        kind, token = ("body", "accent") if chosen else ("small", "muted")
        square = row.square(level_db)
        top = QPointF(square.center().x(), square.top() - look.px(3.0))
        text = watts_text(squares.watts_at(level_db))
        box = look.box(top, text, kind, 0.5, 1.0, strong=chosen)
        if is_free(box, taken, look.px(6.0)):
            taken.append(look.write(painter, top, text, kind, token, 0.5, 1.0, strong=chosen))


def _write_levels(squares: Squares, painter: QPainter, row: _Row, rect: QRectF, look: Look) -> None:
    """Levels under the ground, and a pin with its name under this loudspeaker's."""
    painter.setPen(QPen(look.colours.pick("edge"), look.px(1.5)))
    painter.drawLine(QPointF(rect.left(), row.ground), QPointF(rect.right(), row.ground))
    taken: list[QRectF] = []
    for level_db, text in _level_names(squares):
        at = QPointF(row.square(level_db).center().x(), row.ground + look.px(4.0))
        box = look.box(at, text, "small", 0.5, 0.0)
        if is_free(box, taken, look.px(5.0)):
            taken.append(look.write(painter, at, text, "small", "muted", 0.5, 0.0))
    _paint_pin(squares, painter, row, rect, look)


def _paint_pin(squares: Squares, painter: QPainter, row: _Row, rect: QRectF, look: Look) -> None:
    """A wedge under this loudspeaker's square, and its name."""
    x, side = row.square(squares.planned_db).center().x(), look.px(6.0)
    y = row.ground + look.px(6.0) + look.line("small")
    foot = y + 1.5 * side
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colours.pick("ink"))
    painter.drawPolygon(QPolygonF([QPointF(x, y), QPointF(x - side, foot), QPointF(x + side, foot)]))
    words = tr("this loudspeaker, {level}", level=level_text(squares.planned_db))
    box = look.box(QPointF(x, foot), words, "body", 0.5, 0.0, strong=True)
    box.moveLeft(max(rect.left(), min(box.left(), rect.right() - box.width())))
    look.write(painter, box.center(), words, "body", "ink", strong=True)


def _level_names(squares: Squares) -> Iterator[tuple[float, str]]:
    first, *rest = squares.levels_db
    yield first, level_text(first)
    yield from ((level, level_text(level).removesuffix(" dB")) for level in rest)


def _paint_figures(squares: Squares, painter: QPainter, rect: QRectF, row: _Row, look: Look) -> list[QRectF]:
    """The watts, their halvings and the heat in the corner above the small squares; what they cover."""
    covered = [look.write(painter, rect.topRight(), watts_words(squares.watts), "figure", "accent", 1.0, 0.0)]
    for text in (_halvings_text(squares), _heat_text(squares)):
        at = QPointF(rect.right(), covered[-1].bottom())
        covered.append(look.write(painter, at, text, "body", "muted", 1.0, 0.0))
    people = min(ceil(squares.heat_w / PERSON_W), MOST_PEOPLE)
    width, top = people * look.px(STEP_PX), covered[-1].bottom() + look.px(6.0)
    crowd = QRectF(rect.right() - width, top, width, look.px(TALL_PX))
    if crowd.bottom() < row.ground - look.line("body"):
        _paint_people(painter, crowd, squares.heat_w / PERSON_W, look)
        covered.append(crowd)
    return covered


def _halvings_text(squares: Squares) -> str:
    number = f"{squares.halvings:.1f}".removesuffix(".0")
    if number == "0":
        return tr("not halved yet")
    if number == "1":
        return tr("halved once from {start}", start=level_text(squares.low_db))
    start = level_text(squares.low_db)
    return tr("{number} halvings from {start}", number=number, start=start)


def _heat_text(squares: Squares) -> str:
    heat = watts_words(squares.heat_w)
    people = squares.heat_w / PERSON_W
    if people < 0.95:
        return tr("{heat} of heat, in silence too", heat=heat)
    if people < 1.5:
        return tr("{heat} of heat, as from one person", heat=heat)
    return tr("{heat} of heat, as from {people} people", heat=heat, people=f"{people:.0f}")


def _paint_people(painter: QPainter, rect: QRectF, people: float, look: Look) -> None:
    """One figure for each 100 W, from the right, the last filled as far as it counts."""
    step = look.px(STEP_PX)
    painter.setPen(QPen(look.colours.pick("series 1"), look.px(1.3)))
    for number in range(round(rect.width() / step)):
        box = QRectF(rect.right() - step * (number + 1.0), rect.top(), step, rect.height())
        person = _person(QPointF(box.center().x(), box.top()), box.height())
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(person)
        box.setTop(box.bottom() - box.height() * min(1.0, people - number))
        painter.save()
        painter.setClipRect(box)
        painter.setBrush(look.colours.pick("series 1"))
        painter.drawPath(person)
        painter.restore()


def _person(top: QPointF, height: float) -> QPainterPath:
    """A head over shoulders, *top* at the middle of the head's upper rim."""
    path = QPainterPath()
    head = 0.2 * height
    path.addEllipse(top + QPointF(0.0, head), head, head)
    body = QRectF(top.x() - 0.3 * height, top.y() + 0.47 * height, 0.6 * height, 1.06 * height)
    path.moveTo(body.left(), body.center().y())
    path.arcTo(body, 180.0, -180.0)
    path.closeSubpath()
    return path
