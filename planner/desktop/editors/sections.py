"""The sections of a loudspeaker as rows, and all about the one that is chosen."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QEnterEvent, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QPushButton, QSizePolicy, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.editors.part import Editor, Rows, row_of
from planner.desktop.editors.section import SectionEditor
from planner.desktop.fields import MarkButton, Note, Place
from planner.desktop.theme import colours_of, small_font
from planner.plan import get
from planner.plan.edit import Path
from planner.plan.loudspeaker import Section
from planner.plan.reshape import add_section, remove_section, split_section
from planner.plan.units import show

__all__ = ["SectionsEditor"]


class SectionsEditor(Editor):
    """Rows to choose from, with what can be done to the chosen one, and its editor below."""

    def __init__(self, document: PlanDocument, candidate: Place) -> None:
        super().__init__(document)
        self._place = candidate.to("loudspeaker", "sections")
        self._chosen = self._place.to(0)
        self.rows = self.keep(Rows(document, self._place, self._make_row))
        self.rows.box.setSpacing(2)
        self.box.addWidget(self.rows)
        self.box.addWidget(Note(self._place))
        self.add = QPushButton(self.tr("Add se&ction"))
        self.add.setToolTip(
            self.tr("Where the band is open above or below, else the widest section is split")
        )
        self.split = MarkButton("split", self.tr("Split the chosen section in two"))
        self.remove = MarkButton("remove", self.tr("Take the chosen section away"))
        for button, act in ((self.add, self._add), (self.split, self._split), (self.remove, self._remove)):
            button.clicked.connect(act)
        self.box.addLayout(row_of(self.add, self.split, self.remove))
        self.editor = self.keep(SectionEditor(document, candidate, self._chosen))
        self.box.addWidget(self.editor)
        self._mark()

    @property
    def chosen(self) -> int:
        """The number of the section whose editor is shown."""
        return int(self._chosen.steps[0])

    def choose(self, index: int) -> None:
        """Show the editor of another section."""
        self._chosen.steps = (index,)
        self.pull()

    def pull(self) -> None:
        count = len(self._sections())
        if self.chosen >= count:
            self._chosen.steps = (count - 1,)
        super().pull()
        self._mark()

    def reveal(self, path: Path) -> None:
        here = self._place.path
        if path[: len(here)] == here and len(path) > len(here):
            self.choose(min(int(path[len(here)]), len(self._sections()) - 1))
        super().reveal(path)

    def _sections(self) -> tuple[Section, ...]:
        sections: tuple[Section, ...] = get(self._document.plan, self._place.path)
        return sections

    def _make_row(self, index: int) -> Editor:
        row = SectionRow(self._document, self._place.to(index))
        row.wanted.connect(self._choose_sender)
        row.button.moved.connect(self._move)
        return row

    def _choose_sender(self) -> None:
        row = self.sender()
        if isinstance(row, Editor):
            self.choose(self.rows.rows.index(row))

    def _move(self, steps: int) -> None:
        to = min(max(self.chosen + steps, 0), len(self.rows.rows) - 1)
        self.choose(to)
        row = self.rows.rows[to]
        if isinstance(row, SectionRow):
            row.button.setFocus()

    def _mark(self) -> None:
        for number, row in enumerate(self.rows.rows):
            if isinstance(row, SectionRow):
                row.button.setChecked(number == self.chosen)
        self.remove.setEnabled(len(self._sections()) > 1)

    def _candidate(self) -> int:
        return int(self._place.path[1])

    def _add(self) -> None:
        before = [section.name for section in self._sections()]
        self.change(add_section(self._document.plan, self._candidate()), self.tr("Add section"))
        new = [number for number, one in enumerate(self._sections()) if one.name not in before]
        self.choose(new[0] if new else self.chosen)

    def _split(self) -> None:
        name = self._sections()[self.chosen].name
        text = self.tr("Split {0}").format(name)
        self.change(split_section(self._document.plan, self._candidate(), self.chosen), text)

    def _remove(self) -> None:
        name = self._sections()[self.chosen].name
        text = self.tr("Take {0} away").format(name)
        self.change(remove_section(self._document.plan, self._candidate(), self.chosen), text)


class SectionRow(Editor):
    """One section in a line."""

    wanted = Signal()

    def __init__(self, document: PlanDocument, place: Place) -> None:
        super().__init__(document)
        self._place = place
        self.button = RowButton()
        self.button.clicked.connect(self.wanted)
        self.box.addWidget(self.button)
        self.pull()

    def pull(self) -> None:
        section = get(self._document.plan, self._place.path)
        edges = f"{_hertz(section.low_hz)} – {_hertz(section.high_hz)}"
        self.button.show_words(section.name, f"{edges}   {show(section.sensitivity.level_db, 'dB')}")


class RowButton(QAbstractButton):
    """A row to choose: a name at the left, figures at the right; the arrow keys go from row to row."""

    moved = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._figures = ""
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_words(self, name: str, figures: str) -> None:
        """Show a name and figures."""
        if (name, figures) != (self.text(), self._figures):
            self.setText(name)
            self._figures = figures
            self.setAccessibleName(f"{name}, {figures}")
            self.setToolTip(f"{name}: {figures}")
            self.update()

    def nextCheckState(self) -> None:
        self.setChecked(True)

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().averageCharWidth() * 20, self.fontMetrics().height() + 9)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.moved.emit(1 if event.key() == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(self.palette())
        box = QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(
                QPen(colours.pick("accent" if self.hasFocus() else "rule"), 2.0 if self.hasFocus() else 1.0)
            )
            painter.setBrush(
                colours.pick("surface" if self.isChecked() else "grid" if self.underMouse() else "window")
            )
            painter.drawRoundedRect(box, 4.0, 4.0)
            if self.isChecked():
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(colours.pick("accent"))
                painter.drawRoundedRect(QRectF(1.0, 4.0, 3.0, self.height() - 8.0), 1.5, 1.5)
            room = box.adjusted(9.0, 0.0, -8.0, 0.0)
            painter.setFont(small_font(self.font()))
            painter.setPen(colours.pick("muted"))
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, self._figures)
            taken = painter.fontMetrics().horizontalAdvance(self._figures) + 10
            painter.setFont(self.font())
            painter.setPen(colours.pick("ink"))
            words = self.fontMetrics().elidedText(
                self.text(), Qt.TextElideMode.ElideRight, int(room.width()) - taken
            )
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)


def _hertz(hertz: float) -> str:
    return f"{hertz:.3g} Hz" if hertz < 1000.0 else f"{hertz / 1000.0:.3g} kHz"
