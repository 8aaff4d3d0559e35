"""Headings that fold what is below them: a chevron, a title, what is in there in short, what is to mend."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QEnterEvent, QFont, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from planner.desktop.fields.marks import paint_mark
from planner.desktop.theme import Colours, colours_of, headline_font, small_font

__all__ = ["Heading"]

GAP_PX = 6.0
HEIGHTS = (1.9, 1.6, 1.45)


class Heading(QAbstractButton):
    """Click it, or press space, to fold or open; left folds, right opens.

    Level 0 is a group, 1 a part of it, 2 a part of that.
    """

    summoned = Signal()

    def __init__(self, title: str, level: int = 1, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._level = level
        self._summary, self._count = "", 0
        self.setText(title)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._describe()

    @property
    def summary(self) -> str:
        """What is below, in a few words."""
        return self._summary

    @summary.setter
    def summary(self, text: str) -> None:
        if text != self._summary:
            self._summary = text
            self._describe()

    @property
    def count(self) -> int:
        """How many findings there are below."""
        return self._count

    @count.setter
    def count(self, count: int) -> None:
        if count != self._count:
            self._count = count
            self._describe()

    def _describe(self) -> None:
        self.setAccessibleName(self._title())
        self.setAccessibleDescription("; ".join(filter(None, (self._badge(), self._summary))))
        self.setToolTip(self._summary or self.tr("Fold or open"))
        self.update()

    def _title(self) -> str:
        return self.text().replace("&&", "\0").replace("&", "").replace("\0", "&")

    def _badge(self) -> str:
        return self.tr("{0} to mend").format(self._count) if self._count else ""

    def _font(self) -> QFont:
        if self._level == 0:
            return headline_font(self.font())
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold if self._level == 1 else QFont.Weight.Normal)
        return font

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(self._font())
        wide = metrics.horizontalAdvance(self._title()) + 3.0 * metrics.height()
        return QSize(round(wide), round(metrics.height() * HEIGHTS[self._level]))

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Shortcut:
            # The access key brings the group up and never folds it away.
            self.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.setChecked(True)
            self.summoned.emit()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        wanted = {Qt.Key.Key_Left: False, Qt.Key.Key_Right: True}.get(Qt.Key(event.key()))
        if wanted is None:
            super().keyPressEvent(event)
        elif wanted != self.isChecked():
            self.click()

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_ground(painter, colours)
            side = QFontMetricsF(self.font()).height()
            chevron = QRectF(1.0, (self.height() - side) / 2.0, side, side)
            ink = QPen(colours.pick("ink" if self.underMouse() else "muted"), 1.6, c=Qt.PenCapStyle.RoundCap)
            paint_mark(painter, chevron, "down" if self.isChecked() else "right", ink)
            room = QRectF(self.rect()).adjusted(side + GAP_PX, 0.0, -4.0, 0.0)
            left = self._paint_title(painter, room, colours)
            self._paint_rest(painter, room.adjusted(left + 2.0 * GAP_PX, 0.0, 0.0, 0.0), colours)

    def _paint_ground(self, painter: QPainter, colours: Colours) -> None:
        if self._level == 0:
            painter.fillRect(QRectF(0.0, 0.0, self.width(), 1.0), colours.pick("edge"))
        if self.underMouse() and self.isEnabled():
            painter.fillRect(QRectF(self.rect()).adjusted(0.0, 1.0, 0.0, 0.0), colours.pick("grid"))
        if self.hasFocus():
            painter.setPen(QPen(colours.pick("accent"), 2.0))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.0, 2.0, -1.0, -1.0), 3.0, 3.0)

    def _paint_title(self, painter: QPainter, room: QRectF, colours: Colours) -> float:
        painter.setFont(self._font())
        painter.setPen(colours.pick("accent" if self._level == 1 else "ink"))
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextShowMnemonic | Qt.TextFlag.TextSingleLine
        painter.drawText(room, flags, self.text())
        return QFontMetricsF(painter.font(), self).horizontalAdvance(self._title())

    def _paint_rest(self, painter: QPainter, room: QRectF, colours: Colours) -> None:
        """What is to mend, and else what is in there, at the right end."""
        painter.setFont(small_font(self.font()))
        metrics = QFontMetricsF(painter.font(), self)
        words = self._badge() or ("" if self.isChecked() and self._level else self._summary)
        painter.setPen(colours.pick("short" if self._count else "muted"))
        text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, text)
