"""The drawn chain: a row of links with arrows between them, and below it the level behind each."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.desktop.charts.keys import Key
from planner.desktop.charts.look import Look
from planner.desktop.charts.scales import Scales
from planner.desktop.gain.drawn import Drawn, Spot
from planner.desktop.gain.symbols import paint_symbol

__all__ = ["ChainPicture"]

CENTRED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextSingleLine
BOX_SHARE, WIDEST_BOX_PX = 0.78, 104.0
FLAT_SHARE = 0.34
LEAST_ARROW_PX = 7.0
SIGN_LINES, BESIDE_LINES, STACKED_LINES = 1.5, 2.0, 2.8
PAD_PX, CORNER_PX, ARROW_PX = 5.0, 5.0, 4.0


class ChainPicture(QGraphicsItem):
    """Paints in pixels within the chart's field; the columns share its width."""

    def __init__(self, scales: Scales) -> None:
        super().__init__()
        self.key: Key | None = None
        self.drawn = Drawn()
        self._scales = scales
        self._look: Look | None = None
        self._font, self._strong = QFont(), QFont()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)

    def show_chain(self, drawn: Drawn) -> None:
        """Show another chain."""
        self.drawn = drawn
        self.rescale()

    def rescale(self) -> None:
        self.prepareGeometryChange()
        self.setPos(self._scales.x.ends[0], self._scales.y.ends[1])
        self.update()

    def restyle(self, look: Look) -> None:
        self._look = look
        self.update()

    def refont(self, font: QFont) -> None:
        self._font, self._strong = QFont(font), QFont(font)
        self._strong.setWeight(QFont.Weight.DemiBold)
        self.rescale()

    def boundingRect(self) -> QRectF:
        return QRectF(0.0, 0.0, self._scales.width_px, self._scales.height_px)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        if self._look is None or not self.drawn.spots:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for column in range(len(self.drawn.spots)):
            self._paint_link(painter, column, self._look)
        if self.drawn.note:
            self._paint_note(painter, self._look)
            return
        self._paint_levels(painter, self._look)

    # Where things stand.

    @property
    def _line_px(self) -> float:
        return QFontMetricsF(self._font).height()

    @property
    def _column_px(self) -> float:
        return self._scales.width_px / max(len(self.drawn.spots), 1)

    def _box(self, column: int) -> QRectF:
        words = self._words_px() + 2.0 * PAD_PX
        most = self._column_px - LEAST_ARROW_PX
        width = min(max(min(BOX_SHARE * self._column_px, WIDEST_BOX_PX), words), most)
        middle = (column + 0.5) * self._column_px
        lines = BESIDE_LINES if self._beside(width) else STACKED_LINES
        return QRectF(middle - width / 2.0, self._line_px + 2.0, width, lines * self._line_px)

    def _words_px(self) -> float:
        """Length of the longest figure in a box."""
        return max(QFontMetricsF(self._strong).horizontalAdvance(spot.gain) for spot in self.drawn.spots)

    def _beside(self, box_px: float) -> bool:
        """Whether sign and figure find room side by side in every box, or one stands above the other."""
        return SIGN_LINES * self._line_px + self._words_px() + 3.0 * PAD_PX <= box_px

    def _field(self) -> QRectF:
        """Where the levels are drawn: below the links, with room for words above and below."""
        above = 2.4 if any(spot.over and spot.key != "full" for spot in self.drawn.spots) else 1.6
        top = self._box(0).bottom() + above * self._line_px
        room = self._scales.height_px - top - 2.2 * self._line_px
        return QRectF(0.0, top, self._scales.width_px, max(room, 1.0))

    def _y(self, place: float) -> float:
        low, high = self.ends
        field = self._field()
        return field.bottom() - (place - low) / (high - low) * field.height()

    @property
    def ends(self) -> tuple[float, float]:
        """The least and the greatest level drawn [dB]."""
        places = [spot.place for spot in self.drawn.spots if spot.place is not None]
        places += [spot.ceiling for spot in self.drawn.spots if spot.ceiling is not None]
        places += list(self.drawn.up or ())
        return min(places), max(*places, min(places) + 1.0)

    # The links.

    def _paint_link(self, painter: QPainter, column: int, look: Look) -> None:
        spot, box = self.drawn.spots[column], self._box(column)
        painter.setFont(self._font)
        painter.setPen(QPen(look.pick("muted")))
        room = QRectF(column * self._column_px + 2.0, 0.0, self._column_px - 4.0, self._line_px)
        self._write(painter, room, spot.name)
        last = spot.key == "full"
        if not last:
            painter.setPen(look.pen("edge" if spot.known else "short", 1.2, () if spot.known else (3.0, 2.0)))
            painter.setBrush(look.pick("raised"))
            painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
        self._paint_inside(painter, spot, box, look)
        if column + 1 < len(self.drawn.spots):
            self._paint_arrow(painter, box.right(), self._box(column + 1).left(), box.center().y(), look)

    def _paint_inside(self, painter: QPainter, spot: Spot, box: QRectF, look: Look) -> None:
        side, words = SIGN_LINES * self._line_px, QFontMetricsF(self._strong).horizontalAdvance(spot.gain)
        square = QRectF(0.0, 0.0, side, side)
        square.moveCenter(box.center())
        room = box
        if spot.gain and self._beside(box.width()):
            square.moveLeft(box.center().x() - (side + PAD_PX + words) / 2.0)
            room = QRectF(square.right() + PAD_PX, box.top(), words + 2.0, box.height())
        elif spot.gain:
            square.moveTop(box.top() + 2.0)
            room = QRectF(box.left(), square.bottom(), box.width(), self._line_px)
        ink = QPen(look.pick("accent" if spot.known else "short"))
        paint_symbol(painter, square, spot.key, ink, spot.turned_db)
        painter.setFont(self._strong)
        painter.setPen(QPen(look.pick("ink")))
        painter.drawText(room, CENTRED, spot.gain)

    def _paint_arrow(self, painter: QPainter, left: float, right: float, y: float, look: Look) -> None:
        painter.setPen(look.pen("edge", 1.2))
        painter.drawLine(QPointF(left + 2.0, y), QPointF(right - 2.0, y))
        painter.setBrush(look.pick("edge"))
        painter.setPen(Qt.PenStyle.NoPen)
        tip = QPointF(right - 1.0, y)
        back = [tip + QPointF(-1.6 * ARROW_PX, turn * 0.8 * ARROW_PX) for turn in (-1.0, 1.0)]
        painter.drawPolygon(QPolygonF([tip, *back]))

    def _paint_note(self, painter: QPainter, look: Look) -> None:
        painter.setFont(self._font)
        painter.setPen(QPen(look.pick("ink")))
        top = self._box(0).bottom() + self._line_px
        room = QRectF(PAD_PX, top, self._scales.width_px - 2.0 * PAD_PX, self._scales.height_px - top)
        flags = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
        painter.drawText(room, flags, self.drawn.note)

    # The levels.

    def _paint_levels(self, painter: QPainter, look: Look) -> None:
        self._paint_up(painter, look)
        chain = [(column, spot) for column, spot in enumerate(self.drawn.spots) if spot.key != "full"]
        points = [
            QPointF(x, self._y(spot.place or 0.0)) for column, spot in chain for x in self._flat(column)
        ]
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(look.pen("series 0", 2.0))
        painter.drawPolyline(QPolygonF(points))
        for column, spot in enumerate(self.drawn.spots):
            self._paint_ceiling(painter, column, spot, look)
            self._paint_words(painter, column, spot, look)

    def _flat(self, column: int) -> tuple[float, float]:
        middle = (column + 0.5) * self._column_px
        return middle - FLAT_SHARE * self._column_px, middle + FLAT_SHARE * self._column_px

    def _paint_up(self, painter: QPainter, look: Look) -> None:
        """The level with the volume control fully up, from the control to the amplifier."""
        drawn = self.drawn
        if drawn.up is None:
            return
        last = len(drawn.spots) - 2
        start, end = (self._y(place) for place in drawn.up)
        (left, right), (far_left, far_right) = self._flat(drawn.up_from), self._flat(last)
        path = [QPointF(left, start), QPointF(right, start), QPointF(far_left, end), QPointF(far_right, end)]
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(look.pen("muted", 1.2, (3.0, 3.0)))
        painter.drawPolyline(QPolygonF(path))
        painter.setFont(self._font)
        painter.setPen(QPen(look.pick("muted")))
        self._write(painter, self._around(last, end - 1.1 * self._line_px, drawn.up_words), drawn.up_words)

    def _paint_ceiling(self, painter: QPainter, column: int, spot: Spot, look: Look) -> None:
        """What is to spare: an upright between the level and what it may reach at most."""
        if spot.ceiling is None or spot.place is None:
            return
        left, right = self._flat(column)
        top, bottom = self._y(spot.ceiling), self._y(spot.place)
        full = spot.key == "full"
        token = self.drawn.token if full else "muted"
        if full:
            painter.setPen(look.pen("series 0", 1.2, (2.0, 3.0)))
            painter.drawLine(QPointF(self._flat(column - 1)[1], bottom), QPointF(right, bottom))
        painter.setPen(look.pen(token, 2.0))
        painter.drawLine(QPointF(left, top), QPointF(right, top))
        painter.setPen(look.pen(token, 1.2))
        middle = (left + right) / 2.0
        painter.drawLine(QPointF(middle, top), QPointF(middle, bottom))
        painter.setFont(self._font)
        painter.setPen(QPen(look.pick("ink" if full else "muted")))
        words_top = top + 2.0 if spot.over else top - 1.1 * self._line_px
        self._write(painter, self._around(column, words_top, spot.above), spot.above)

    def _paint_words(self, painter: QPainter, column: int, spot: Spot, look: Look) -> None:
        """Volts and decibels of the level, on the side of it that lies away from its ceiling."""
        lines = [text for text in (spot.figure, spot.below) if text]
        y = self._y(spot.place or 0.0)
        top = y - len(lines) * 1.05 * self._line_px if spot.over else y + 2.0
        for row, text in enumerate(lines):
            strong = row == 0
            painter.setFont(self._strong if strong else self._font)
            token = self.drawn.token if spot.key == "full" else "ink"
            painter.setPen(QPen(look.pick(token if strong else "muted")))
            self._write(painter, self._around(column, top + row * self._line_px, text), text)

    def _around(self, column: int, top: float, text: str) -> QRectF:
        """A line of words centred on a column, kept inside the field."""
        middle = (column + 0.5) * self._column_px
        width = QFontMetricsF(self._strong).horizontalAdvance(text) + 4.0
        left = min(max(middle - width / 2.0, 0.0), max(self._scales.width_px - width, 0.0))
        return QRectF(left, top, width, self._line_px)

    @staticmethod
    def _write(painter: QPainter, room: QRectF, text: str) -> None:
        metrics = QFontMetricsF(painter.font())
        painter.drawText(room, CENTRED, metrics.elidedText(text, Qt.TextElideMode.ElideRight, room.width()))
