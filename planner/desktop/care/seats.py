"""Exposure at every seat as a small table of words."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from planner.desktop.care.words import day_text, week_text
from planner.desktop.charts.figures import figure
from planner.desktop.charts.seat_panel import short_name
from planner.desktop.theme import small_font
from planner.headroom.hearing import Hearing

__all__ = ["SeatsTable"]

RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
SELECTABLE = Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard


class SeatsTable(QWidget):
    """One row a seat, the one looked at in strong letters."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Exposure by seat"))
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setHorizontalSpacing(14)
        self.grid.setVerticalSpacing(2)
        self.grid.setColumnStretch(0, 1)
        heads = (self.tr("Seat"), self.tr("Average"), self.tr("A day"), self.tr("A week"), self.tr("Peak"))
        tips = (
            "",
            self.tr("A-weighted, over a loud passage [dB re 20 µPa]"),
            self.tr("By NIOSH, 85 dB(A) for 8 hours and 3 dB for each halving"),
            self.tr("By WHO/ITU H.870 for adults, 80 dB(A) for 40 hours and 3 dB for each halving"),
            self.tr("C-weighted, at the target [dB re 20 µPa]"),
        )
        for column, (text, tip) in enumerate(zip(heads, tips, strict=True)):
            head = self._cell(text, 0, column)
            head.setForegroundRole(QPalette.ColorRole.PlaceholderText)
            head.setToolTip(tip)
        self._rows: list[list[QLabel]] = []

    def show_seats(self, seats: list[tuple[str, Hearing]], here: int) -> None:
        """Show the exposure at other seats."""
        while len(self._rows) < len(seats):
            row = len(self._rows) + 1
            self._rows.append([self._cell("", row, column) for column in range(5)])
        while len(self._rows) > len(seats):
            for cell in self._rows.pop():
                self.grid.removeWidget(cell)
                cell.deleteLater()
        for place, (cells, (name, hearing)) in enumerate(zip(self._rows, seats, strict=True)):
            for cell, text in zip(cells, self._texts(name, hearing), strict=True):
                cell.setText(text)
                self._dress(cell, place == here)

    def text(self) -> list[list[str]]:
        """What the rows say."""
        return [[cell.text() for cell in cells] for cells in self._rows]

    def _texts(self, name: str, hearing: Hearing) -> tuple[str, ...]:
        return (
            short_name(name),
            self.tr("{level} dB(A)").format(level=figure(hearing.average_dba, 1)),
            day_text(hearing),
            week_text(hearing),
            self.tr("{level} dB(C)").format(level=figure(hearing.peak_dbc, 0)),
        )

    def _cell(self, text: str, row: int, column: int) -> QLabel:
        cell = QLabel(text, self)
        cell.setFont(small_font(self.font()))
        cell.setTextFormat(Qt.TextFormat.PlainText)
        cell.setTextInteractionFlags(SELECTABLE)
        self.grid.addWidget(cell, row, column, RIGHT if column else LEFT)
        return cell

    def _dress(self, cell: QLabel, strong: bool) -> None:
        font = small_font(self.font())
        font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
        if cell.font() != font:
            cell.setFont(font)
