"""What the map shows, to be chosen: loudest peak, headroom, or the room gain of one third octave."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget

from planner.desktop.floor_map.quantity import Choice, Quantity
from planner.headroom.scene import BAND_HZ

__all__ = ["MapChooser"]

FIRST_BAND = 5
"""63 Hz, where a band is asked for and none was chosen yet."""
ROWS = 16


class MapChooser(QComboBox):
    """One box with all that there is to see; the wheel turns it only while it has the focus."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._band = FIRST_BAND
        self.setAccessibleName(self.tr("What the map shows"))
        self.setToolTip(
            self.tr(
                "For someone who sat there: the loudest peak in dB, the headroom in dB, or the room gain of "
                "one third octave, 20 Hz to 20 kHz"
            )
        )
        self.setMaxVisibleItems(ROWS)
        for quantity in (Quantity.HEADROOM, Quantity.PEAK):
            self.addItem(quantity.title, Choice(quantity, FIRST_BAND))
        self.insertSeparator(self.count())
        for band in range(BAND_HZ.size):
            choice = Choice(Quantity.GAIN, band)
            self.addItem(choice.title(BAND_HZ), choice)
        self.activated.connect(self._tell)

    @property
    def choice(self) -> Choice:
        """What is chosen; a quantity without a band keeps the one chosen last, for readings."""
        return Choice(self.currentData().quantity, self._band)

    def show_choice(self, choice: Choice) -> None:
        """Choose something else; nothing is announced."""
        self._band = choice.band
        for index in range(self.count()):
            by_band = choice.quantity is Quantity.GAIN
            if self.itemData(index) == (choice if by_band else Choice(choice.quantity, FIRST_BAND)):
                self.setCurrentIndex(index)

    def _tell(self) -> None:
        chosen: Choice = self.currentData()
        if chosen.quantity is Quantity.GAIN:
            self._band = chosen.band
        self.changed.emit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
