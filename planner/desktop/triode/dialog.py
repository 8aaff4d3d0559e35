"""The dialog that estimates an amplifier's ratings from its valve and puts them into the plan."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QFontMetricsF, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.care.caution import Caution, Paragraph
from planner.desktop.charts import ChartPanel
from planner.desktop.document import PlanDocument
from planner.desktop.triode.draft import Draft
from planner.desktop.triode.form import StageForm
from planner.desktop.triode.loads import LoadsGraph
from planner.desktop.triode.plates import PlatesGraph
from planner.desktop.triode.ratings import RatingsTable
from planner.desktop.triode.stage import STARTS
from planner.desktop.triode.working import ratings_of
from planner.desktop.window.chooser import Chooser
from planner.plan import get, put
from planner.plan.amplifier import Amplifier, Rating
from planner.plan.edit import Path, rebuilt
from planner.report.cautions import HIGH_VOLTAGE_CAUTION
from planner.report.language import tr

__all__ = ["TriodeDialog", "with_ratings"]

FORM_LETTERS, WIDE_LETTERS, HIGH_LINES = 40, 150, 40
RETURN_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class TriodeDialog(QDialog):
    """Tries a single-ended triode stage; nothing reaches the plan before it is put there."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None, amplifier: int = 0) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.tr("Ratings from a Valve"))
        self._document = document
        self.draft = Draft(STARTS[0], self)
        self.form = StageForm(self.draft)
        self.plates, self.loads = ChartPanel(PlatesGraph()), ChartPanel(LoadsGraph())
        self.ratings = RatingsTable()
        self.estimate, self.caution = Paragraph(), Caution()
        self.estimate.setText(self._estimate_words())
        self.caution.setText(tr(HIGH_VOLTAGE_CAUTION))
        self.amplifiers = Chooser(self.tr("Amplifier"), self.tr("Whose ratings are replaced"))
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.take = self.buttons.addButton(
            self.tr("&Put into the plan"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.take.setToolTip(
            self.tr("Replace all taps of the amplifier by these ratings, behind an output transformer")
        )
        self.take.setDefault(True)
        self._lay_out()
        self._offer(amplifier)
        self._connect()
        self._show_working()
        self.resize(self.sizeHint().boundedTo(self.screen().availableSize()))

    def _connect(self) -> None:
        self.buttons.accepted.connect(self._put)
        self.buttons.rejected.connect(self.reject)
        self.draft.worked.connect(self._show_working)
        for key, act in (
            (QKeySequence.StandardKey.Undo, self.draft.history.undo),
            (QKeySequence.StandardKey.Redo, self.draft.history.redo),
        ):
            action = QAction(self)
            action.setShortcut(key)
            action.triggered.connect(act)
            self.addAction(action)

    def _lay_out(self) -> None:
        self.form.setContentsMargins(0, 0, 10, 0)
        form = _scrolled(self.form)
        form.setMinimumWidth(round(FORM_LETTERS * QFontMetricsF(self.font()).averageCharWidth()))
        charts = QWidget()
        right = QVBoxLayout(charts)
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(8)
        right.addWidget(self.plates, 6)
        right.addWidget(self.loads, 5)
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(form, 1)
        left.addWidget(self.ratings)
        both = QHBoxLayout()
        both.setSpacing(14)
        both.addLayout(left)
        both.addWidget(_scrolled(charts), 1)
        label = QLabel(self.tr("&Amplifier"))
        label.setBuddy(self.amplifiers)
        below = QHBoxLayout()
        below.addWidget(label)
        below.addWidget(self.amplifiers)
        below.addStretch(1)
        below.addWidget(self.buttons)
        lines = QVBoxLayout(self)
        lines.setSpacing(8)
        lines.addLayout(both, 1)
        lines.addWidget(self.estimate)
        lines.addWidget(self.caution)
        lines.addLayout(below)

    def _offer(self, amplifier: int) -> None:
        found = get(self._document.plan, ("candidates", self._document.candidate, "amplifiers"))
        self.amplifiers.offer([one.name for one in found], min(amplifier, len(found) - 1))

    def sizeHint(self) -> QSize:
        size = QFontMetricsF(self.font())
        return QSize(round(WIDE_LETTERS * size.averageCharWidth()), round(HIGH_LINES * size.lineSpacing()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Return ends the typing in a field; only on a button does it press one.
        if event.key() in RETURN_KEYS and not isinstance(self.focusWidget(), QPushButton):
            event.accept()
        else:
            super().keyPressEvent(event)

    def _estimate_words(self) -> str:
        return self.tr(
            "These are estimates. Against five published class A1 ratings of directly heated triodes, 0.8 to "
            "18 W, such figures came out 2 to 18 % too high, and the distortion at 3.9 to 4.9 % where the "
            "manuals say 5 %. Fixed bias, a stiff supply, a load that is a resistance, no feedback."
        )

    def _show_working(self) -> None:
        working, sound = self.draft.working, not self.draft.fault
        for panel in (self.plates, self.loads):
            if working is not None and sound:
                panel.chart.show_data(working)
            panel.set_stale_look(not sound)
        if working is not None and sound:
            self.ratings.show_working(working)
        self.ratings.setEnabled(sound)
        self.take.setEnabled(sound)

    def _put(self) -> None:
        working, document = self.draft.working, self._document
        if working is None or self.draft.fault:
            return
        path: Path = ("candidates", document.candidate, "amplifiers", self.amplifiers.currentIndex())
        after = with_ratings(get(document.plan, path), ratings_of(working))
        document.close_gesture()
        document.replace(put(document.plan, path, after), self.tr("Take ratings from a valve"))
        document.close_gesture()
        self.accept()


def _scrolled(widget: QWidget) -> QScrollArea:
    """What is too high for a small screen, or for large letters, can be scrolled."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(widget)
    return area


def with_ratings(amplifier: Amplifier, ratings: tuple[Rating, ...]) -> Amplifier:
    """An amplifier with other ratings behind an output transformer; a tap it no longer has is let go."""
    kept = amplifier.tap_ohm if amplifier.tap_ohm in {one.ohm for one in ratings} else None
    after = rebuilt(amplifier, {"taps": ratings, "output": "transformer", "tap_ohm": kept})
    assert isinstance(after, Amplifier)
    return after
