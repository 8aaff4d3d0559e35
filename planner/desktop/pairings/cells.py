"""How a pair is painted: a mark and the headroom on the tint of its verdict, the watts below."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QIcon, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from planner.desktop.pairings.model import Cell, PairsModel
from planner.desktop.row_table import blended
from planner.desktop.theme import VERDICTS, Colours, colours_of, small_font, verdict_icon

__all__ = ["CORNER_PX", "PairDelegate", "cell_size", "paint_corner", "strong_font"]

Index = QModelIndex | QPersistentModelIndex
TINT, QUIET_TINT = 0.17, 0.05
SIDES_PX, GAP_PX, CORNER_PX, LINE_PX = 6, 4, 7.0, 2.0
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine


class PairDelegate(QStyledItemDelegate):
    """Paints the cells of a grid. ``stale`` greys them, ``only_clear`` all that do not clear."""

    def __init__(self, table: QTableView) -> None:
        super().__init__(table)
        self.stale = self.only_clear = False
        self._table = table
        self.dress()

    def dress(self) -> None:
        """Make fonts, tints and marks anew, for another theme or font."""
        base, colours = self._table.font(), colours_of(self._table.palette())
        ground = colours.pick("surface")
        self._colours = colours
        self._ink, self._muted = colours.pick("ink"), colours.pick("muted")
        self._strong, self._small = strong_font(base), small_font(base)
        self._line = QFontMetricsF(self._strong).height()
        side = round(0.95 * self._line)
        self._tints = {one: blended(colours.pick(one), ground, TINT) for one in VERDICTS}
        self._quiet = {one: blended(colours.pick(one), ground, QUIET_TINT) for one in VERDICTS}
        icons = {one: verdict_icon(one, colours, side) for one in VERDICTS}
        size, scale = QSize(side, side), self._table.devicePixelRatioF()
        self._marks = {one: icon.pixmap(size, scale) for one, icon in icons.items()}
        self._grey = {one: icon.pixmap(size, scale, QIcon.Mode.Disabled) for one, icon in icons.items()}

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        assert isinstance(model, PairsModel)
        rect: QRect = option.rect
        cell = model.cell(index.row(), index.column())
        if cell.verdict:
            self._paint_pair(painter, rect, cell)
        else:
            self._paint_reason(painter, rect, model.loudspeaker_reason(index.row()) or cell.headroom)
        if option.state & QStyle.StateFlag.State_Selected:
            self._frame(painter, rect)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return cell_size(option.font)

    def _paint_pair(self, painter: QPainter, rect: QRect, cell: Cell) -> None:
        quiet = self.stale or (self.only_clear and cell.verdict != "clears")
        painter.fillRect(rect.adjusted(0, 0, -1, -1), (self._quiet if quiet else self._tints)[cell.verdict])
        left, wide, line = rect.left() + SIDES_PX, rect.width() - 2 * SIDES_PX, self._line
        top = rect.center().y() + 1.0 - line
        mark = (self._grey if self.stale else self._marks)[cell.verdict]
        painter.drawPixmap(left, round(top + (line - mark.deviceIndependentSize().height()) / 2.0), mark)
        painter.setFont(self._strong)
        painter.setPen(self._muted if quiet else self._ink)
        painter.drawText(QRectF(left, top, wide, line), RIGHT, cell.headroom)
        painter.setFont(self._small)
        painter.setPen(self._muted)
        painter.drawText(QRectF(left, top + line, wide, line), RIGHT, cell.below)
        if cell.made:
            paint_corner(painter, QPointF(rect.right(), rect.top()), self._colours)

    def _paint_reason(self, painter: QPainter, rect: QRect, words: str) -> None:
        """Say across the whole row, in the part of it that is in sight, why there is no answer."""
        seen = QRectF(rect.intersected(self._table.viewport().rect())).adjusted(SIDES_PX, 0, -SIDES_PX, 0)
        painter.setFont(self._small)
        painter.setPen(self._muted)
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
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.pick("accent"))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    down, left = QPointF(0.0, CORNER_PX), QPointF(-CORNER_PX, 0.0)
    painter.drawPolygon(QPolygonF([at + left, at, at + down]))
    painter.restore()


def strong_font(base: QFont) -> QFont:
    """The font of figures."""
    font = QFont(base)
    font.setWeight(QFont.Weight.DemiBold)
    return font


def cell_size(font: QFont) -> QSize:
    """The size that every cell has, by the font."""
    large, small = QFontMetricsF(strong_font(font)), QFontMetricsF(small_font(font))
    wide = max(
        large.horizontalAdvance("−00.0") + large.height() + GAP_PX, small.horizontalAdvance("loudspeaker")
    )
    return QSize(round(wide) + 2 * SIDES_PX + 4, round(2.0 * large.height()) + 7)
