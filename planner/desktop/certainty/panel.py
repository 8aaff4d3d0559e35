"""How sure is that? The chance in words, the spread as dots, and where the doubt comes from."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, QSize, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from planner.desktop.card import Card
from planner.desktop.certainty.answer import Sureness, certainty_of
from planner.desktop.certainty.dots import CaseDots
from planner.desktop.certainty.doubts import DoubtBars
from planner.desktop.document import PlanDocument
from planner.desktop.fields.form import Hint
from planner.desktop.settings import settings

__all__ = ["CertaintyPanel"]

WIDE_LETTERS = 125


class CertaintyPanel(Card):
    """How sure the answer at the seat looked at is; greyed while a newer one is worked out."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("CertaintyPanel", "How sure is that?"), parent)
        self._document = document
        self._shown: tuple[Sureness | None, object] = (None, None)
        self.dots, self.doubts = CaseDots(), DoubtBars()
        self.transient, self.sources = Hint(), Hint()
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._lay_out()
        self._late = certainty_of(document)
        self._late.changed.connect(self._refresh)
        settings().units_changed.connect(self._refresh)
        self._late.shown_by(self)
        # Others may have had the answer before, and then nothing changes.
        self._refresh()

    def _lay_out(self) -> None:
        heading = QLabel(self.tr("Where the doubt comes from"))
        right = QVBoxLayout()
        right.setSpacing(4)
        for widget in (heading, self.doubts, self.sources):
            right.addWidget(widget)
        right.addStretch(1)
        left = QVBoxLayout()
        left.setSpacing(4)
        left.addWidget(self.dots, 1)
        left.addWidget(self.transient)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.setSpacing(14)
        self._sides.addLayout(left, 1)
        self._sides.addLayout(right, 1)
        inner = QWidget()
        inner.setLayout(self._sides)
        pane = QScrollArea()
        pane.setAccessibleName(self.accessibleName())
        pane.setFrameShape(QFrame.Shape.NoFrame)
        pane.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        pane.setWidgetResizable(True)
        pane.setWidget(inner)
        inner.setAutoFillBackground(False)
        self.body.addWidget(pane, 1)

    def _refresh(self) -> None:
        found: Sureness | None = self._late.value
        fresh = self._late.fresh
        if (found, settings().units) != self._shown:
            self._shown = found, settings().units
            self._show(found)
        for widget in (self.headline, self.dots, self.doubts, self.transient):
            widget.setEnabled(fresh)
        self.headline.setText(self._headline(found))

    def _show(self, found: Sureness | None) -> None:
        self.dots.show_sureness(found)
        self.doubts.show_sureness(found)
        self.transient.say("" if found is None else found.transient_text())
        self.sources.say("" if found is None else self._source(found))

    def _headline(self, found: Sureness | None) -> str:
        if found is not None:
            return found.headline()
        return self.tr("The plan has no answer yet") if self._document.stale else str(self.accessibleName())

    def _source(self, found: Sureness) -> str:
        if found.plan.tolerances is None:
            return self.tr(
                "Beside each input its tolerance, one standard deviation; these are common practice, "
                "no published source."
            )
        return self.tr("Beside each input its tolerance, one standard deviation, as the plan gives it.")

    def sizeHint(self) -> QSize:
        letters = self.fontMetrics().averageCharWidth()
        return QSize(70 * letters, 24 * self.fontMetrics().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = self.width() >= WIDE_LETTERS * self.fontMetrics().averageCharWidth()
        self._sides.setDirection(
            QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        )

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._late.look()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()
