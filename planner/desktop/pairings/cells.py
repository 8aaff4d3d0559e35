"""How a pair is painted: a mark and the headroom on the tint of its verdict, the watts below."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QIcon, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from planner.desktop.pairings.answer import Pair
from planner.desktop.pairings.model import PairsModel
from planner.desktop.pairings.words import below_text, headroom_text
from planner.desktop.row_table import blended
from planner.desktop.theme import VERDICTS, Colours, colours_of, small_font, verdict_icon

__all__ = ["CORNER_PX", "PairDelegate", "cell_size", "paint_corner"]

Index = QModelIndex | QPersistentModelIndex
TINT, QUIET_TINT = 0.17, 0.05
SIDES_PX, GAP_PX, CORNER_PX, LINE_PX = 6, 4, 7.0, 2.0


class PairDelegate(QStyledItemDelegate):
    """Paints the cells of a grid. ``stale`` greys them, ``only_clear`` all that do not clear."""

    def __init__(self, table: QTableView) -> None:
        super().__init__(table)
        self.stale = self.only_clear = False
        self._table = table
        self._dressed: tuple[Colours, str] | None = None

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        assert isinstance(model, PairsModel)
        self._dress(option)
        painter.save()
        if model.loudspeaker_reason(index.row()):
            self._paint_reason(painter, option.rect, model.loudspeaker_reason(index.row()))
        elif model.amplifier_reason(index.column()):
            self._paint_reason(painter, option.rect, "–")
        else:
            pair = model.pair(index.row(), index.column())
            self._paint_pair(painter, option.rect, pair, model.candidate(index.row(), index.column()))
        if option.state & QStyle.StateFlag.State_Selected:
            self._frame(painter, option.rect)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return cell_size(option.font)

    def _dress(self, option: QStyleOptionViewItem) -> None:
        """Make fonts, tints and marks anew when the theme or the font has changed."""
        colours = colours_of(option.palette)
        look = (colours, option.font.key())
        if look == self._dressed:
            return
        self._dressed, self._colours = look, colours
        self._strong, self._small = QFont(option.font), small_font(option.font)
        self._strong.setWeight(QFont.Weight.DemiBold)
        self._line = QFontMetricsF(self._strong).height()
        self._mark_px = round(0.95 * self._line)
        ground = colours.pick("surface")
        self._tints = {one: blended(colours.pick(one), ground, TINT) for one in VERDICTS}
        self._quiet = {one: blended(colours.pick(one), ground, QUIET_TINT) for one in VERDICTS}
        self._marks: dict[str, QIcon] = {one: verdict_icon(one, colours, self._mark_px) for one in VERDICTS}

    def _paint_pair(self, painter: QPainter, rect: QRect, pair: Pair, made: int | None) -> None:
        quiet = self.stale or (self.only_clear and pair.verdict != "clears")
        tint: QColor = (self._quiet if quiet else self._tints)[pair.verdict]
        painter.fillRect(rect.adjusted(0, 0, -1, -1), tint)
        inner = QRectF(rect).adjusted(SIDES_PX, 0.0, -SIDES_PX, 0.0)
        top = rect.center().y() + 1.0 - self._line
        mark = QRect(
            round(inner.left()), round(top + (self._line - self._mark_px) / 2.0), self._mark_px, self._mark_px
        )
        self._marks[pair.verdict].paint(
            painter, mark, mode=QIcon.Mode.Disabled if self.stale else QIcon.Mode.Normal
        )
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        painter.setFont(self._strong)
        painter.setPen(self._colours.pick("muted" if quiet else "ink"))
        painter.drawText(QRectF(inner.left(), top, inner.width(), self._line), right, headroom_text(pair))
        painter.setFont(self._small)
        painter.setPen(self._colours.pick("muted"))
        painter.drawText(
            QRectF(inner.left(), top + self._line, inner.width(), self._line), right, below_text(pair)
        )
        if made is not None:
            paint_corner(painter, QPointF(rect.right(), rect.top()), self._colours)

    def _paint_reason(self, painter: QPainter, rect: QRect, words: str) -> None:
        """Say across the whole row, in the part of it that is in sight, why there is no answer."""
        seen = QRectF(rect.intersected(self._table.viewport().rect())).adjusted(SIDES_PX, 0, -SIDES_PX, 0)
        painter.setFont(self._small)
        painter.setPen(self._colours.pick("muted"))
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
        painter.drawText(seen, flags, words)

    def _frame(self, painter: QPainter, rect: QRect) -> None:
        focused = self._table.hasFocus()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(self._colours.pick("accent" if focused else "edge"), LINE_PX))
        half = LINE_PX / 2.0
        painter.drawRect(QRectF(rect).adjusted(half, half, -half - 1.0, -half - 1.0))


def paint_corner(painter: QPainter, at: QPointF, colours: Colours) -> None:
    """Turn down the upper right corner, which is *at* a point: the pair is a candidate already."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.pick("accent"))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    down, left = QPointF(0.0, CORNER_PX), QPointF(-CORNER_PX, 0.0)
    painter.drawPolygon(QPolygonF([at + left, at, at + down]))


def cell_size(font: QFont) -> QSize:
    """The size that every cell has, by the font."""
    strong = QFont(font)
    strong.setWeight(QFont.Weight.DemiBold)
    large, small = QFontMetricsF(strong), QFontMetricsF(small_font(font))
    wide = max(
        large.horizontalAdvance("−00.0") + large.height() + GAP_PX, small.horizontalAdvance("loudspeaker")
    )
    return QSize(round(wide) + 2 * SIDES_PX + 4, round(2.0 * large.height()) + 7)
