"""The names that stay in sight while the grid is scrolled: amplifiers above, loudspeakers to the left."""

from __future__ import annotations

import re

from PySide6.QtCore import QCoreApplication, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QHeaderView, QTableView

from planner.desktop.fields import Hint
from planner.desktop.fields.marks import paint_mark
from planner.desktop.pairings.cells import strong_font
from planner.desktop.pairings.model import PairsModel
from planner.desktop.pairings.offers import Offer
from planner.desktop.theme import Colours, colours_of, small_font

__all__ = ["AmplifierHead", "LoudspeakerHead", "label_corner"]

NAME_LINES, NAME_LETTERS = 4, 42
_WORDS = re.compile(r"\d[\d.,]* [^\W\d]{1,2}(?!\w)|\S+")
"""Words, a figure with its unit being one."""
SIDES_PX = 6
Flag = Qt.AlignmentFlag


class _Head(QHeaderView):
    """A header of names with a figure each; those that cannot take part are muted."""

    def __init__(self, orientation: Qt.Orientation, table: QTableView) -> None:
        super().__init__(orientation, table)
        self.sorted_by = ""
        """The key of the one that the other side is sorted by."""
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        model = self.model()
        assert isinstance(model, PairsModel)
        colours = colours_of(self.palette())
        current = self.selectionModel() is not None and self._is_current(section)
        painter.save()
        painter.fillRect(rect, colours.pick("grid" if current else "raised"))
        self._paint(painter, QRectF(rect), section, model, colours)
        painter.setPen(QPen(colours.pick("rule"), 1.0))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.drawLine(rect.topRight(), rect.bottomRight())
        painter.restore()

    def _paint(
        self, painter: QPainter, rect: QRectF, section: int, model: PairsModel, colours: Colours
    ) -> None:
        raise NotImplementedError

    def _is_current(self, section: int) -> bool:
        index = self.selectionModel().currentIndex()
        across = self.orientation() is Qt.Orientation.Horizontal
        return index.isValid() and section == (index.column() if across else index.row())

    def _paint_mark(self, painter: QPainter, rect: QRectF, key: str, mark: str, colours: Colours) -> None:
        """Mark the one that the other side is sorted by."""
        if key == self.sorted_by:
            pen = QPen(colours.pick("accent"), 1.8, c=Qt.PenCapStyle.RoundCap)
            paint_mark(painter, rect, mark, pen)


class AmplifierHead(_Head):
    """Each amplifier's name in a few lines, and its watts."""

    def __init__(self, table: QTableView) -> None:
        super().__init__(Qt.Orientation.Horizontal, table)

    def sizeHint(self) -> QSize:
        small, large = QFontMetricsF(small_font(self.font())), QFontMetricsF(strong_font(self.font()))
        tall = NAME_LINES * small.lineSpacing() + large.lineSpacing() + 10.0
        return QSize(super().sizeHint().width(), round(tall))

    def _paint(
        self, painter: QPainter, rect: QRectF, section: int, model: PairsModel, colours: Colours
    ) -> None:
        inner = rect.adjusted(SIDES_PX, 4.0, -SIDES_PX, -4.0)
        muted = model.amplifier_reason(section)
        painter.setFont(strong_font(self.font()))
        line = QFontMetricsF(painter.font()).lineSpacing()
        figure = QRectF(inner.left(), inner.bottom() - line, inner.width(), line)
        painter.setPen(colours.pick("muted" if muted else "ink"))
        painter.drawText(
            figure, Flag.AlignRight | Flag.AlignVCenter, model.figure(section, self.orientation())
        )
        self._paint_mark(
            painter,
            QRectF(figure.left(), figure.top(), line, line),
            model.amplifier(section).key,
            "down",
            colours,
        )
        painter.setFont(small_font(self.font()))
        painter.setPen(colours.pick("muted"))
        metrics = QFontMetricsF(painter.font())
        names = QRectF(inner.left(), inner.top(), inner.width(), inner.height() - line)
        text = "\n".join(_wrapped(_called(model.amplifier(section)), metrics, inner.width()))
        painter.drawText(names, Flag.AlignRight | Flag.AlignBottom, text)


class LoudspeakerHead(_Head):
    """Each loudspeaker's name, and its sensitivity."""

    def __init__(self, table: QTableView) -> None:
        super().__init__(Qt.Orientation.Vertical, table)

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(self.font())
        return QSize(round(NAME_LETTERS * metrics.averageCharWidth()) + 78, super().sizeHint().height())

    def _paint(
        self, painter: QPainter, rect: QRectF, section: int, model: PairsModel, colours: Colours
    ) -> None:
        inner = rect.adjusted(SIDES_PX + 2.0, 2.0, -SIDES_PX, -2.0)
        muted = model.loudspeaker_reason(section)
        painter.setFont(strong_font(self.font()))
        metrics = QFontMetricsF(painter.font())
        wide = metrics.horizontalAdvance("000.0 dB")
        painter.setPen(colours.pick("muted" if muted else "ink"))
        painter.drawText(
            inner, Flag.AlignRight | Flag.AlignVCenter, model.figure(section, self.orientation())
        )
        side = metrics.height()
        room = inner.adjusted(0.0, 0.0, -wide - side - 4.0, 0.0)
        self._paint_mark(
            painter,
            QRectF(room.right() + 2.0, inner.center().y() - side / 2.0, side, side),
            model.loudspeaker(section).key,
            "right",
            colours,
        )
        painter.setFont(self.font())
        metrics = QFontMetricsF(painter.font())
        painter.setPen(colours.pick("muted" if muted else "ink"))
        text = "\n".join(_wrapped(_called(model.loudspeaker(section)), metrics, room.width(), 2))
        painter.drawText(room, Flag.AlignLeft | Flag.AlignVCenter, text)


def _called(offer: Offer) -> str:
    """The name, and whose it is where it is none of the program's."""
    words = {
        "plan": QCoreApplication.translate("Pairings", "{0} (this plan)"),
        "own": QCoreApplication.translate("Pairings", "{0} (mine)"),
    }
    return words.get(offer.origin, "{0}").format(offer.name)


def _wrapped(name: str, metrics: QFontMetricsF, width: float, most: int = NAME_LINES) -> list[str]:
    """A name in at most so many lines; what finds no room ends in an ellipsis."""
    lines = [""]
    for word in _WORDS.findall(name):
        longer = f"{lines[-1]} {word}".strip()
        if not lines[-1] or metrics.horizontalAdvance(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [metrics.elidedText(line, Qt.TextElideMode.ElideRight, width) for line in lines]


def label_corner(table: QTableView) -> None:
    """Say in the corner between the headers what stands in each of them."""
    corner = table.findChild(QAbstractButton)
    assert corner is not None, "a table has a corner"
    texts = (
        (QCoreApplication.translate("Pairings", "Amplifiers, into 8 Ω"), Flag.AlignRight | Flag.AlignTop),
        (QCoreApplication.translate("Pairings", "Loudspeakers"), Flag.AlignLeft | Flag.AlignBottom),
        (QCoreApplication.translate("Pairings", "1 W at 1 m"), Flag.AlignRight | Flag.AlignBottom),
    )
    grid = QGridLayout(corner)
    grid.setContentsMargins(SIDES_PX + 2, 5, SIDES_PX, 4)
    for (text, side), place in zip(texts, ((0, 1), (1, 0), (1, 1)), strict=True):
        label = Hint(text)
        label.setAlignment(side)
        label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        grid.addWidget(label, *place)
    # The corner chooses every cell, which means nothing where one is chosen at a time.
    corner.setEnabled(False)
