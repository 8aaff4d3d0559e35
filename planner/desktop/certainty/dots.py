"""Twenty equally likely cases of headroom as dots over a scale, the limits of the verdicts marked."""

from __future__ import annotations

import math
from collections.abc import Iterator

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.certainty.answer import Sureness, signed_db
from planner.desktop.theme import Colours, colours_of, small_font
from planner.headroom.certainty import CASES
from planner.headroom.outcome import TIGHT_BELOW_DB, verdict_of
from planner.report.words import chance_text, verdict_word

__all__ = ["CaseDots", "stacked"]

ZONE_ALPHA = 0.10
LARGEST_DOT_PX, LEAST_DOT_PX = 18.0, 4.0
SIDE_PX, TICK_PX, BAR_PX, GAP_PX = 10.0, 4.0, 6.0, 6.0
LABEL_DB = 2.0
STEPS_DB = (1, 3, 6, 12)
STALE_OPACITY = 0.4
CENTRE = Qt.AlignmentFlag.AlignCenter
Keys = tuple[tuple[str, str], ...]
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class CaseDots(QWidget):
    """Each dot is one case of twenty; those left of 0 dB clip. Below, where eight cases of ten lie."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: Sureness | None = None
        self.setAccessibleName(self.tr("Cases of headroom"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_sureness(self, found: Sureness | None) -> None:
        """Show another answer."""
        self._shown = found
        self.setAccessibleDescription("" if found is None else self._summary(found))
        self.setToolTip(self.accessibleDescription())
        self.update()

    def _summary(self, found: Sureness) -> str:
        low, high = found.sure.range_db
        text = self.tr(
            "Headroom as computed {now}; in eight cases of ten from {low} to {high}. "
            "Chance to play the peaks unclipped {chance}. Each dot is one case of {cases}."
        )
        return text.format(
            now=signed_db(found.seat.headroom_db),
            low=signed_db(low),
            high=signed_db(high),
            chance=chance_text(found.sure.chance_unclipped),
            cases=CASES,
        )

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(24 * line, 12 * line)

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(16 * line, 9 * line)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._shown is None:
            return
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(small_font(self.font()))
            painter.setOpacity(1.0 if self.isEnabled() else STALE_OPACITY)
            field = _Field(QRectF(self.rect()), self._shown, QFontMetricsF(painter.font(), self))
            colours = colours_of(self.palette())
            for paint in (_paint_zones, _paint_scale, _paint_dots, _paint_range):
                paint(painter, field, colours)
            _paint_keys(painter, field, colours, self._keys())

    def _keys(self) -> Keys:
        """What each sample stands for."""
        return (
            (self.tr("one case of {0}").format(CASES), "dot"),
            (self.tr("eight cases of ten"), "bar"),
            (self.tr("as computed"), "diamond"),
        )


class _Field:
    """Where headroom stands on the widget, and the lines above and below that place."""

    def __init__(self, rect: QRectF, found: Sureness, metrics: QFontMetricsF) -> None:
        self.found, self.metrics, self.line = found, metrics, metrics.height()
        sure, now_db = found.sure, found.seat.headroom_db
        low, high = sure.range_db
        self.low = math.floor(min(-1.0, now_db, low - LABEL_DB, *sure.cases_db))
        self.high = math.ceil(max(TIGHT_BELOW_DB + 1.0, now_db, high + LABEL_DB, *sure.cases_db))
        self.rect = rect.adjusted(SIDE_PX, 0.0, -SIDE_PX, 0.0)
        self.box = self.rect.adjusted(0.0, 1.3 * self.line, 0.0, -4.6 * self.line)

    @property
    def px_of_db(self) -> float:
        """Width of a decibel."""
        return self.box.width() / (self.high - self.low)

    def x(self, value_db: float) -> float:
        """Where a headroom stands."""
        return self.box.left() + (value_db - self.low) * self.px_of_db

    def ticks(self) -> Iterator[int]:
        """Round values that leave room for their figures."""
        room = 2.6 * self.line / self.px_of_db
        step = next((one for one in STEPS_DB if one > room), 24)
        return iter(range(math.ceil(self.low / step) * step, self.high + 1, step))


def _paint_zones(painter: QPainter, field: _Field, colours: Colours) -> None:
    edges = (field.low, 0.0, TIGHT_BELOW_DB, field.high)
    for verdict, low, high in zip(("short", "tight", "clears"), edges[:-1], edges[1:], strict=True):
        zone = QRectF(field.x(low), field.box.top(), field.x(high) - field.x(low), field.box.height())
        painter.fillRect(zone, colours.pick(verdict, ZONE_ALPHA))
        word = verdict_word(verdict)
        if field.metrics.horizontalAdvance(word) < zone.width():
            painter.setPen(colours.pick(verdict))
            above = QRectF(zone.left(), zone.top() - 1.2 * field.line, zone.width(), field.line)
            painter.drawText(above, CENTRE, word)


def _paint_scale(painter: QPainter, field: _Field, colours: Colours) -> None:
    top, bottom = field.box.top(), field.box.bottom()
    for limit_db, dashes in ((0.0, []), (TIGHT_BELOW_DB, [4.0, 3.0])):
        pen = QPen(colours.pick("ink"), 1.2)
        if dashes:
            pen.setDashPattern(dashes)
        painter.setPen(pen)
        painter.drawLine(QLineF(field.x(limit_db), top, field.x(limit_db), bottom + TICK_PX))
    painter.setPen(QPen(colours.pick("edge"), 1.0))
    painter.drawLine(QLineF(field.box.left(), bottom, field.box.right(), bottom))
    for value in field.ticks():
        painter.setPen(QPen(colours.pick("edge"), 1.0))
        painter.drawLine(QLineF(field.x(value), bottom, field.x(value), bottom + TICK_PX))
        painter.setPen(colours.pick("muted"))
        text = f"{value:+d}".replace("-", "−") if value else "0 dB"
        painter.drawText(QRectF(field.x(value) - 40.0, bottom + TICK_PX, 80.0, field.line), CENTRE, text)


def _paint_dots(painter: QPainter, field: _Field, colours: Colours) -> None:
    cases = field.found.sure.cases_db
    size = LARGEST_DOT_PX
    while size > LEAST_DOT_PX and _pile_px(cases, size, field) > field.box.height():
        size -= 0.5
    painter.setPen(Qt.PenStyle.NoPen)
    for value, (place, level) in zip(cases, stacked(cases, size / field.px_of_db), strict=True):
        centre = QPointF(field.x(place), field.box.bottom() - 1.0 - (level + 0.5) * size)
        painter.setBrush(colours.pick(verdict_of(value)))
        painter.drawEllipse(centre, 0.44 * size, 0.44 * size)


def _pile_px(cases: tuple[float, ...], size_px: float, field: _Field) -> float:
    return (1 + max(level for _, level in stacked(cases, size_px / field.px_of_db))) * size_px


def _paint_range(painter: QPainter, field: _Field, colours: Colours) -> None:
    low, high = field.found.sure.range_db
    middle = field.box.bottom() + TICK_PX + 1.65 * field.line
    bar = QRectF(field.x(low), middle - BAR_PX / 2.0, field.x(high) - field.x(low), BAR_PX)
    _paint_bar(painter, bar, colours)
    _paint_diamond(painter, QPointF(field.x(field.found.seat.headroom_db), middle), colours)
    painter.setPen(colours.pick("ink"))
    top, tall = middle - field.line / 2.0, field.line
    wide = field.metrics.horizontalAdvance(signed_db(low)) + 2.0
    painter.drawText(QRectF(bar.left() - GAP_PX - wide, top, wide, tall), LEFT, signed_db(low))
    painter.drawText(QRectF(bar.right() + GAP_PX, top, 3.0 * wide, tall), LEFT, signed_db(high))


def _paint_keys(painter: QPainter, field: _Field, colours: Colours, keys: Keys) -> None:
    left, middle = field.box.left(), field.rect.bottom() - 0.7 * field.line
    for words, sample in keys:
        wide = 24.0 if sample == "bar" else 12.0
        advance = field.metrics.horizontalAdvance(words)
        if left + wide + GAP_PX + advance > field.rect.right():
            break
        centre = QPointF(left + wide / 2.0, middle)
        if sample == "bar":
            _paint_bar(painter, QRectF(left, middle - BAR_PX / 2.0, wide, BAR_PX), colours)
        elif sample == "diamond":
            _paint_diamond(painter, centre, colours)
        else:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colours.pick("muted"))
            painter.drawEllipse(centre, 5.0, 5.0)
        left += wide + GAP_PX
        painter.setPen(colours.pick("muted"))
        painter.drawText(QRectF(left, middle - field.line / 2.0, advance + 2.0, field.line), LEFT, words)
        left += advance + 2.5 * GAP_PX


def _paint_bar(painter: QPainter, bar: QRectF, colours: Colours) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.pick("accent"))
    painter.drawRoundedRect(bar, BAR_PX / 2.0, BAR_PX / 2.0)


def _paint_diamond(painter: QPainter, centre: QPointF, colours: Colours) -> None:
    half = BAR_PX
    painter.setPen(QPen(colours.pick("surface"), 1.5))
    painter.setBrush(colours.pick("ink"))
    corners = ((0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0))
    painter.drawPolygon(QPolygonF([centre + QPointF(x, y) for x, y in corners]))


def stacked(values: tuple[float, ...], width: float) -> list[tuple[float, int]]:
    """Where ascending values stand as dots of a width: the place of their pile, and the level in it.

    Values of one verdict that are nearer than a width to the first of a pile belong to it; a pile stands
    at their mean.

    Examples
    --------
    >>> stacked((1.0, 1.5, 3.0), 1.0)
    [(1.25, 0), (1.25, 1), (3.0, 0)]
    """
    piles: list[list[float]] = []
    for value in values:
        first = piles[-1][0] if piles else -math.inf
        if value - first < width and verdict_of(value) == verdict_of(first):
            piles[-1].append(value)
        else:
            piles.append([value])
    return [(sum(pile) / len(pile), level) for pile in piles for level in range(len(pile))]
