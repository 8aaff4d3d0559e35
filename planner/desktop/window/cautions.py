"""What a reader of the verdict should know, folded away until somebody asks."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QFont, QPalette
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from planner.desktop.theme import small_font
from planner.desktop.window.figure import plain_label
from planner.headroom.outcome import Outcome, SeatOutcome
from planner.report.language import tr
from planner.report.words import caution_text

__all__ = ["Cautions", "caution_texts"]

ONE_SIDE_DB = 0.05
"""Less is not worth a word."""


class Cautions(QWidget):
    """A line that holds what its owner puts at its left, a button that counts, and the list below them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.button = QToolButton()
        self.button.setAutoRaise(True)
        self.button.setCheckable(True)
        self.button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.button.setArrowType(Qt.ArrowType.RightArrow)
        self.button.setToolTip(self.tr("What this answer takes for granted, and what to keep in mind"))
        self.button.setStyleSheet("QToolButton { padding: 0 4px; border: none; }")
        self.list = plain_label(wrap=True)
        self.list.setAccessibleName(self.tr("Cautions"))
        self.list.hide()
        self._beside: QWidget = QLabel()
        self._line = QHBoxLayout()
        self._line.setSpacing(8)
        self._line.addWidget(self._beside, 1)
        self._line.addWidget(self.button)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(2)
        lines.addLayout(self._line)
        lines.addWidget(self.list)
        self.button.toggled.connect(self._fold)
        self.show_texts([])
        self.refont(self.font())

    def put_beside(self, widget: QWidget) -> None:
        """Have *widget* stand at the left of the button."""
        self._line.removeWidget(self._beside)
        self._beside.deleteLater()
        self._beside = widget
        self._line.insertWidget(0, widget, 1)

    def show_texts(self, texts: list[str]) -> None:
        """Offer other cautions; with none there is no button either."""
        # A count of one needs words of its own in every language.
        many = self.tr("{0} ca&utions").format(len(texts))
        self.button.setText(self.tr("1 ca&ution") if len(texts) == 1 else many)
        self.button.setVisible(bool(texts))
        self.list.setText("\n".join(texts))
        self.list.setVisible(bool(texts) and self.button.isChecked())

    def refont(self, base: QFont) -> None:
        """Take the sizes that belong to *base*."""
        for widget in (self.button, self.list):
            widget.setFont(small_font(base))
        self.button.setMaximumHeight(self.button.fontMetrics().lineSpacing() + 2)
        self.list.setForegroundRole(QPalette.ColorRole.WindowText)

    def _fold(self, unfolded: bool) -> None:
        self.button.setArrowType(Qt.ArrowType.DownArrow if unfolded else Qt.ArrowType.RightArrow)
        self.list.setVisible(unfolded and bool(self.list.text()))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.refont(self.font())


def caution_texts(outcome: Outcome, seat: SeatOutcome) -> list[str]:
    """What to keep in mind about the answer at a seat, a sentence each."""
    texts = [caution_text(caution) for caution in outcome.cautions]
    if seat.one_side_db is not None and seat.one_side_db > ONE_SIDE_DB:
        text = tr(
            "A peak panned hard to one side asks {more} dB more of that one amplifier.",
            more=f"{seat.one_side_db:.1f}",
        )
        texts.append(text)
    return texts
