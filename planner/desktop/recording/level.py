"""The listening level as a slider: how far above or below the target the recording is played."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QSlider, QWidget

from planner.desktop.charts.figures import figure

__all__ = ["LevelBar"]

STEPS_PER_DB = 2
MOST_DB = 20


class LevelBar(QWidget):
    """A slider that changes nothing in the plan, and a button that takes its level into the target."""

    moved = Signal()
    applied = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(-MOST_DB * STEPS_PER_DB, MOST_DB * STEPS_PER_DB)
        self.slider.setPageStep(3 * STEPS_PER_DB)
        self.slider.setTickInterval(10 * STEPS_PER_DB)
        self.slider.setTickPosition(QSlider.TickPosition.TicksBelow)
        self.slider.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.slider.setAccessibleName(self.tr("Listening level against the target"))
        self.slider.setToolTip(
            self.tr("Listen louder or softer than the target, −20 to 20 dB; the plan stays as it is")
        )
        label = QLabel(self.tr("Listening &level"))
        label.setBuddy(self.slider)
        self.figure = QLabel()
        self.figure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.apply_button = QPushButton(self.tr("Ta&ke as Target"))
        self.apply_button.setToolTip(
            self.tr("Raise or lower the target of the plan by this; Undo takes it back")
        )
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(label)
        line.addWidget(self.slider, 1)
        line.addWidget(self.figure)
        line.addWidget(self.apply_button)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.slider.valueChanged.connect(self._tell)
        self.apply_button.clicked.connect(self.applied)
        self._write()

    @property
    def offset_db(self) -> float:
        """How far above the target [dB]."""
        return float(self.slider.value()) / STEPS_PER_DB

    def reset(self) -> None:
        """Stand at the target again."""
        self.slider.setValue(0)

    def _tell(self) -> None:
        self._write()
        self.moved.emit()

    def _write(self) -> None:
        offset = self.offset_db
        sign = "+" if offset > 0.0 else ""
        text = self.tr("{sign}{offset} dB").format(sign=sign, offset=figure(offset, 1))
        self.figure.setText(text)
        self.figure.setMinimumWidth(self.figure.fontMetrics().horizontalAdvance("−20.0 dB  "))
        self.slider.setAccessibleDescription(text)
        self.apply_button.setEnabled(offset != 0.0)
