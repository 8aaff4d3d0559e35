"""Keeps a part of a candidate in the user's catalogue, as a new entry or in the place of an old one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.catalogue.store import catalogue_store
from planner.desktop.catalogue.words import cable_words, kind_word, source_words
from planner.desktop.fields import Hint
from planner.plan.catalogue import (
    Catalogue,
    Entry,
    added,
    from_candidate,
    renamed,
    replaced,
    title_of,
)
from planner.plan.model import Candidate

__all__ = ["KeepDialog", "Kept", "kept_of"]

WIDTH_LETTERS, NOTE_LINES = 62, 4


@dataclass(frozen=True, slots=True)
class Kept:
    """A part of a candidate that can be kept: its kind, what it is called, and which amplifier it is."""

    kind: str
    name: str
    amplifier: int = 0
    catalogue_id: str | None = None


def kept_of(candidate: Candidate) -> Iterator[Kept]:
    """Every part of a candidate that it has."""
    loudspeaker, cable, source = candidate.loudspeaker, candidate.cable, candidate.source
    yield Kept("loudspeaker", loudspeaker.name, catalogue_id=loudspeaker.catalogue_id)
    for index, one in enumerate(candidate.amplifiers):
        yield Kept("amplifier", one.name, index, one.catalogue_id)
    if cable is not None:
        yield Kept("cable", cable_words(cable), catalogue_id=cable.catalogue_id)
    if source is not None:
        yield Kept("source", source_words(source), catalogue_id=source.catalogue_id)


class KeepDialog(QDialog):
    """Asks for a name and a note; ``kept`` tells the id of the entry that has been made."""

    kept = Signal(str)

    def __init__(self, candidate: Candidate, part: Kept, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Keep the {0}").format(kind_word(part.kind)))
        self._candidate, self._part = candidate, part
        self._old = self._own_entry()
        self.name = QLineEdit(part.name if self._old is None else title_of(self._old))
        self.name.selectAll()
        self.note = QPlainTextEdit((self._old.note if self._old is not None else None) or "")
        self.note.setTabChangesFocus(True)
        self.note.setFixedHeight(self.fontMetrics().lineSpacing() * NOTE_LINES + 17)
        self.as_new = QRadioButton(self.tr("As a n&ew entry"))
        self.in_place = QRadioButton()
        self.fault = QLabel()
        self.fault.setWordWrap(True)
        self.fault.setTextFormat(Qt.TextFormat.PlainText)
        self.fault.hide()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.keep_button = self.buttons.addButton(self.tr("&Keep"), QDialogButtonBox.ButtonRole.AcceptRole)
        self.keep_button.setDefault(True)
        self._lay_out()
        self.buttons.accepted.connect(self._keep)
        self.buttons.rejected.connect(self.reject)
        self.name.textChanged.connect(self._refresh)
        self._refresh()

    def _own_entry(self) -> Entry | None:
        """The user's entry that the part was once copied from."""
        own = catalogue_store().catalogue.own
        known = (one for one in own if (one.id, one.kind) == (self._part.catalogue_id, self._part.kind))
        return next(known, None)

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.addRow(self.tr("&Name"), self.name)
        form.addRow(self.tr("N&ote"), self.note)
        if self._old is not None:
            title = title_of(self._old).replace("&", "&&")
            self.in_place.setText(self.tr("In the &place of “{0}”").format(title))
            self.in_place.setChecked(True)
            form.addRow(self.tr("Keep it"), self.in_place)
            form.addRow("", self.as_new)
        text = self.tr("From “{0}”, with all its figures as the plan has them now.")
        lines = QVBoxLayout(self)
        lines.addWidget(Hint(text.format(self._candidate.name)))
        lines.addLayout(form)
        lines.addWidget(self.fault)
        lines.addStretch(1)
        lines.addWidget(self.buttons)

    def _refresh(self) -> None:
        self.keep_button.setEnabled(bool(self.name.text().strip()))
        self.fault.hide()

    def _keep(self) -> None:
        note = self.note.toPlainText().strip() or None
        name, part = self.name.text().strip(), self._part
        entry = from_candidate(self._candidate, part.kind, name, note, part.amplifier)
        old = self._old if self.in_place.isChecked() else None
        store = catalogue_store()
        try:
            store.change(partial(_with_kept, entry=entry, in_place_of=None if old is None else old.id))
        except (OSError, KeyError) as error:
            self._tell(error)
            return
        self.kept.emit(store.catalogue.own[-1].id if old is None else old.id)
        self.accept()

    def _tell(self, error: Exception) -> None:
        if isinstance(error, KeyError):
            text = self.tr("The old entry is no longer there. Keep this one as a new entry.")
        else:
            text = self.tr("The catalogue could not be written: {0}").format(error)
        self.fault.setText(text)
        self.fault.show()

    def sizeHint(self) -> QSize:
        wide = WIDTH_LETTERS * self.fontMetrics().averageCharWidth()
        return QSize(wide, super().sizeHint().height())


def _with_kept(catalogue: Catalogue, entry: Entry, in_place_of: str | None) -> Catalogue:
    """The catalogue with an entry, in the place of an own one or as a new one."""
    if in_place_of is None:
        return added(catalogue, entry)
    return renamed(replaced(catalogue, in_place_of, entry), in_place_of, title_of(entry))
