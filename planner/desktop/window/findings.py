"""The strip that lists what in the plan contradicts itself, in words."""

from __future__ import annotations

import re
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.document import PlanDocument
from planner.desktop.fields.note import in_units
from planner.desktop.settings import settings
from planner.desktop.theme import headline_font
from planner.plan import Finding, Plan
from planner.plan.fields import spec_of
from planner.plan.units import Preference, show

__all__ = ["FindingsStrip", "finding_text", "place_text"]

MOST_LINES = 4
translate = QCoreApplication.translate


class FindingsStrip(QFrame):
    """Lists the findings of the document; hidden while there is none."""

    def __init__(self, document: PlanDocument, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setAccessibleName(self.tr("Findings"))
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.heading = QLabel()
        self.list = QLabel()
        self.list.setTextFormat(Qt.TextFormat.PlainText)
        self.list.setWordWrap(True)
        self.list.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.list.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._pane = QScrollArea()
        self._pane.setAccessibleName(self.tr("List of findings"))
        self._pane.setWidgetResizable(True)
        self._pane.setWidget(self.list)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(12, 2, 8, 6)
        lines.setSpacing(2)
        lines.addWidget(self.heading)
        lines.addWidget(self._pane)
        document.solved.connect(self._refresh)
        settings().units_changed.connect(self._refresh)
        self._refresh()

    def _refresh(self) -> None:
        findings = self._document.findings
        self.setVisible(bool(findings))
        if not findings:
            return
        # A count of one needs words of its own in every language.
        many = self.tr("To mend before there is an answer again: {0} findings").format(len(findings))
        self.heading.setText(
            self.tr("To mend before there is an answer again") if len(findings) == 1 else many
        )
        self.list.setText("\n".join(finding_text(one, self._document.plan) for one in findings))
        self._fit()

    def _fit(self) -> None:
        """As high as its lines, up to a few; more are scrolled to."""
        self.heading.setFont(headline_font(self.font()))
        line = QFontMetricsF(self.list.font()).lineSpacing()
        wanted = self.list.heightForWidth(max(self._pane.viewport().width(), 200))
        self._pane.setFixedHeight(round(min(wanted, MOST_LINES * line) + 4.0))

    def resizeEvent(self, event: Any) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()


def finding_text(finding: Finding, plan: Plan | None = None) -> str:
    """One finding as a sentence: where, what is expected there, and what was found."""
    units = settings().units
    place = place_text(finding.path, plan) if plan is not None else finding.path
    expected = translate("Findings", "{place}: expected {expected}").format(
        place=place, expected=in_units(finding.expected, units)
    )
    found = _found(finding, units)
    return expected + (translate("Findings", "; found {value}").format(value=found) if found else "")


def _found(finding: Finding, units: Preference) -> str:
    """What was found, a bare length with its unit."""
    bare = finding.path.endswith("_m") and re.fullmatch(r"-?[\d.]+(e[+-]?\d+)?", finding.value)
    return show(float(finding.value), "m", units) if bare else in_units(finding.value, units)


def place_text(path: str, plan: Plan) -> str:
    """A key path as a person knows the thing: ``seats[0].x_m`` is ``Seat “Sofa”, x``.

    Where the path leads nowhere in the plan, the path itself.
    """
    part: Any = plan
    words: list[str] = []
    try:
        for key, index in re.findall(r"(\w+)|\[(\d+)\]", path):
            if key:
                words.append(_label(part, key))
                part = getattr(part, key)
            else:
                part = part[int(index)]
                words[-1] = _numbered(words[-1], part, int(index))
    except (AttributeError, IndexError, TypeError):
        return path
    return ", ".join(words) or path


def _label(part: Any, key: str) -> str:
    try:
        return spec_of(part, key).label
    except (KeyError, AttributeError):
        return key.replace("_", " ").capitalize()


def _numbered(name: str, part: Any, index: int) -> str:
    one = name.removesuffix("s")
    called = getattr(part, "name", None)
    return f"{one} “{called}”" if called else f"{one} {index + 1}"
