"""The ratings that a stage comes to, as a small table, with the output impedance of each tap."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from planner.desktop.care.caution import SectionTitle
from planner.desktop.charts.figures import significant
from planner.desktop.charts.seat_panel import watts_text
from planner.desktop.fields import Hint
from planner.desktop.triode.working import DISTORTIONS_PCT, Working

__all__ = ["RatingsTable"]

SELECTABLE = Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard


class RatingsTable(QWidget):
    """Watts at each distortion, alike on every tap; below them the output impedances."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Ratings"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(1)
        self.heads = [self._cell(grid, 0, column) for column in range(len(DISTORTIONS_PCT) + 1)]
        self.watts = [self._cell(grid, 1, column) for column in range(len(DISTORTIONS_PCT) + 1)]
        self.heads[0].setText(self.tr("Distortion"))
        self.watts[0].setText(self.tr("Watts"))
        for cell in (*self.heads, self.watts[0]):
            cell.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        grid.setColumnStretch(len(DISTORTIONS_PCT) + 1, 1)
        self.outputs = Hint()
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(4)
        lines.addWidget(SectionTitle(self.tr("Ratings")))
        lines.addLayout(grid)
        lines.addWidget(self.outputs)

    def show_working(self, working: Working) -> None:
        """Show what another stage comes to."""
        for head, cell, distortion, watts in zip(
            self.heads[1:], self.watts[1:], working.distortion_pct, working.watts, strict=True
        ):
            head.setText(f"{significant(float(distortion), 2)} %")
            cell.setText(watts_text(float(watts)))
        told = ", ".join(
            self.tr("{output} Ω at {tap} Ω").format(output=significant(float(output)), tap=significant(tap))
            for tap, output in zip(working.stage.taps_ohm, working.output_ohm, strict=True)
        )
        self.outputs.say(self.tr("Output impedance {outputs}").format(outputs=told))

    def _cell(self, grid: QGridLayout, row: int, column: int) -> QLabel:
        cell = QLabel()
        cell.setTextFormat(Qt.TextFormat.PlainText)
        cell.setTextInteractionFlags(SELECTABLE)
        side = Qt.AlignmentFlag.AlignLeft if column == 0 else Qt.AlignmentFlag.AlignRight
        grid.addWidget(cell, row, column, side)
        return cell
