"""Labels on the left, fields on the right, faults beneath: the one grid that all groups are laid out in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QWidget

from planner.desktop.fields.choice import ChoiceField
from planner.desktop.fields.note import Note
from planner.desktop.fields.number import NumberField
from planner.desktop.fields.scrub import ScrubLabel
from planner.desktop.fields.text import RemarkField, TextField
from planner.desktop.theme import small_font

__all__ = ["AccessKeys", "Form", "Hint", "label_for"]

AnyField = NumberField | TextField | RemarkField | ChoiceField
LABEL_LETTERS = 17
GAP_PX = 8


class AccessKeys:
    """Gives out letters for labels of one group, none twice, none that menus and group headings use."""

    def __init__(self, taken: Iterable[str] = "FEVHRWLT") -> None:
        self._taken = set(taken)

    def beside(self) -> AccessKeys:
        """Keys for labels that come and go beside these."""
        return AccessKeys(self._taken)

    def mark(self, text: str) -> str:
        """The text with an ampersand before a letter that is still free, if there is one."""
        plain = text.replace("&", "&&")
        for place, letter in enumerate(plain):
            if letter.isascii() and letter.isalnum() and letter.upper() not in self._taken:
                self._taken.add(letter.upper())
                return f"{plain[:place]}&{plain[place:]}"
        return plain


class Hint(QLabel):
    """A quiet line of words: what was computed, where a figure comes from."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.setFont(small_font(self.font()))

    def say(self, text: str) -> None:
        """Show another text, or nothing at all."""
        if text != self.text() or self.isHidden() == bool(text):
            self.setText(text)
            self.setVisible(bool(text))


class Form(QWidget):
    """A grid of two columns, so that labels and fields of all groups stand in line.

    A form that begins ``inset_px`` further in takes that from its labels, and its fields stay in line.
    """

    def __init__(
        self, *, keys: AccessKeys | None = None, inset_px: int = 0, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.keys, self._inset_px = keys or AccessKeys(), inset_px
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setHorizontalSpacing(GAP_PX)
        self.grid.setVerticalSpacing(5)
        self.grid.setColumnStretch(1, 1)
        self._align()

    def add(self, field: AnyField, text: str | None = None) -> Note:
        """A field with its label, and beneath it a note of what is wrong with it."""
        label = label_for(field, self.keys.mark(field.name if text is None else text))
        row = self.grid.rowCount()
        self.grid.addWidget(label, row, 0, Qt.AlignmentFlag.AlignVCenter)
        self.grid.addWidget(field, row, 1)
        note = Note(field.place)
        note.watch(field)
        self.grid.addWidget(note, row + 1, 0, 1, 2)
        return note

    def add_pair(self, text: str, widgets: Sequence[QWidget], *, even: bool = False) -> None:
        """Several widgets side by side under one label, which gives the focus to the first of them.

        The first takes what room there is, unless all fields share it evenly.
        """
        row = self.grid.rowCount()
        self.grid.addWidget(
            label_for(widgets[0], self.keys.mark(text)), row, 0, Qt.AlignmentFlag.AlignVCenter
        )
        side = QHBoxLayout()
        side.setContentsMargins(0, 0, 0, 0)
        side.setSpacing(4)
        for place, widget in enumerate(widgets):
            shares = even and not isinstance(widget, QLabel)
            side.addWidget(widget, int(shares or place == 0))
        self.grid.addLayout(side, row, 1)

    def add_wide(self, widget: QWidget) -> None:
        """A widget across both columns."""
        self.grid.addWidget(widget, self.grid.rowCount(), 0, 1, 2)

    def _align(self) -> None:
        width = self.fontMetrics().averageCharWidth() * LABEL_LETTERS - self._inset_px
        self.grid.setColumnMinimumWidth(0, width)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._align()


def label_for(field: QWidget, text: str) -> QLabel:
    """The label of a field: one that can be dragged for a number, a plain one for anything else."""
    if isinstance(field, NumberField):
        return ScrubLabel(text, field)
    label = QLabel(text)
    label.setBuddy(field)
    return label
