"""At which frequency the fans are drawn: three small buttons in the corner of the drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSizeF, Qt
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QToolButton, QWidget

from planner.desktop.theme import small_font
from planner.headroom.coverage import AT_HZ
from planner.report.drawing.painting import footer, has_fans
from planner.report.drawing.words import frequency_text

if TYPE_CHECKING:
    from planner.desktop.drawing.widget import RoomDrawing

__all__ = ["FanChooser"]

SHEET = "QToolButton { padding: 0 5px; border-radius: 3px; } QToolButton:checked { font-weight: 600; }"


class FanChooser(QWidget):
    """Shown where some horn plays; the drawing's menu offers the same to the keyboard."""

    def __init__(self, drawing: RoomDrawing) -> None:
        super().__init__(drawing)
        self._drawing = drawing
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self.setAccessibleName(self.tr("Frequency of the horns’ coverage"))
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(1)
        for number, hz in enumerate(AT_HZ):
            line.addWidget(self._made_button(number, hz))
        self._group.idClicked.connect(self._choose)
        self._refont()
        self.hide()

    def refresh(self) -> None:
        """Mark what is chosen, and offer what some horn plays."""
        look = self._drawing.look()
        played = [has_fans(look, hz) for hz in AT_HZ]
        for button, hz, plays in zip(self._group.buttons(), AT_HZ, played, strict=True):
            button.setChecked(hz == look.fan_hz)
            button.setEnabled(plays)
        self.setVisible(any(played))

    @property
    def kept_px(self) -> float:
        """Room that it takes of the line below the views [px]."""
        gap_px = self._drawing.fontMetrics().averageCharWidth()
        return 0.0 if self.isHidden() else float(self.width() + gap_px)

    def stand_in_corner(self) -> None:
        """Stand at the right end of the first line below the views."""
        self.adjustSize()
        box = footer(QSizeF(self._drawing.size()), self._drawing.font())
        self.move(round(box.right() - self.width()), round(box.center().y() - self.height() / 2.0))

    def _made_button(self, number: int, hz: float) -> QToolButton:
        button = QToolButton(self)
        # The keys of the drawing go from seat to seat; these buttons must not stand in their way.
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        button.setCheckable(True)
        button.setText(frequency_text(hz) if number == len(AT_HZ) - 1 else f"{hz / 1000.0:g}")
        button.setAccessibleName(self.tr("Coverage at {0}").format(frequency_text(hz)))
        button.setToolTip(
            self.tr("Draw the horns’ −6 dB angles at {0}, and mark seats outside").format(frequency_text(hz))
        )
        button.setStyleSheet(SHEET)
        self._group.addButton(button, number)
        return button

    def _choose(self, number: int) -> None:
        self._drawing.show_fans_at(AT_HZ[number])

    def _refont(self) -> None:
        for button in self._group.buttons():
            button.setFont(small_font(self._drawing.font()))
        self.stand_in_corner()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._refont()
