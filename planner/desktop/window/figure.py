"""The few figures that are read at a glance, each large, with what it is above it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPalette
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from planner.desktop.theme import headline_font, small_font, title_font

__all__ = ["Figure", "headline_figures", "plain_label"]

SELECTABLE = Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard


class Figure(QWidget):
    """One figure large, with what it is above it."""

    def __init__(self, name: str, tip: str, widest: str = "", *, wraps: bool = False) -> None:
        super().__init__()
        self.wraps = wraps
        self._widest = widest
        self.name = QLabel(name)
        self.name.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.value = plain_label(wrap=wraps)
        self.setToolTip(tip)
        self.setWhatsThis(tip)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(0)
        lines.addWidget(self.name)
        lines.addWidget(self.value)
        lines.addStretch(1)

    def show_value(self, text: str) -> None:
        """Show another value."""
        self.value.setText(text)

    def refont(self, base: QFont) -> None:
        """Take the sizes that belong to *base*."""
        self.name.setFont(small_font(base))
        self.value.setFont(headline_font(base) if self.wraps else title_font(base))
        room = QFontMetricsF(title_font(base))
        self.value.setMinimumHeight(round(room.lineSpacing()))
        self.value.setMinimumWidth(round(room.horizontalAdvance(self._widest)))


def headline_figures(band: QWidget) -> dict[str, Figure]:
    """The figures that stand beside a verdict, by name."""
    return {
        "watts": Figure(
            band.tr("Watts needed"),
            band.tr("The rating [W] that an amplifier of this kind would need, of the rating this one has"),
            "00.0 W of 00.0 W",
        ),
        "headroom": Figure(
            band.tr("Headroom"),
            band.tr(
                "Between what the music demands and what the first part to give out can do [dB]: "
                "3 dB or more clears, from 0 to 3 dB is tight, below 0 falls short"
            ),
            "−00.0 dB",
        ),
        "peak": Figure(
            band.tr("Loudest peak"),
            band.tr("The highest peak level at the seat before anything gives out [dB re 20 µPa]"),
            "000.0 dB",
        ),
        "limit": Figure(
            band.tr("First limit"),
            band.tr(
                "The part to give out first, what it runs out of, and the third octave that asks most of it"
            ),
            wraps=True,
        ),
    }


def plain_label(*, wrap: bool = False) -> QLabel:
    """A label of plain text that can be selected and copied."""
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(SELECTABLE)
    label.setWordWrap(wrap)
    return label
