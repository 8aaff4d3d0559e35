"""What the marks and figures of the grid mean, and how many pairs there are of each verdict."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from planner.desktop.fields import Hint
from planner.desktop.pairings.cells import CORNER_PX, paint_corner
from planner.desktop.theme import VERDICTS, Colours, colours_of, verdict_icon

__all__ = ["Legend"]

MARK_PX = 14


class Legend(QWidget):
    """A line of marks with counts, and a sentence on the figures."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("What the marks mean"))
        self._marks = {one: QLabel() for one in VERDICTS}
        self.counts = {one: QLabel() for one in VERDICTS}
        self._corner, self.made = QLabel(), QLabel()
        self.meaning = Hint()
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(5)
        spans = (self.tr("3 dB of headroom or more"), self.tr("From 0 to 3 dB"), self.tr("Below 0 dB"))
        for one, span in zip(VERDICTS, spans, strict=True):
            for label in (self._marks[one], self.counts[one]):
                label.setToolTip(span)
                line.addWidget(label)
            line.addSpacing(12)
        for label in (self._corner, self.made):
            label.setToolTip(self.tr("Pairs that are candidates of the plan have a corner turned down"))
            line.addWidget(label)
        line.addSpacing(12)
        line.addWidget(self.meaning, 1)
        self.meaning.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._dress()

    def show_counts(self, counts: dict[str, int], made: int, meaning: str) -> None:
        """Say how many pairs have each verdict and are candidates already, and what the figures are."""
        words = {"clears": self.tr("{0} clear"), "tight": self.tr("{0} tight"), "short": self.tr("{0} short")}
        for one, label in self.counts.items():
            label.setText(words[one].format(counts[one]))
        self.made.setText(self.tr("candidates: {0}").format(made))
        self.meaning.setText(meaning)

    def _dress(self) -> None:
        colours = colours_of(self.palette())
        for one, label in self._marks.items():
            icon = verdict_icon(one, colours, MARK_PX)
            label.setPixmap(icon.pixmap(QSize(MARK_PX, MARK_PX), self.devicePixelRatioF()))

        self._corner.setPixmap(_turned_corner(colours, self.devicePixelRatioF()))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._dress()


def _turned_corner(colours: Colours, scale: float) -> QPixmap:
    """The mark of a pair that is a candidate already, as cells have it."""
    side = round(CORNER_PX) + 2
    pixmap = QPixmap(round(side * scale), round(side * scale))
    pixmap.setDevicePixelRatio(scale)
    pixmap.fill(Qt.GlobalColor.transparent)
    with QPainter(pixmap) as painter:
        paint_corner(painter, QPointF(side - 1.0, 1.0), colours)
    return pixmap
