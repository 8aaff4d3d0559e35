"""Everything about one entry: its figures, its curve; name and note of an own one can be edited."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPalette
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.card import Card
from planner.desktop.catalogue.figures import absorption_at, figures_of
from planner.desktop.catalogue.words import origin_word, unbroken
from planner.desktop.editors.picker import OCTAVES_HZ
from planner.desktop.fields import CurveSketch, Hint, Scale, Trace
from planner.desktop.settings import settings
from planner.headroom.catalogue_search import Found
from planner.headroom.drive import impedance_at
from planner.headroom.scene import BAND_HZ
from planner.plan.catalogue import title_of
from planner.plan.loudspeaker import Impedance, Loudspeaker
from planner.plan.room import OwnMaterial

__all__ = ["EntryDetails"]

MARKS_HZ = (20.0, 100.0, 1000.0, 10_000.0, 20_000.0)
NOTE_LINES = 3


class EntryDetails(Card):
    """Shows an entry. ``renamed`` and ``noted`` fire when ``name`` or ``note`` of an own one is another."""

    renamed = Signal()
    noted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("Catalogue", "Entry"), parent)
        self._found: Found | None = None
        self._own = False
        self.origin = Hint()
        self.name = _Name()
        self.name.setAccessibleName(self.tr("Name of this entry"))
        self.name.setToolTip(self.tr("Name of this entry; Return takes it, Esc gives the old one back (F2)"))
        self.note = _Note()
        self.note.setAccessibleName(self.tr("Note on this entry"))
        self.note.setToolTip(self.tr("A note of your own, taken on leaving it; Esc gives the old one back"))
        self.words = Hint()
        self.sketch = CurveSketch(self.tr("Curve over frequency"), MARKS_HZ)
        self._labels: list[tuple[QLabel, QLabel]] = []
        self._lay_out()
        self.name.finished.connect(self.renamed)
        self.note.finished.connect(self.noted)
        settings().units_changed.connect(self._refresh)
        self.show_entry(None, own=False)

    @property
    def found(self) -> Found | None:
        """The entry that is shown."""
        return self._found

    def show_entry(self, found: Found | None, *, own: bool) -> None:
        """Show another entry, or none."""
        self._found, self._own = found, own
        self._refresh()

    def edit_name(self) -> None:
        """Give the focus to the name, if it may be changed."""
        if self._own:
            self.name.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.name.selectAll()

    def _lay_out(self) -> None:
        pane = QWidget()
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(1, 1)
        lines = QVBoxLayout(pane)
        lines.setContentsMargins(0, 0, 6, 0)
        lines.setSpacing(8)
        lines.addWidget(self.words)
        lines.addWidget(self.note)
        lines.addLayout(self._grid)
        lines.addWidget(self.sketch)
        lines.addStretch(1)
        scroll = QScrollArea()
        scroll.setAccessibleName(self.tr("Figures of the entry"))
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(pane)
        pane.setAutoFillBackground(False)
        scroll.viewport().setAutoFillBackground(False)
        self.body.addWidget(self.name)
        self.body.addWidget(self.origin)
        self.body.addWidget(scroll, 1)

    def _refresh(self) -> None:
        found, own = self._found, self._own
        self.headline.setText("" if found is None else title_of(found.entry))
        self.headline.setVisible(found is not None and not own)
        self.name.setVisible(own)
        self.note.setVisible(own)
        self.origin.setText(self._origin())
        note = "" if found is None else found.entry.note or ""
        self.words.say("" if own else note)
        self.name.show_text("" if found is None else title_of(found.entry))
        self.note.show_text(note)
        self._show_figures([] if found is None else figures_of(found, settings().units))
        self._draw()

    def _origin(self) -> str:
        if self._found is None:
            return self.tr("No entry does all of that.")
        return origin_word(self._own)

    def _show_figures(self, figures: list[tuple[str, str]]) -> None:
        while len(self._labels) < len(figures):
            self._add_line()
        for line, pair in enumerate(self._labels):
            shown = line < len(figures)
            for label, text in zip(pair, figures[line] if shown else ("", ""), strict=True):
                label.setText(unbroken(text))
                label.setVisible(shown)

    def _add_line(self) -> None:
        name, text = QLabel(), QLabel()
        top = Qt.AlignmentFlag.AlignTop
        name.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        for label in (name, text):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        line = len(self._labels)
        self._grid.addWidget(name, line, 0, top)
        self._grid.addWidget(text, line, 1, top)
        self._grid.setColumnMinimumWidth(0, 12 * self.fontMetrics().averageCharWidth())
        self._labels.append((name, text))

    def _draw(self) -> None:
        """The absorption of a material, or the impedance of a loudspeaker where its curve is known."""
        data = None if self._found is None else self._found.entry.data
        whole = data.impedance if isinstance(data, Loudspeaker) else None
        curved = whole is not None and (whole.table is not None or whole.driver is not None)
        self.sketch.setVisible(curved or isinstance(data, OwnMaterial))
        if isinstance(data, OwnMaterial):
            values = absorption_at(data, OCTAVES_HZ.tolist())
            trace = Trace(OCTAVES_HZ, np.array(values), dots=True)
            self.sketch.draw([trace], Scale(0.0, 1.0, (0.0, 0.5, 1.0)), words=self.tr("Absorption by octave"))
        elif whole is not None and curved:
            self._draw_impedance(whole)

    def _draw_impedance(self, impedance: Impedance) -> None:
        ohm = np.abs(impedance_at(impedance, BAND_HZ))
        top = 8.0
        while top < float(ohm.max()):
            top *= 2.0
        scale = Scale(0.0, top, (0.0, top / 2.0, top), "Ω")
        self.sketch.draw([Trace(BAND_HZ, ohm)], scale, words=self.tr("Impedance over frequency"))

    def sizeHint(self) -> QSize:
        return QSize(64 * self.fontMetrics().averageCharWidth(), 26 * self.fontMetrics().lineSpacing())


class _Name(QLineEdit):
    """A line that is given back by Esc, and tells when another text was taken."""

    finished = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._stored = ""
        self.editingFinished.connect(self._finish)

    def show_text(self, text: str) -> None:
        """Show what is kept in place of anything typed."""
        self._stored = text
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)

    def _finish(self) -> None:
        if self.text().strip() != self._stored:
            self.finished.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.text() != self._stored:
            self.show_text(self._stored)
            self.selectAll()
            return
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()


class _Note(QPlainTextEdit):
    """A few lines, taken on leaving them, given back by Esc."""

    finished = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._stored = ""
        self.setTabChangesFocus(True)
        self.setFixedHeight(self.fontMetrics().lineSpacing() * NOTE_LINES + 17)

    def show_text(self, text: str) -> None:
        """Show what is kept in place of anything typed."""
        self._stored = text
        if text != self.toPlainText():
            self.setPlainText(text)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.toPlainText().strip() != self._stored:
            self.finished.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.toPlainText() != self._stored:
            self.show_text(self._stored)
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.setFixedHeight(self.fontMetrics().lineSpacing() * NOTE_LINES + 17)
